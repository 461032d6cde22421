#pragma once

#include <filesystem>

#include "made_scene.h"

namespace scantling::made {

/// How well the card's chessboard corners, located afresh on a finished photo, agree with truth.
struct CornerCheck {
  int corners = 0;
  double mean_x_px = 0, mean_y_px = 0;  ///< found minus truth
  double rms_px = 0;
  double worst_px = 0;
};

/// Works on the photo's own pixels, turned upright: the whole chain is checked, from the card's
/// drawing to the JPEG. @throws std::runtime_error when the photo cannot be read.
CornerCheck check_corners(const Scene& scene, const std::filesystem::path& photo);

}  // namespace scantling::made
