#pragma once

#include <opencv2/core/mat.hpp>
#include <optional>

namespace scantling::test {

/// A card of bank-card size lying on the sheet.
struct MadeCard {
  double width_mm = 85.60, height_mm = 53.98, thick_mm = 0.76, corner_mm = 3.18;
  double centre_x = 118, centre_y = 84, turn_deg = 4;  ///< true mm on the sheet
  double light = 0.85;                                 ///< linear, 0..1
  bool printed = false;                                ///< with a dark bar, as on a bank card
};

/// The shadow that a card throws on the sheet under a wide light: it ends softly where the last of
/// the light is in sight again.
struct MadeShadow {
  double x_mm = 1.5, y_mm = 1.0;  ///< how far it reaches beyond the card
  double dark = 0.6;              ///< share of the light that is lost in full shadow
};

/// A photo of a printed ground sheet of known scale, from above.
struct MadeSheetPhoto {
  double scale_x = 1, scale_y = 1;
  std::optional<MadeCard> card = MadeCard{};
  std::optional<MadeShadow> shadow;
  double camera_x = 125, camera_y = 80, camera_z = -330;
  double tilt_x = 0.05, tilt_y = -0.04;  ///< radians
  double focal_px = 1900, k1 = 0.0;
  int width = 2400, height = 1800;
  double noise = 1.5;
};

/// Traces rays onto the sheet and the card's upper face; sRGB code values, CV_8UC1, the same noise
/// every time.
cv::Mat made_sheet_photo(const MadeSheetPhoto& made);

}  // namespace scantling::test
