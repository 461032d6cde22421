#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/check.h"
#include "geometry/points.h"
#include "uncertainty/quantity.h"

namespace scantling {

class SizeChain;

/// What a photo shows. Pad, rim and lip are read edge by edge from one photo; faces and pile are
/// solved from several photos together (module `planes`).
enum class View { pad, rim, lip, faces, pile };
/// Whether photos of this view are solved together, by planes instead of edges.
constexpr bool from_planes(View view) {
  return view == View::faces || view == View::pile;
}

/// One place along the part's edge; position 0 is the middle of the notch.
struct Station {
  double position_mm = 0;
  double value_mm = 0;
};

/// A size read from a photo, named as in the JSON contract ("friction_thickness").
struct Dimension {
  std::string name;
  Quantity quantity;
  double confidence = 0;  ///< 0..1, the least confidence among its edges
  std::vector<Station> stations;
  /// The model behind the size, to be run by Monte Carlo; none where it was read back from JSON.
  std::shared_ptr<const SizeChain> chain = {};
};

enum class EdgeOrigin { found, moved };

/// Another line that could be the edge: what the user may drag to.
struct EdgeRival {
  std::vector<Point_px> points_px;
  double shift_mm = 0;  ///< from the chosen edge, positive away from the plate's outer face
  double strength = 0;  ///< 0..1 against the chosen edge
  std::string reading;  ///< what this line may be, such as "where the chamfer begins"
};

struct MeasuredEdge {
  std::string name;                 ///< "plate_outer", "plate_friction", "friction_outer", ...
  std::vector<Point_px> points_px;  ///< along the edge on the upright photo, at least two
  double confidence = 0;            ///< 0..1
  EdgeOrigin origin = EdgeOrigin::found;
  double blur_px = 0;      ///< sigma of the fitted blur, 0 where not fitted
  double residual_px = 0;  ///< rms of the scan lines about the fitted line
  std::vector<EdgeRival> rivals;
};

struct CardSummary {
  std::string name;
  std::string camera;  ///< plain words: from where focal length and lens are known
  int corners = 0;
  double residual_px = 0;
  double px_per_mm = 0;
  double tilt_deg = 0;     ///< angle between the optical axis and the card's normal
  double distance_mm = 0;  ///< camera to card origin's neighbourhood
};

/// What one photo says of a lip's wall: h + run * run_share = height_without_run.
struct LipFacts {
  double height_without_run_mm = 0;
  double run_share = 0;      ///< tangent of the camera's elevation, nearly
  double elevation_deg = 0;  ///< of the camera over the track, seen from the foot
  double distance_mm = 0;    ///< from the camera to the foot
  double own_u_mm = 0;       ///< of this photo alone: placing, half of what counts as the edge
  double own_dof = 0;
  double foot_from_card_mm = 0;  ///< from the card's middle to the foot, along the radius
  double shared_u_mm = 0;  ///< what photos of the same lip have in common: its fillet, its rust
  double scale_u_mm = 0;   ///< of the print's scale, common to all parts on the same sheet
  std::optional<double> checked_scale_u_mm;  ///< the same once the sheet is checked; none: it is
};

struct Timing_ms {
  double decode = 0;
  double card = 0;
  double edges = 0;
  double total = 0;
};

/// All that one photo says about one part.
struct Measurement {
  View view = View::pad;
  std::vector<Dimension> dimensions;
  std::vector<MeasuredEdge> edges;
  std::optional<CardSummary> card;
  std::optional<LipFacts> lip;  ///< lip view only
  std::vector<Check> checks;
  Timing_ms timing_ms;

  const Dimension* dimension(std::string_view name) const;
  const MeasuredEdge* edge(std::string_view name) const;
  bool usable() const { return !any_stop(checks) && !dimensions.empty(); }
};

const char* view_word(View view);  ///< "pad", "rim", "lip", "faces", "pile"
std::optional<View> view_from_word(std::string_view word);

}  // namespace scantling
