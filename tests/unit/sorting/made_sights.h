#pragma once

#include <string>

#include "sorting/photo_sight.h"

namespace scantling {

/// A photo as if it had been looked at: taken `minutes` after ten o'clock.
inline PhotoSight made_sight(const std::string& name, std::optional<View> view, double minutes) {
  PhotoSight sight;
  sight.file = "/phone/" + name;
  sight.sha256 = name;
  sight.view = view;
  sight.sureness = view ? 0.97 : 0;
  const auto seconds = static_cast<std::int64_t>(minutes * 60);
  sight.taken_s = 1'779'000'000 + seconds;
  sight.taken_at = "2026:05:16 10:00:00";
  return sight;
}

inline PhotoSight made_pad(const std::string& name, double minutes, double thickness_mm) {
  PhotoSight sight = made_sight(name, View::pad, minutes);
  sight.thickness = RoughSize{thickness_mm, 0.2};
  return sight;
}

inline PhotoSight made_rim(const std::string& name, double minutes, double thickness_mm) {
  PhotoSight sight = made_sight(name, View::rim, minutes);
  sight.thickness = RoughSize{thickness_mm, 0.2};
  return sight;
}

inline PhotoSight made_lip(const std::string& name, double minutes, double foot_mm) {
  PhotoSight sight = made_sight(name, View::lip, minutes);
  sight.foot_mm = foot_mm;
  return sight;
}

/// A card in this place on the ground sheet, its face turned away from `into`.
inline PieceStance made_stance(const Point3_mm& centre_mm, const Point3_mm& into) {
  const bool across = into.x > 0.5 || into.x < -0.5;
  return {centre_mm, into, across ? Point3_mm{0, 1, 0} : Point3_mm{1, 0, 0}};
}

}  // namespace scantling
