#include "camera/calibration_coverage.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "photo/orientation.h"

namespace scantling {
namespace {

constexpr int kLongCells = 12, kShortCells = 9;

PictureSize upright_size(PictureSize sensor, int orientation) {
  return swaps_sides(orientation) ? PictureSize{sensor.height_px, sensor.width_px} : sensor;
}

/// How much of a side's outermost row of cells is reached.
double side_share(const CalibrationCoverage& c, int side) {
  const int length = side < 2 ? c.rows : c.columns;
  int reached = 0;
  for (int k = 0; k < length; ++k)
    reached += side == 0   ? c.reached(0, k)
               : side == 1 ? c.reached(c.columns - 1, k)
               : side == 2 ? c.reached(k, 0)
                           : c.reached(k, c.rows - 1);
  return static_cast<double>(reached) / length;
}

/// Whether a corner of the picture is reached: any of the four cells there.
bool corner_reached(const CalibrationCoverage& c, bool right, bool bottom) {
  for (int i = 0; i < 2; ++i)
    for (int k = 0; k < 2; ++k)
      if (c.reached(right ? c.columns - 1 - i : i, bottom ? c.rows - 1 - k : k)) return true;
  return false;
}

void slant_wanted(std::vector<std::string>& missing, double reached_deg, double spread_deg,
                  const char* way) {
  const bool enough = reached_deg >= kLeastSlant_deg &&
                      (spread_deg >= kWantedSpread_deg || reached_deg >= kWantedSlant_deg);
  if (enough) return;
  missing.push_back(fmt::format("Take a photo {}: so far {:.0f} degrees, wanted {:.0f} or more.",
                                way, reached_deg, kWantedSlant_deg));
}

}  // namespace

bool CalibrationCoverage::reached(int column, int row) const {
  const auto cell = static_cast<std::size_t>(row * columns + column);
  return cell < corners_in.size() && corners_in[cell] >= kCornersInCell;
}

CoverageGatherer::CoverageGatherer(PictureSize sensor, int orientation)
    : frame_(sensor_from_upright(upright_size(sensor, orientation), orientation)) {
  gathered_.picture = upright_size(sensor, orientation);
  const bool portrait = gathered_.picture.height_px > gathered_.picture.width_px;
  gathered_.columns = portrait ? kShortCells : kLongCells;
  gathered_.rows = portrait ? kLongCells : kShortCells;
  gathered_.corners_in.assign(static_cast<std::size_t>(gathered_.columns * gathered_.rows), 0);
}

void CoverageGatherer::add_corner(Point_px sensor_place) {
  const Point_px p = frame_.to_upright(sensor_place);
  const auto cell = [](double place, int cells, int size) {
    return std::clamp(static_cast<int>((place + 0.5) / size * cells), 0, cells - 1);
  };
  const int column = cell(p.x, gathered_.columns, gathered_.picture.width_px);
  const int row = cell(p.y, gathered_.rows, gathered_.picture.height_px);
  ++gathered_.corners_in[static_cast<std::size_t>(row * gathered_.columns + column)];
}

void CoverageGatherer::add_slant(const Eigen::Vector3d& normal) {
  // The face turns to where the camera is not: seen from the left, its normal points to the right.
  const Eigen::Vector2d side = frame_.turn.transpose() * normal.head<2>();
  const double across = std::atan2(side.x(), -normal.z()) * 180 / M_PI;
  const double along = std::atan2(side.y(), -normal.z()) * 180 / M_PI;
  gathered_.left_deg = std::max(gathered_.left_deg, across);
  gathered_.right_deg = std::max(gathered_.right_deg, -across);
  gathered_.far_deg = std::max(gathered_.far_deg, along);
  gathered_.near_deg = std::max(gathered_.near_deg, -along);
}

CalibrationCoverage CoverageGatherer::coverage() const {
  CalibrationCoverage result = gathered_;
  int reached = 0;
  for (int row = 0; row < result.rows; ++row)
    for (int column = 0; column < result.columns; ++column) reached += result.reached(column, row);
  result.picture_share = static_cast<double>(reached) / (result.columns * result.rows);
  return result;
}

std::vector<std::string> missing_coverage(const CalibrationCoverage& coverage) {
  std::vector<std::string> missing;
  constexpr const char* kSides[4] = {"left", "right", "upper", "lower"};
  bool side_short = false;
  for (int side = 0; side < 4; ++side)
    if (side_share(coverage, side) < 0.5) {
      side_short = true;
      missing.push_back(fmt::format(
          "Too few corners near the {} edge of the picture. Take a photo with the sheet over that "
          "edge; it may be cut off there.",
          kSides[side]));
    }
  for (const bool bottom : {false, true})
    for (const bool right : {false, true})
      if (!side_short && !corner_reached(coverage, right, bottom))
        missing.push_back(fmt::format(
            "No corners in the picture's {} {} corner. Take a photo with the sheet over it.",
            bottom ? "lower" : "upper", right ? "right" : "left"));
  if (missing.empty() && coverage.picture_share < kWantedShare)
    missing.push_back(fmt::format(
        "Only {:.0f} % of the picture is reached, {:.0f} % are wanted. Let the sheet fill more of "
        "the picture, and move it about.",
        100 * coverage.picture_share, 100 * kWantedShare));
  slant_wanted(missing, coverage.left_deg, coverage.across_deg(), "from further to the left");
  slant_wanted(missing, coverage.right_deg, coverage.across_deg(), "from further to the right");
  // Slants count as the picture has them: walking round to the far side turns the picture along.
  slant_wanted(missing, coverage.far_deg, coverage.along_deg(),
               "slantwise with the phone turned upside down, so that the sheet's upper edge in the "
               "picture is the nearer one");
  slant_wanted(missing, coverage.near_deg, coverage.along_deg(),
               "from further down, looking at the sheet slantwise from your side");
  return missing;
}

}  // namespace scantling
