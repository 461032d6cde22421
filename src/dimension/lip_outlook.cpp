#include "dimension/lip_outlook.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "dimension/lip_sizes.h"

namespace scantling {
namespace {

constexpr double kHighest_deg = 60;

double tangent(double degrees) {
  return std::tan(degrees * M_PI / 180);
}

}  // namespace

std::optional<Measurement> lip_with_another_photo(std::span<const Measurement> photos) {
  std::vector<Measurement> all(photos.begin(), photos.end());
  const Measurement* like = nullptr;
  double lowest = 90, highest = 0;
  for (const Measurement& photo : photos) {
    if (!photo.usable() || !photo.lip || !photo.dimension("lip_height")) continue;
    if (!like || photo.lip->own_u_mm < like->lip->own_u_mm) like = &photo;
    lowest = std::min(lowest, photo.lip->elevation_deg);
    highest = std::max(highest, photo.lip->elevation_deg);
  }
  if (!like || !(like->lip->run_share > 0) || !(lowest > 0)) return std::nullopt;
  const Measurement joint = solve_lip_together(photos);
  const Dimension* height = joint.dimension("lip_height");
  const Dimension* run = joint.dimension("wall_run");
  if (!height) return std::nullopt;
  Measurement next = *like;
  LipFacts& lip = *next.lip;
  lip.elevation_deg = highest + kOtherHeight_deg <= kHighest_deg
                          ? highest + kOtherHeight_deg
                          : std::max(10.0, lowest - kOtherHeight_deg);
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
