#include "dimension/lip_outlook.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "dimension/lip_sizes.h"

namespace scantling {
namespace {

/// Flatter than that the card is hard to read, steeper the wall is hard to see.
constexpr double kLowest_deg = 18, kHighest_deg = 60;

double tangent(double degrees) {
  return std::tan(degrees * M_PI / 180);
}

}  // namespace

double better_elevation_deg(std::span<const Measurement> photos) {
  double lowest = 90, highest = 0;
  for (const Measurement& photo : photos) {
    if (!photo.usable() || !photo.lip) continue;
    lowest = std::min(lowest, photo.lip->elevation_deg);
    highest = std::max(highest, photo.lip->elevation_deg);
  }
  const double down_deg = lowest - kOtherHeight_deg, up_deg = highest + kOtherHeight_deg;
  if (up_deg > kHighest_deg) return std::max(down_deg, kLowest_deg);
  if (down_deg < kLowest_deg) return up_deg;
  const auto u = [&](double elevation_deg) {
    const auto joint = lip_with_another_photo(photos, elevation_deg);
    const Dimension* height = joint ? joint->dimension("lip_height") : nullptr;
    return height ? height->quantity.expanded_95_mm() : 1e9;
  };
  return u(down_deg) < u(up_deg) ? down_deg : up_deg;
}

std::string another_height_words(std::span<const Measurement> photos) {
  double highest = 0;
  for (const Measurement& photo : photos)
    if (photo.usable() && photo.lip) highest = std::max(highest, photo.lip->elevation_deg);
  const bool up = better_elevation_deg(photos) > highest;
  return "once more, from about " + std::to_string(static_cast<int>(kOtherHeight_deg)) +
         (up ? " degrees higher up" : " degrees lower down");
}

std::optional<Measurement> lip_with_another_photo(std::span<const Measurement> photos) {
  return lip_with_another_photo(photos, better_elevation_deg(photos));
}

std::optional<Measurement> lip_with_another_photo(std::span<const Measurement> photos,
                                                  double elevation_deg) {
  std::vector<Measurement> all(photos.begin(), photos.end());
  const Measurement* like = nullptr;
  for (const Measurement& photo : photos) {
    if (!photo.usable() || !photo.lip || !photo.dimension("lip_height")) continue;
    if (!like || photo.lip->own_u_mm < like->lip->own_u_mm) like = &photo;
  }
  if (!like || !(like->lip->run_share > 0) || !(like->lip->elevation_deg > 0)) return std::nullopt;
  const Measurement joint = solve_lip_together(photos);
  const Dimension* height = joint.dimension("lip_height");
  const Dimension* run = joint.dimension("wall_run");
  if (!height) return std::nullopt;
  Measurement next = *like;
  LipFacts& lip = *next.lip;
  lip.elevation_deg = elevation_deg;
  // A place on the track stands for a height by the tangent of the elevation: so does its error.
  const double ratio = tangent(lip.elevation_deg) / tangent(like->lip->elevation_deg);
  lip.run_share *= ratio;
  lip.own_u_mm *= ratio;
  lip.shared_u_mm *= ratio;
  const double run_mm = run ? run->quantity.value_mm : usual_run_mm(height->quantity.value_mm);
  lip.height_without_run_mm = height->quantity.value_mm + lip.run_share * run_mm;
  all.push_back(std::move(next));
  return solve_lip_together(all);
}

}  // namespace scantling
