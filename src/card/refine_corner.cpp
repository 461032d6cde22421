#include "card/refine_corner.h"

#include <algorithm>
#include <opencv2/imgproc.hpp>

namespace scantling {

double corner_half_window_px(double nearest_px, double clear_px) {
  const double wide = std::min(0.25 * nearest_px, clear_px - 2);
  // A blurred corner wants 4 px, as long as the window still ends before the next thing printed.
  const double least = std::min({4.0, 0.4 * nearest_px, clear_px});
  return std::clamp(std::max(wide, least), 2.0, 9.0);
}

Point_px refine_corner(const cv::Mat& luma, Point_px start, double half_window_px) {
  std::vector<cv::Point2f> point{{static_cast<float>(start.x), static_cast<float>(start.y)}};
  const int w = static_cast<int>(half_window_px);
  cv::cornerSubPix(luma, point, {w, w}, {-1, -1},
                   {cv::TermCriteria::EPS + cv::TermCriteria::MAX_ITER, 40, 1e-3});
  return {point[0].x, point[0].y};
}

}  // namespace scantling
