#pragma once

#include <opencv2/core/mat.hpp>

namespace scantling {

/// How a photo is shown, as long as the window is open. Nothing of it touches what is measured.
struct PhotoLook {
  static constexpr int kDarkest = -3, kBrightest = 6;
  int brightness = 0;     ///< steps, 0: as taken
  int quarter_turns = 0;  ///< clockwise, 0 to 3

  bool as_taken() const { return brightness == 0 && quarter_turns == 0; }
  void brighten(int steps);
  void turn(int quarter_turns_clockwise);
};

/// What each code value is shown as: a power curve that lifts or lowers what lies between black and
/// white and leaves both where they are. CV_8UC1, 1 x 256.
cv::Mat brightness_table(int brightness);

}  // namespace scantling
