#pragma once

#include <cmath>
#include <string>
#include <vector>

#include "support/made_sheet_photo.h"
#include "support/picture_files.h"
#include "support/temporary_folder.h"

namespace scantling::test {

/// The camera that draws the ground sheet for calibrations: 1600 x 1200 px, centre in the middle.
inline constexpr double kCalibratedFocal_px = 1210, kCalibratedK1 = -0.04;

/// Taken from the left and from the far side by so many degrees, looking beside the sheet's middle.
inline MadeSheetPhoto sheet_view(double left_deg, double far_deg, double aim_x, double aim_y,
                                 double distance_mm) {
  MadeSheetPhoto made;
  made.card.reset();
  made.focal_px = kCalibratedFocal_px;
  made.k1 = kCalibratedK1;
  made.width = 1600;
  made.height = 1200;
  made.tilt_y = left_deg * M_PI / 180;
  made.tilt_x = -far_deg * M_PI / 180;
  made.camera_x = 120 + aim_x - distance_mm * std::sin(made.tilt_y) * std::cos(made.tilt_x);
  made.camera_y = 82.5 + aim_y + distance_mm * std::sin(made.tilt_x);
  made.camera_z = -distance_mm * std::cos(made.tilt_y) * std::cos(made.tilt_x);
  return made;
}

/// Eleven views that reach all a profile asks for.
inline std::vector<MadeSheetPhoto> calibration_views() {
  return {sheet_view(6, 8, 46, 38, 225),   sheet_view(-7, 6, -46, 38, 225),
          sheet_view(5, -9, 46, -38, 225), sheet_view(-6, -7, -46, -38, 225),
          sheet_view(26, 5, 0, 0, 260),    sheet_view(-27, -4, 0, 0, 260),
          sheet_view(3, 27, 0, 0, 260),    sheet_view(-4, -26, 0, 0, 260),
          sheet_view(17, 18, 0, 0, 270),   sheet_view(-4, 3, 52, 0, 225),
          sheet_view(4, -3, -52, 0, 225)};
}

/// A JPEG as an invented phone would store it.
inline std::string write_sheet_photo(const TemporaryFolder& folder, const std::string& name,
                                     const MadeSheetPhoto& made, const std::string& model = "L7") {
  ExifFields exif;
  exif.make = "Lumenworks";
  exif.model = model;
  exif.focal_length_35mm = 26;
  exif.width_px = made.width;
  exif.height_px = made.height;
  return folder.file(name, jpeg_with_exif(jpeg_file(made_sheet_photo(made)), exif_block(exif)))
      .string();
}

inline std::vector<std::string> write_calibration_photos(const TemporaryFolder& folder) {
  std::vector<std::string> files;
  for (const MadeSheetPhoto& made : calibration_views())
    files.push_back(
        write_sheet_photo(folder, "sheet" + std::to_string(files.size() + 1) + ".jpg", made));
  return files;
}

}  // namespace scantling::test
