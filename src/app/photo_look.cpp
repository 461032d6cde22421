#include "app/photo_look.h"

#include <algorithm>
#include <cmath>

namespace scantling {

namespace {
constexpr double kStep = 1.35;  ///< a step's exponent: two of them nearly double a dark grey
}

void PhotoLook::brighten(int steps) {
  brightness = std::clamp(brightness + steps, kDarkest, kBrightest);
}

void PhotoLook::turn(int quarter_turns_clockwise) {
  quarter_turns = (quarter_turns + quarter_turns_clockwise) & 3;
}

cv::Mat brightness_table(int brightness) {
  cv::Mat table(1, 256, CV_8UC1);
  const double exponent = std::pow(kStep, -brightness);
  for (int code = 0; code < 256; ++code)
    table.at<unsigned char>(code) =
        static_cast<unsigned char>(std::lround(255 * std::pow(code / 255.0, exponent)));
  return table;
}

}  // namespace scantling
