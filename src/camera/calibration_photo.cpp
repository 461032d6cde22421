#include "camera/calibration_photo.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

namespace scantling {
namespace {

constexpr std::size_t kFewestCorners = 20;

/// The photo's grey across a border of two squares, averaged along it.
constexpr int kReach = 12;
using Profile = std::array<double, 2 * kReach + 1>;

bool read_border(const cv::Mat& luma, Point_px a, Point_px b, int reach, Profile& profile) {
  const double length = distance_px(a, b);
  const double tx = (b.x - a.x) / length, ty = (b.y - a.y) / length;
  profile.fill(0);
  constexpr int kLanes = 7;
  for (int lane = 0; lane < kLanes; ++lane) {
    const double along = length * (0.35 + 0.3 * lane / (kLanes - 1));
    for (int d = -reach; d <= reach; ++d) {
      const double x = a.x + along * tx - d * ty, y = a.y + along * ty + d * tx;
      const int ix = static_cast<int>(std::floor(x)), iy = static_cast<int>(std::floor(y));
      if (ix < 0 || iy < 0 || ix + 1 >= luma.cols || iy + 1 >= luma.rows) return false;
      const double fx = x - ix, fy = y - iy;
      const auto at = [&](int px, int py) { return double{1} * luma.at<uchar>(py, px); };
      profile[static_cast<std::size_t>(d + kReach)] +=
          ((1 - fy) * ((1 - fx) * at(ix, iy) + fx * at(ix + 1, iy)) +
           fy * ((1 - fx) * at(ix, iy + 1) + fx * at(ix + 1, iy + 1))) /
          kLanes;
    }
  }
  return true;
}

/// The spread of the change of grey about its middle; nothing where there is no clear step.
std::optional<double> spread_px(const Profile& profile, int reach) {
  const auto first = static_cast<std::size_t>(kReach - reach);
  const auto last = static_cast<std::size_t>(kReach + reach);
  const double way = profile[last] > profile[first] ? 1 : -1;
  double steepest = 0;
  for (std::size_t i = first; i < last; ++i)
    steepest = std::max(steepest, way * (profile[i + 1] - profile[i]));
  if (std::abs(profile[last] - profile[first]) < 30) return std::nullopt;
  double sum = 0, mean = 0, square = 0;
  for (std::size_t i = first; i < last; ++i) {
    const double change = way * (profile[i + 1] - profile[i]);
    if (change < 0.1 * steepest) continue;  // noise far out would count most
    const double x = static_cast<double>(i);
    sum += change;
    mean += change * x;
    square += change * x * x;
  }
  mean /= sum;
  return std::sqrt(std::max(0.0, square / sum - mean * mean));
}

std::string no_sheet(const CardSearch& search) {
  const Check& check = search.checks.at(0);
  if (check.id != "card_missing") return check.message;
  return "No printed sheet was found. Lay the ground sheet flat, sharp and well lit, and let it "
         "fill most of the picture.";
}

}  // namespace

double gauge_blur_px(const cv::Mat& luma, const CardSighting& sighting) {
  std::map<int, Point_px> places;
  for (const SightedCorner& c : sighting.corners) places[c.id] = c.photo_px;
  const int across = sighting.card->columns - 1;
  std::vector<double> spreads;
  for (const auto& [id, a] : places)
    for (const int next : {id + 1, id + across}) {
      const auto found = places.find(next);
      if (found == places.end() || (next == id + 1 && next % across == 0)) continue;
      const double length = distance_px(a, found->second);
      const int reach = std::min(kReach, static_cast<int>(0.12 * length));
      Profile profile;
      if (reach < 3 || !read_border(luma, a, found->second, reach, profile)) continue;
      if (const auto spread = spread_px(profile, reach)) spreads.push_back(*spread);
    }
  if (spreads.empty()) return 0;
  const auto middle = spreads.begin() + static_cast<long>(spreads.size() / 2);
  std::nth_element(spreads.begin(), middle, spreads.end());
  return *middle;
}

CalibrationPhoto look_at_calibration_photo(PhotoLoad load, const std::string& name) {
  CalibrationPhoto result;
  result.name = name;
  if (!load.photo) {
    result.unusable = load.checks.empty() ? "It can't be read." : load.checks.front().message;
    return result;
  }
  const Photo& photo = *load.photo;
  result.upright = {photo.width_px(), photo.height_px()};
  result.orientation = photo.exif_orientation;
  result.tags = photo.tags;
  result.camera = identity_of(photo.tags, result.upright, photo.exif_orientation);
  for (const Check& check : load.checks)
    if (check.id == "photo_cropped" || check.id == "photo_resized") {
      result.unusable = check.message;
      return result;
    }
  if (orientation_mirrors(photo.exif_orientation)) {
    result.unusable = "It is marked as mirrored. Take it with the main camera.";
    return result;
  }
  std::string missing;
  for (const CardDefinition* card :
       {&ground_sheet(), &notch_card(), &track_card(), &track_card_b()}) {
    CardSearch search = find_card(photo.luma, *card);
    if (search.sighting) {
      result.sighting = std::move(search.sighting);
      break;
    }
    if (missing.empty()) missing = no_sheet(search);
  }
  if (!result.sighting) {
    result.unusable = missing;
  } else if (result.sighting->corners.size() < kFewestCorners) {
    result.unusable = "Too little of the sheet can be read. Show more of it, sharp and well lit.";
  } else {
    result.blur_px = gauge_blur_px(photo.luma, *result.sighting);
  }
  return result;
}

}  // namespace scantling
