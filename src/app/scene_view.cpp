#include "app/scene_view.h"

#include <algorithm>
#include <cmath>

namespace scantling {

namespace {

constexpr double kDegree = M_PI / 180;
/// Of the eye from the middle, in radii: a weak perspective, so that lengths still compare.
constexpr double kEyeDistance = 4;
constexpr double kSmallestZoom = 0.4, kLargestZoom = 12;

}  // namespace

void SceneView::reset() {
  const SceneView fresh;
  turned_deg_ = home_deg_;
  elevation_deg_ = fresh.elevation_deg_;
  zoom_ = fresh.zoom_;
  touched_ = false;
}

void SceneView::set_home(double turned_deg) {
  home_deg_ = std::fmod(std::fmod(turned_deg, 360.0) + 360, 360.0);
  if (!touched_) turned_deg_ = home_deg_;
}

void SceneView::look_at(const World3& middle, double radius_mm) {
  middle_ = middle;
  radius_mm_ = std::max(1.0, radius_mm);
}

void SceneView::fit(const std::vector<World3>& places, const ScreenRect& area) {
  SceneView home = *this;
  home.reset();
  home.fit_ = 1;
  const ScreenPoint middle = area.middle();
  double reach = 0;  // of the half area, by the farthest place
  for (const World3& place : places) {
    const ScreenPoint at = home.seen(place, area).at;
    reach = std::max({reach, std::abs(at.x - middle.x) / (area.width / 2),
                      std::abs(at.y - middle.y) / (area.height / 2)});
  }
  constexpr double kFilled = 0.88;  // numbers stand over the cameras
  fit_ = reach > 0 ? std::clamp(kFilled / reach, 0.2, 3.0) : 1;
}

void SceneView::turn(double right_deg, double down_deg) {
  touched_ = true;
  turned_deg_ = std::fmod(turned_deg_ - right_deg, 360.0);
  if (turned_deg_ < 0) turned_deg_ += 360;
  elevation_deg_ = std::clamp(elevation_deg_ + down_deg, kLowest_deg, kHighest_deg);
}

void SceneView::zoom_by(double factor) {
  zoom_ = std::clamp(zoom_ * factor, kSmallestZoom, kLargestZoom);
}

SceneView::Seen SceneView::seen(const World3& place, const ScreenRect& area) const {
  const double s = std::sin(turned_deg_ * kDegree), c = std::cos(turned_deg_ * kDegree);
  const double up = std::sin(elevation_deg_ * kDegree), level = std::cos(elevation_deg_ * kDegree);
  const double x = place[0] - middle_[0], y = place[1] - middle_[1], z = place[2] - middle_[2];
  // The eye stands at (s, c) over the sheet; seen from it x' runs right and y' down.
  const double right = c * x - s * y;
  const double towards = s * x + c * y;  // the eye, level
  const double down = up * towards + level * z;
  const double eye_mm = kEyeDistance * radius_mm_;
  const double distance = std::max(0.05 * eye_mm, eye_mm - (level * towards - up * z));
  const double px_per_mm =
      fit_ * zoom_ * 0.5 * std::min(area.width, area.height) / radius_mm_ * (eye_mm / distance);
  const ScreenPoint middle = area.middle();
  return {{middle.x + px_per_mm * right, middle.y + px_per_mm * down}, distance};
}

}  // namespace scantling
