#pragma once

#include <optional>
#include <string>
#include <vector>

#include "dimension/measurement.h"
#include "dimension/plane_scene.h"
#include "edges/part_frame.h"

namespace scantling {

/// An edge of a part as seen in the photo, in the part's frame: straight there, or nearly so.
struct PlacedEdge {
  std::string name;
  double middle_mm = 0;  ///< along
  double across_mm = 0;  ///< at `middle_mm`, as projected on the frame's plane
  double slope = 0;
  double bend_per_mm = 0;  ///< across gains bend * (along - middle)^2
  double along_first_mm = 0;
  double along_last_mm = 0;
  double placing_u_mm = 0;  ///< standard uncertainty of `across_mm`
  double slope_u = 0;
  double placing_dof = 1e9;
  double definition_u_mm = 0;  ///< chamfer, rounding, rust: which line is the edge
  double mistaken_u_mm = 0;    ///< that another line may be this edge, while nobody has looked
  double depth_mm = 0;         ///< how far behind the frame's plane the seen line lies
  double depth_u_mm = 0;       ///< without the ledge's part
  double ledge_share = 0;      ///< 1 where the ledge's depth is part of `depth_mm`
  double split_mm = 0;         ///< width of a broken edge read from one line; 0 for a plain step
  double turn_mm = 0;          ///< how far beyond the line the light turns back; 0 where not
  double contradicted_mm = 0;  ///< how far a hand moved it from where it was surely found
  double confidence = 0;
  double blur_px = 0;
  double residual_px = 0;
  double step = 0;  ///< grey code values, signed with `across`
  EdgeOrigin origin = EdgeOrigin::found;

  double at(double along) const {
    const double d = along - middle_mm;
    return across_mm + slope * d + bend_per_mm * d * d;
  }
};

struct PlacedRival {
  PlacedEdge line;
  double strength = 0;
  std::string reading;
};

/// The edges of a part, placed: for a pad from the plate's outer face to the friction material's
/// outer face, for a rim its two faces, for a lip the wall's foot and top.
struct PartReading {
  enum PadEdge : std::size_t { plate_outer = 0, plate_friction = 1, friction_outer = 2 };
  enum RimEdge : std::size_t { face_a = 0, face_b = 1 };
  enum LipEdge : std::size_t { wall_foot = 0, wall_top = 1 };
  View view = View::pad;
  PartFrame frame;  ///< `across` grows in the edges' order
  std::vector<PlacedEdge> edges;
  double ledge_u_mm = 0;  ///< of how far the friction material stands back from the plate's edge
  std::vector<std::vector<PlacedRival>> rivals;  ///< as many lists as edges
  std::vector<Check> checks;
};

struct PartReadingResult {
  std::optional<PartReading> reading;
  std::vector<Check> checks;  ///< why there is none
};

}  // namespace scantling
