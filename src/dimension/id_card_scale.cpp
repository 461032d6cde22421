#include "dimension/id_card_scale.h"

#include <fmt/format.h>

#include <Eigen/Core>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <opencv2/calib3d.hpp>

#include "camera/camera_prior.h"
#include "card/card_sighting.h"
#include "dimension/id_card_sides.h"

namespace scantling {
namespace {

// Limits of an unused card as half ranges (value from memory: 85.47 to 85.72, 53.92 to 54.03 mm).
constexpr double kLongTolerance_mm = 0.125;
constexpr double kShortTolerance_mm = 0.055;
constexpr double kThickTolerance_mm = 0.08;
/// A card lying on a sheet touches it to about this; half range.
constexpr double kGap_mm = 0.3;
/// The punched edge is rounded and may catch the light: standard uncertainty of one side.
constexpr double kSideDefinition_mm = 0.03;
/// What a lens leaves over 86 mm after two radial terms were fitted on the sheet (judged).
constexpr double kLens = 0.0003;
constexpr double kMostTurn_deg = 20;
constexpr double kMostWall_mm = 0.1;
constexpr double kMostScale = 0.1;  ///< departure from 1
constexpr double kSettled = 2e-5;
constexpr int kMostRounds = 6;
/// The rounds settle the scales, so the pose is not to bend them.
constexpr double kFixed = 1e-6;

/// x over y scale from the sheet alone, for square pixels: with H = K [sx r1, sy r2, t] for a
/// plane, the columns of K^-1 H have lengths in that ratio. Good to about 1 %: only a start.
double scale_ratio(const CardSighting& sighting, const CameraModel& camera) {
  std::vector<cv::Point2d> sheet, directions;
  for (const SightedCorner& corner : sighting.corners) {
    double u = 0, v = 0;
    camera.direction(corner.photo_px, u, v);
    sheet.emplace_back(corner.card_mm.x, corner.card_mm.y);
    directions.emplace_back(u, v);
  }
  const cv::Mat h = cv::findHomography(sheet, directions, 0);
  if (h.empty()) return 1;
  const double ratio = cv::norm(h.col(0)) / cv::norm(h.col(1));
  return std::isfinite(ratio) ? std::clamp(ratio, 0.95, 1.05) : 1;
}

struct Pair {
  Vector2 normal;       ///< unit, in nominal sheet millimetres
  double distance = 0;  ///< nominal millimetres
};

Pair pair_of(const IdCardView& view, const IdCardSide& a, const IdCardSide& b) {
  const auto point = [&](const IdCardSide& side, double along) {
    return view.nominal(side, along, side.line.at(along));
  };
  Vector2 t;
  for (const IdCardSide* side : {&a, &b}) {
    const Point_mm low = point(*side, -1), high = point(*side, 1);
    t.x += high.x - low.x;
    t.y += high.y - low.y;
  }
  const double length = std::hypot(t.x, t.y);
  const Point_mm p = point(a, 0), q = point(b, 0);
  Pair pair{{t.y / length, -t.x / length}, 0};
  pair.distance = std::abs((p.x - q.x) * pair.normal.x + (p.y - q.y) * pair.normal.y);
  return pair;
}

bool solve_scale(const Pair& across_long, const Pair& across_short, double& sx, double& sy) {
  Eigen::Matrix2d m;
  Eigen::Vector2d right;
  const Pair* pairs[] = {&across_long, &across_short};
  const double sizes[] = {kIdCardLong_mm, kIdCardShort_mm};
  for (int i = 0; i < 2; ++i) {
    m(i, 0) = pairs[i]->normal.x * pairs[i]->normal.x;
    m(i, 1) = pairs[i]->normal.y * pairs[i]->normal.y;
    right(i) = std::pow(pairs[i]->distance / sizes[i], 2);
  }
  const Eigen::Vector2d inverse = m.inverse() * right;
  if (!(inverse(0) > 0 && inverse(1) > 0)) return false;
  sx = 1 / std::sqrt(inverse(0));
  sy = 1 / std::sqrt(inverse(1));
  return std::isfinite(sx) && std::isfinite(sy);
}

/// Fractions of the two sizes; `long_on_x` says which of them rules the x scale.
std::vector<ScaleBudgetLine> scale_budget(const std::array<IdCardSide, 4>& sides,
                                          double distance_mm, bool long_on_x) {
  const auto rectangular = [](double half_range) { return half_range / std::sqrt(3.0); };
  const auto line = [&](const char* source, double on_long, double on_short) {
    return ScaleBudgetLine{source, long_on_x ? on_long : on_short, long_on_x ? on_short : on_long};
  };
  const auto both = [](const char* source, double u) { return ScaleBudgetLine{source, u, u}; };
  const double side_u = kSideDefinition_mm * std::numbers::sqrt2;
  const auto fit = [&](std::size_t i) {
    return std::hypot(sides[i].line.u_at(0), sides[i + 1].line.u_at(0));
  };
  std::vector<ScaleBudgetLine> budget{
      both("paper moisture", kPaperMoisture),
      line("the standard's tolerance", rectangular(kLongTolerance_mm) / kIdCardLong_mm,
           rectangular(kShortTolerance_mm) / kIdCardShort_mm),
      both("height of the card's face",
           std::hypot(rectangular(kThickTolerance_mm), rectangular(kGap_mm)) / distance_mm),
      line("rounded sides", side_u / kIdCardLong_mm, side_u / kIdCardShort_mm),
      line("finding the sides", fit(0) / kIdCardLong_mm, fit(2) / kIdCardShort_mm),
      both("lens", kLens)};
  std::stable_sort(budget.begin(), budget.end(),
                   [](const auto& a, const auto& b) { return a.x + a.y > b.x + b.y; });
  return budget;
}

void describe(const IdCardView& view, const std::array<IdCardSide, 4>& sides, IdCardScale& result) {
  const auto corner = [&](const IdCardSide& p, const IdCardSide& q) {
    // Each side's line crosses the other's far end; two rounds settle the small slopes.
    double out_p = p.line.at(0), out_q = q.line.at(0);
    const auto sign = [](const IdCardSide& side, const IdCardSide& other) {
      return side.tangent.x * other.normal.x + side.tangent.y * other.normal.y > 0 ? 1.0 : -1.0;
    };
    for (int i = 0; i < 2; ++i) {
      out_p = p.line.at(sign(p, q) * (q.half_mm + out_q));
      out_q = q.line.at(sign(q, p) * (p.half_mm + out_p));
    }
    return view.pose.project(view.at(p, sign(p, q) * (q.half_mm + out_q), out_p));
  };
  const double angle = std::atan(view.place.along_y / view.place.along_x);
  result.angle_deg = angle * 180 / std::numbers::pi;
  result.outline_px = {corner(sides[0], sides[2]), corner(sides[0], sides[3]),
                       corner(sides[1], sides[3]), corner(sides[1], sides[2])};
  double spread = 0;
  for (const IdCardSide& side : sides) spread += side.line.spread * side.line.spread / 4;
  result.edge_residual_mm = std::sqrt(spread);
}

Check stop(const char* id, const std::string& what) {
  return {
      id, Severity::stop,
      what +
          " Lay a light-coloured blank or loyalty card flat on the ground sheet, its sides along "
          "the squares and squares all round it, and photograph it from straight above."};
}

/// Of the nearer pair of sides to the sheet's x, from -45 to 45 degrees.
double turn_deg(const IdCardPlace& place) {
  const double angle = std::atan2(place.along_y, place.along_x) * 180 / std::numbers::pi;
  return angle - 90 * std::round(angle / 90);
}

/// Beyond a side its wall shows, and what looks like the edge may be the foot.
bool walls_show(const IdCardView& view, const std::array<IdCardSide, 4>& sides) {
  const Point3_mm eye = view.pose.camera_centre();
  return std::any_of(sides.begin(), sides.end(), [&](const IdCardSide& side) {
    const Point3_mm p = view.at(side, 0, side.line.at(0));
    const double beyond = (eye.x - p.x) * side.normal.x + (eye.y - p.y) * side.normal.y;
    return beyond * kIdCardThick_mm / std::abs(eye.z) > kMostWall_mm;
  });
}

/// Where a side lies in the picture.
const char* side_words(const IdCardView& view, const IdCardSide& side) {
  const Point_px inner = view.pose.project(view.at(side, 0, -side.half_mm));
  const Point_px outer = view.pose.project(view.at(side, 0, 0));
  const double x = outer.x - inner.x, y = outer.y - inner.y;
  if (std::abs(x) > std::abs(y)) return x > 0 ? "right" : "left";
  return y > 0 ? "lower" : "upper";
}

/// One round: the scale that makes the card's size right, seen with the pose of the last one.
std::optional<Check> improve(IdCardView& view, std::array<IdCardSide, 4>& sides, double& sx,
                             double& sy) {
  if (std::abs(turn_deg(view.place)) > kMostTurn_deg)
    return stop("id_card_turned", "The card lies askew.");
  if (const auto lost = measure_sides(view, sides))
    return Check{
        "id_card_sides", Severity::stop,
        fmt::format("The card's {} side in the photo cannot be made out: it lies along a line "
                    "between squares, it is dark itself, or something covers it. Use a "
                    "light-coloured card, move it by half a square, so that dark squares meet "
                    "that side, and take the photo again.",
                    side_words(view, sides[*lost]))};
  if (walls_show(view, sides))
    return stop("id_card_from_the_side", "The card is seen from the side, so that its edge shows.");
  if (!solve_scale(pair_of(view, sides[0], sides[1]), pair_of(view, sides[2], sides[3]), sx, sy) ||
      std::abs(sx - 1) > kMostScale || std::abs(sy - 1) > kMostScale)
    return stop("id_card_size",
                "What lies on the sheet has not the size of an ID-1 card (85.60 mm x 53.98 mm).");
  return std::nullopt;
}

}  // namespace

IdCardScale scale_from_id_card(const cv::Mat& luma, const CameraTags& tags) {
  IdCardScale result;
  const CardDefinition& sheet = ground_sheet();
  CardSearch search = find_card(luma, sheet);
  result.checks = search.checks;
  if (!search.sighting) return result;
  const CameraPrior prior = camera_prior(tags, luma.cols, luma.rows);
  const CardPattern pattern(sheet);
  const double ratio = scale_ratio(*search.sighting, prior.model);
  double sx = std::sqrt(ratio), sy = 1 / sx;

  IdCardOutline outline;
  for (int round = 0; round < kMostRounds && !result.scale; ++round) {
    PoseSolution solution = solve_card_pose(*search.sighting, prior, PrintScale{sx, sy, kFixed});
    if (!solution.pose) {
      result.checks.insert(result.checks.end(), solution.checks.begin(), solution.checks.end());
      return result;
    }
    if (round == 0) outline = find_id_card(luma, *solution.pose, sheet, pattern);
    if (!outline.place) {
      result.checks.push_back(stop("id_card_missing", "No ID-1 card is to be seen."));
      return result;
    }
    IdCardView view{luma, *solution.pose, pattern, outline.light, *outline.place};
    std::array<IdCardSide, 4> sides;
    double next_x = sx, next_y = sy;
    if (const auto problem = improve(view, sides, next_x, next_y)) {
      result.checks.push_back(*problem);
      return result;
    }
    const bool settled = std::abs(next_x - sx) < kSettled && std::abs(next_y - sy) < kSettled;
    sx = next_x;
    sy = next_y;
    outline.place = view.place;
    if (!settled && round + 1 < kMostRounds) continue;

    describe(view, sides, result);
    const bool long_on_x = std::abs(view.place.along_x) > std::abs(view.place.along_y);
    result.budget = scale_budget(sides, solution.pose->distance_mm(view.place.centre), long_on_x);
    CheckedScale scale{sx, sy, 0, 0};
    for (const ScaleBudgetLine& line : result.budget) {
      scale.x_uncertainty = std::hypot(scale.x_uncertainty, line.x);
      scale.y_uncertainty = std::hypot(scale.y_uncertainty, line.y);
    }
    result.scale = scale;
  }
  return result;
}

}  // namespace scantling
