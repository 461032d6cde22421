#pragma once

#include <opencv2/core/mat.hpp>

#include "geometry/points.h"

namespace scantling {

/// Half the side of the window in which a chessboard corner is refined. It must reach neither the
/// next corner, `nearest_px` away, nor anything else that is printed, `clear_px` away: a window
/// that is too large triples the error. 2 to 9 px.
double corner_half_window_px(double nearest_px, double clear_px);

/// The saddle point of a chessboard corner near `start`, to sub-pixel. `start` must lie at least 12
/// px inside the 8-bit picture.
Point_px refine_corner(const cv::Mat& luma, Point_px start, double half_window_px);

}  // namespace scantling
