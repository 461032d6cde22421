#pragma once

#include <optional>
#include <string>
#include <vector>

#include "planes/planes_result.h"

namespace scantling {

// The solved scene as simple shapes in the planes' world, ready to be turned and drawn.

enum class SceneRole { sheet, card_a, card_b, part, part_rim };

struct SceneFace {
  SceneRole role = SceneRole::sheet;
  std::vector<World3> outline;
  bool outlined = true;  ///< its edges are drawn
};

/// A camera as a small pyramid.
struct SceneCamera {
  std::size_t photo = 0;  ///< index in the result
  World3 eye{};
  std::array<World3, 4> picture{};
  std::optional<PlanePiece> side;  ///< the one card it shows; nothing where both or none
};

/// The measured size as a dimension line with its two extension lines.
struct SceneSize {
  World3 a{}, b{};            ///< the arrow's ends
  World3 from_a{}, from_b{};  ///< where the extension lines begin on the part
  std::string words;
};

struct Scene {
  std::vector<SceneFace> faces;
  std::vector<SceneCamera> cameras;
  std::optional<SceneCamera> next;  ///< where the next photo would help most
  std::optional<SceneSize> size;
  World3 middle{};
  double radius_mm = 200;
  double home_deg = 30;       ///< how `SceneView` turns it at first: a disc with card A and its rim
  bool disc_assumed = false;  ///< the disc's diameter is not known: drawn as usual
};

inline constexpr double kUsualDiscDiameter_mm = 280;

/// `card_mm`: thickness of a cut-out card. The part's outline is not measured: a disc is drawn with
/// its diameter where that is known, a pad a little larger than the cards on it.
Scene scene_of(const PlanesResult& result, double card_mm,
               std::optional<double> disc_diameter_mm = std::nullopt);

}  // namespace scantling
