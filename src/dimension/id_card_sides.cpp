#include "dimension/id_card_sides.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "edges/linear_light.h"
#include "edges/step_fit.h"

namespace scantling {
namespace {

constexpr double kLaneStep_mm = 0.4;
constexpr double kSearch_mm = 4;
constexpr double kWindow_mm = 1.3;
constexpr double kLeastWindow_mm = 0.6;
constexpr double kClear_mm = 0.25;  ///< how near to a change of the printed tone is too near
constexpr int kLeastLanes = 15;

/// Linear light between the pixels; NaN off the photo.
double light_at(const cv::Mat& luma, Point_px p) {
  const auto& linear = linear_light_table();
  const int x = static_cast<int>(std::floor(p.x)), y = static_cast<int>(std::floor(p.y));
  if (!(p.x >= 0 && p.y >= 0) || x + 1 >= luma.cols || y + 1 >= luma.rows)
    return std::numeric_limits<double>::quiet_NaN();
  const double fx = p.x - x, fy = p.y - y;
  const uchar* above = luma.ptr<uchar>(y) + x;
  const uchar* below = luma.ptr<uchar>(y + 1) + x;
  const auto row = [&](const uchar* v) {
    return (1 - fx) * static_cast<double>(linear[v[0]]) + fx * static_cast<double>(linear[v[1]]);
  };
  return (1 - fy) * row(above) + fy * row(below);
}

/// Where lanes from outside first leave the printed pattern: the side to some tenths of a mm. A
/// lane counts only where it agreed with the same tone just before: a white card shows nothing on
/// white ground, and its lanes there would be found deep inside, at the next black square.
RobustLine rough_side(const IdCardView& view, const IdCardSide& side, double reach_mm) {
  constexpr double kStep_mm = 0.1;
  constexpr int kAgreements = 3, kDepartures = 3;
  std::vector<double> along, out;
  for (double a = -reach_mm; a <= reach_mm; a += kLaneStep_mm) {
    PrintedTone agreed = PrintedTone::none;
    int agreements = 0, departures = 0;
    for (double o = kSearch_mm; o > -kSearch_mm; o -= kStep_mm) {
      const PrintedTone tone = view.pattern.around(view.nominal(side, a, o), kClear_mm);
      const double value = view.luma_on(side, a, o);
      if (tone == PrintedTone::none || tone != agreed || !std::isfinite(value))
        agreements = departures = 0;
      agreed = tone;
      if (tone == PrintedTone::none) continue;
      const Point3_mm frame = view.at(side, a, o);
      const double black = view.light.black_at({frame.x, frame.y});
      const double white = view.light.white_at({frame.x, frame.y});
      const double share = (value - black) / std::max(1.0, white - black);
      if (tone == PrintedTone::black ? share < 0.3 : share > 0.7) {
        ++agreements;
        departures = 0;
      } else if (agreements >= kAgreements && ++departures == kDepartures) {
        along.push_back(a);
        out.push_back(o + (kDepartures - 1) * kStep_mm);
        break;
      }
    }
  }
  return along.size() >= kLeastLanes ? fit_robust_line(along, out, {}, 0.05) : RobustLine{};
}

/// The side to sub-pixel, from the lanes whose ground outside is plain and unlike the card.
RobustLine fine_side(const IdCardView& view, const IdCardSide& side, const RobustLine& rough,
                     double reach_mm) {
  const auto& linear = linear_light_table();
  const auto light = [&](double luma) {
    return static_cast<double>(linear[static_cast<std::size_t>(std::clamp(luma, 0.0, 255.0))]);
  };
  const Point3_mm middle = view.at(side, 0, rough.at(0));
  const Point3_mm beside = view.at(side, 0, rough.at(0) + 0.5);
  const double px_per_mm = 2 * distance_px(view.pose.project(middle), view.pose.project(beside));
  const double contrast = light(view.light.white_at({middle.x, middle.y})) -
                          light(view.light.black_at({middle.x, middle.y}));
  const int half = static_cast<int>(kWindow_mm * px_per_mm);
  std::vector<double> along, out, weight;
  std::vector<float> values;
  for (double a = -reach_mm; a <= reach_mm; a += kLaneStep_mm) {
    const double start = rough.at(a);
    // The window ends where the ground's tone does.
    const PrintedTone tone =
        view.pattern.around(view.nominal(side, a, start + kClear_mm), kClear_mm);
    double plain = kClear_mm;
    while (plain < kWindow_mm &&
           view.pattern.around(view.nominal(side, a, start + plain + 0.1), kClear_mm) == tone)
      plain += 0.1;
    if (tone == PrintedTone::none || plain < kLeastWindow_mm) continue;
    const int outside = std::min(half, static_cast<int>(plain * px_per_mm));
    values.clear();
    for (int i = -half; i <= outside; ++i)
      values.push_back(static_cast<float>(
          light_at(view.luma, view.pose.project(view.at(side, a, start + i / px_per_mm)))));
    const double centre[] = {static_cast<double>(half)};
    const StepFit fit = fit_steps(values, centre);
    // From the card outwards the light falls onto black ground and rises onto white.
    if (!fit.converged || std::abs(fit.height[0]) < 0.15 * contrast ||
        (fit.height[0] < 0) != (tone == PrintedTone::black) || !(fit.place_u[0] < 0.5))
      continue;
    along.push_back(a);
    out.push_back(start + (fit.place[0] - half) / px_per_mm);
    weight.push_back(1 / (0.05 * 0.05 + fit.place_u[0] * fit.place_u[0]));
  }
  return along.size() >= kLeastLanes ? fit_robust_line(along, out, weight, 0.01) : RobustLine{};
}

std::array<IdCardSide, 4> expected_sides(const IdCardPlace& place) {
  const Vector2 u{place.along_x, place.along_y}, v{-place.along_y, place.along_x};
  std::array<IdCardSide, 4> sides;
  for (std::size_t i = 0; i < 4; ++i) {
    const double sign = i % 2 == 0 ? 1 : -1;
    const Vector2& n = i < 2 ? u : v;
    sides[i].normal = {sign * n.x, sign * n.y};
    sides[i].tangent = i < 2 ? v : u;
    sides[i].half_mm = (i < 2 ? kIdCardLong_mm : kIdCardShort_mm) / 2;
  }
  return sides;
}

}  // namespace

Point3_mm IdCardView::at(const IdCardSide& side, double along, double out) const {
  const double n = side.half_mm + out;
  return {place.centre.x + along * side.tangent.x + n * side.normal.x,
          place.centre.y + along * side.tangent.y + n * side.normal.y, -kIdCardThick_mm};
}

Point_mm IdCardView::nominal(const IdCardSide& side, double along, double out) const {
  const Point3_mm p = at(side, along, out);
  return {p.x / pose.scale_x(), p.y / pose.scale_y()};
}

double IdCardView::luma_on(const IdCardSide& side, double along, double out) const {
  return luma_at(luma, pose.project(at(side, along, out)));
}

std::optional<std::size_t> measure_sides(IdCardView& view, std::array<IdCardSide, 4>& sides) {
  for (int pass = 0; pass < 2; ++pass) {
    sides = expected_sides(view.place);
    for (std::size_t i = 0; i < 4; ++i) {
      IdCardSide& side = sides[i];
      const double reach = sides[i < 2 ? 2 : 0].half_mm - kIdCardCorner_mm - 1;
      const RobustLine rough = rough_side(view, side, reach);
      if (!rough.valid) return i;
      side.line = pass == 0 ? rough : fine_side(view, side, rough, reach);
      if (!side.line.valid || side.line.inlier_share < 0.5) return i;
    }
    if (pass == 1) break;
    const double u = (sides[0].line.at(0) - sides[1].line.at(0)) / 2;
    const double v = (sides[2].line.at(0) - sides[3].line.at(0)) / 2;
    view.place.centre.x += u * sides[0].normal.x + v * sides[2].normal.x;
    view.place.centre.y += u * sides[0].normal.y + v * sides[2].normal.y;
    // The long sides turn with their slope; tangents all point the same way.
    const double turn = (sides[2].line.slope - sides[3].line.slope) / 2;
    const double angle = std::atan2(view.place.along_y, view.place.along_x) + std::atan(turn);
    view.place.along_x = std::cos(angle);
    view.place.along_y = std::sin(angle);
  }
  return std::nullopt;
}

}  // namespace scantling
