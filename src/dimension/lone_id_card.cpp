#include "dimension/lone_id_card.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <opencv2/calib3d.hpp>
#include <opencv2/imgproc.hpp>

#include "dimension/id_card_outline.h"
#include "edges/linear_light.h"
#include "edges/step_fit.h"
#include "geometry/robust_line.h"

namespace scantling {
namespace {

constexpr int kSearchSize_px = 900;
constexpr double kCorner_mm = 6;  ///< kept clear of at both ends of a side
constexpr double kLane_mm = 0.4;
constexpr std::size_t kLeastLanes = 25;
/// The punched sides are rounded and may catch the light: standard uncertainty of one side.
constexpr double kSideDefinition_mm = 0.04;
constexpr int kColumns = 8, kRows = 5;
/// The part is looked for this far beside the card; a disc's rim comes closest in its middle.
constexpr double kWindow_mm = 46, kBesideCard_mm = 0.8;
constexpr double kHighestPart_mm = 60;

using Corners_px = std::array<cv::Point2f, 4>;  ///< top left, then clockwise

double light_at(const cv::Mat& luma, cv::Point2d p) {
  const double value = luma_at(luma, {p.x, p.y});
  if (!std::isfinite(value)) return value;
  const auto& table = linear_light_table();
  const int below = static_cast<int>(value);
  const double share = value - below;
  return (1 - share) * static_cast<double>(table[static_cast<std::size_t>(below)]) +
         share * static_cast<double>(table[static_cast<std::size_t>(std::min(255, below + 1))]);
}

Corners_px in_order(const std::vector<cv::Point>& polygon, double scale) {
  Corners_px corners;
  for (std::size_t i = 0; i < 4; ++i)
    corners[i] = {static_cast<float>((polygon[i].x + 0.5) * scale - 0.5),
                  static_cast<float>((polygon[i].y + 0.5) * scale - 0.5)};
  // The corner nearest to the picture's top left begins.
  const auto first = std::min_element(corners.begin(), corners.end(),
                                      [](auto a, auto b) { return a.x + a.y < b.x + b.y; });
  std::rotate(corners.begin(), first, corners.end());
  const cv::Point2f u = corners[1] - corners[0], v = corners[3] - corners[0];
  if (u.x * v.y - u.y * v.x < 0) std::swap(corners[1], corners[3]);
  return corners;
}

double length(cv::Point2f a) {
  return std::hypot(static_cast<double>(a.x), static_cast<double>(a.y));
}

/// Convex shapes of four sides with about an ID-1 card's proportions, largest first.
std::vector<Corners_px> four_sided_shapes(const cv::Mat& luma) {
  cv::Mat small;
  const double scale = std::max(1.0, std::max(luma.cols, luma.rows) / double{kSearchSize_px});
  cv::resize(luma, small, {}, 1 / scale, 1 / scale, cv::INTER_AREA);
  cv::GaussianBlur(small, small, {5, 5}, 1.1);
  std::vector<cv::Mat> masks;
  for (const double strong : {40.0, 90.0, 160.0}) {
    cv::Mat edges;
    cv::Canny(small, edges, strong / 2.5, strong);
    cv::dilate(edges, edges, cv::Mat::ones(3, 3, CV_8U));
    masks.push_back(edges);
  }
  for (int level = 30; level < 240; level += 18) masks.push_back(small > level);
  std::vector<Corners_px> found;
  const double picture = small.cols * static_cast<double>(small.rows);
  for (const cv::Mat& mask : masks) {
    std::vector<std::vector<cv::Point>> contours;
    cv::findContours(mask, contours, cv::RETR_LIST, cv::CHAIN_APPROX_SIMPLE);
    for (const auto& contour : contours) {
      const double area = std::abs(cv::contourArea(contour));
      if (area < 0.02 * picture || area > 0.7 * picture) continue;
      std::vector<cv::Point> polygon, hull;
      cv::convexHull(contour, hull);
      if (std::abs(cv::contourArea(hull)) > 1.12 * area) continue;
      cv::approxPolyDP(hull, polygon, 0.025 * cv::arcLength(hull, true), true);
      if (polygon.size() != 4 || !cv::isContourConvex(polygon)) continue;
      const Corners_px c = in_order(polygon, scale);
      const double across = (length(c[1] - c[0]) + length(c[2] - c[3])) / 2;
      const double down = (length(c[3] - c[0]) + length(c[2] - c[1])) / 2;
      const double ratio = std::max(across, down) / std::min(across, down);
      constexpr double kRatio = kIdCardLong_mm / kIdCardShort_mm;
      if (ratio < 0.84 * kRatio || ratio > 1.2 * kRatio) continue;
      const cv::Point2f top = c[1] - c[0];
      if (std::abs(top.y) > 0.45f * std::abs(top.x)) continue;
      found.push_back(c);
    }
  }
  std::stable_sort(found.begin(), found.end(), [](const Corners_px& a, const Corners_px& b) {
    return length(a[2] - a[0]) > length(b[2] - b[0]);
  });
  if (found.size() > 60) found.resize(60);
  return found;
}

/// One side on the rectified card: `across` is the direction out of it.
struct Side {
  RobustLine line;  ///< how far out it lies (mm) against the place along it
  double blur_px = 0, contrast = 0, share = 0;
};

class Rectified {
 public:
  Rectified(const cv::Mat& luma, double width_mm, double height_mm, const Corners_px& corners)
      : luma_(luma), width_(width_mm), height_(height_mm) {
    map(corners);
  }

  /// Fits the four sides and moves the corners to where they meet. False where a side is not seen.
  bool settle(double reach_mm) {
    std::array<Side, 4> sides;
    for (std::size_t i = 0; i < 4; ++i) {
      sides[i] = fit(i, reach_mm);
      if (!sides[i].line.valid || sides[i].share < 0.5 || sides[i].line.inlier_share < 0.55)
        return false;
    }
    sides_ = sides;
    Corners_px corners;
    for (std::size_t i = 0; i < 4; ++i) corners[i] = meeting((i + 3) % 4, i);
    map(corners);
    return true;
  }

  /// The arc leaves the tip of a square corner free: whether most tips look like their
  /// surroundings rather than the card.
  bool corners_rounded() const {
    int rounded = 0;
    for (std::size_t i = 0; i < 4; ++i) {
      const double x = i == 1 || i == 2 ? width_ : 0, y = i >= 2 ? height_ : 0;
      const double in_x = x > 0 ? -1 : 1, in_y = y > 0 ? -1 : 1;
      const double tip = light(x + 0.45 * in_x, y + 0.45 * in_y);
      const double inside = light(x + 3 * in_x, y + 3 * in_y);
      const double outside = light(x - 0.8 * in_x, y - 0.8 * in_y);
      rounded += std::abs(tip - outside) < std::abs(tip - inside);
    }
    return rounded >= 3;
  }

  cv::Point2d photo(double x, double y) const {
    const cv::Vec3d p = to_photo_ * cv::Vec3d(x, y, 1);
    return {p[0] / p[2], p[1] / p[2]};
  }
  double light(double x, double y) const { return light_at(luma_, photo(x, y)); }
  const std::array<Side, 4>& sides() const { return sides_; }
  double px_per_mm() const {
    return cv::norm(photo(width_ / 2 + 5, height_ / 2) - photo(width_ / 2 - 5, height_ / 2)) / 10;
  }

 private:
  void map(const Corners_px& corners) {
    const float w = static_cast<float>(width_), h = static_cast<float>(height_);
    const Corners_px card{cv::Point2f{0, 0}, {w, 0}, {w, h}, {0, h}};
    to_photo_ = cv::Matx33d(cv::getPerspectiveTransform(card.data(), corners.data()));
  }

  /// Sides are the top, the right, the bottom, the left.
  cv::Point2d at(std::size_t side, double along, double out) const {
    switch (side) {
      case 0:
        return {along, -out};
      case 1:
        return {width_ + out, along};
      case 2:
        return {along, height_ + out};
      default:
        return {-out, along};
    }
  }

  Side fit(std::size_t i, double reach_mm) const {
    Side side;
    const double end = (i % 2 == 0 ? width_ : height_) - kCorner_mm;
    std::vector<double> along, out, weight, blur, contrast;
    int lanes = 0;
    const double step = std::max(0.02, 1 / px_per_mm());
    const int half = static_cast<int>(reach_mm / step);
    std::vector<float> values(static_cast<std::size_t>(2 * half + 1));
    for (double a = kCorner_mm; a <= end; a += kLane_mm) {
      ++lanes;
      for (int k = -half; k <= half; ++k) {
        const cv::Point2d p = at(i, a, k * step);
        values[static_cast<std::size_t>(k + half)] = static_cast<float>(light(p.x, p.y));
      }
      // The steepest place is where the fit begins.
      int steepest = 0;
      float most = 0;
      for (int k = 2; k + 2 <= 2 * half; ++k) {
        const auto v = [&](int n) { return values[static_cast<std::size_t>(n)]; };
        const float rise = std::abs(v(k + 1) + v(k + 2) - v(k - 1) - v(k - 2));
        if (rise > most) {
          most = rise;
          steepest = k;
        }
      }
      if (!(most > 0.02f)) continue;
      const double start[] = {static_cast<double>(steepest)};
      const StepFit fitted = fit_steps(values, start);
      if (!fitted.converged || !(fitted.place_u[0] < 1.5)) continue;
      along.push_back(a);
      out.push_back((fitted.place[0] - half) * step);
      weight.push_back(1 / (0.04 * 0.04 + std::pow(fitted.place_u[0] * step, 2)));
      blur.push_back(fitted.blur * step * px_per_mm());
      contrast.push_back(std::abs(fitted.height[0]));
    }
    side.share = lanes > 0 ? static_cast<double>(along.size()) / lanes : 0;
    if (along.size() < kLeastLanes) return side;
    side.line = fit_robust_line(along, out, weight, 0.01);
    const auto middle = [](std::vector<double>& v) {
      std::nth_element(v.begin(), v.begin() + static_cast<long>(v.size() / 2), v.end());
      return v[v.size() / 2];
    };
    side.blur_px = middle(blur);
    side.contrast = middle(contrast);
    return side;
  }

  /// Where two neighbouring sides' straight lines meet, on the photo.
  cv::Point2f meeting(std::size_t p, std::size_t q) const {
    const auto ends = [&](std::size_t i) {
      const double to = i % 2 == 0 ? width_ : height_;
      return std::pair{at(i, 0, sides_[i].line.at(0)), at(i, to, sides_[i].line.at(to))};
    };
    const auto [a, b] = ends(p);
    const auto [c, d] = ends(q);
    const cv::Point2d u = b - a, v = d - c, w = c - a;
    const double t = (w.x * v.y - w.y * v.x) / (u.x * v.y - u.y * v.x);
    const cv::Point2d card = a + t * u;
    const cv::Point2d seen = photo(card.x, card.y);
    return {static_cast<float>(seen.x), static_cast<float>(seen.y)};
  }

  const cv::Mat& luma_;
  double width_, height_;
  cv::Matx33d to_photo_;
  std::array<Side, 4> sides_;
};

CardDefinition definition_of(bool upright, PartSide part) {
  CardDefinition card;
  card.name = "id1";
  const double width = upright ? kIdCardShort_mm : kIdCardLong_mm;
  const double height = upright ? kIdCardLong_mm : kIdCardShort_mm;
  card.columns = kColumns;
  card.rows = kRows;
  card.square_mm = width / kColumns;
  card.thickness_mm = kIdCardThick_mm;
  card.sheet = {0, 0, width, height};
  const double first =
      part == PartSide::right ? width + kBesideCard_mm : -kBesideCard_mm - kWindow_mm;
  card.notch = {first, height - kHighestPart_mm, first + kWindow_mm, height};
  for (int row = 0; row <= kRows; ++row)
    for (int column = 0; column <= kColumns; ++column)
      card.corners.push_back({row * (kColumns + 1) + column,
                              {width * column / kColumns, height * row / kRows},
                              CutState::present});
  return card;
}

/// Definitions outlive every sighting that points to them.
const CardDefinition& shared_definition(bool upright, PartSide part) {
  static const std::array<CardDefinition, 4> all{
      definition_of(false, PartSide::right), definition_of(true, PartSide::right),
      definition_of(false, PartSide::left), definition_of(true, PartSide::left)};
  return all[(upright ? 1u : 0u) + (part == PartSide::left ? 2u : 0u)];
}

LoneIdCard described(const Rectified& seen, const CardDefinition& card) {
  LoneIdCard result;
  double spread = 0, contrast = std::numeric_limits<double>::infinity();
  std::vector<double> blur;
  for (const Side& side : seen.sides()) {
    spread += std::pow(side.line.height_u, 2) / 4;
    blur.push_back(side.blur_px);
    contrast = std::min(contrast, side.contrast);
  }
  std::sort(blur.begin(), blur.end());
  result.blur_px = (blur[1] + blur[2]) / 2;
  result.contrast = contrast;
  result.side_u_mm = std::sqrt(2 * (spread + kSideDefinition_mm * kSideDefinition_mm));
  result.light = seen.light(card.sheet.x_max / 2, card.sheet.y_max / 2);
  result.sighting.card = &card;
  result.sighting.px_per_mm = seen.px_per_mm();
  for (const CardCorner& corner : card.corners) {
    const cv::Point2d p = seen.photo(corner.at.x, corner.at.y);
    result.sighting.corners.push_back({corner.id, corner.at, {p.x, p.y}});
  }
  // So many places together know no more than the four sides: as if each were less sure.
  const double places_per_side = static_cast<double>(card.corners.size()) / 4;
  result.sighting.corner_noise_px =
      result.side_u_mm / std::sqrt(2.0) * result.sighting.px_per_mm * std::sqrt(places_per_side);
  return result;
}

}  // namespace

const CardDefinition& id_card_with_part(const CardDefinition& card, PartSide part) {
  return shared_definition(card.sheet.y_max > card.sheet.x_max, part);
}

LoneIdCardSearch find_lone_id_card(const cv::Mat& luma) {
  LoneIdCardSearch search;
  for (const Corners_px& corners : four_sided_shapes(luma)) {
    const bool upright = length(corners[1] - corners[0]) < length(corners[3] - corners[0]);
    const CardDefinition& card = shared_definition(upright, PartSide::right);
    Rectified seen(luma, card.sheet.x_max, card.sheet.y_max, corners);
    if (!seen.settle(3.0) || !seen.settle(1.2) || !seen.settle(0.9)) continue;
    if (!seen.corners_rounded()) continue;
    search.card = described(seen, card);
    return search;
  }
  search.checks.push_back(
      {"id_card_missing", Severity::stop,
       "No ID-1 card is to be seen. Stand a blank or loyalty card of bank card size beside the "
       "part, its face level with the part's edge and of another colour than what is behind it, "
       "show all four sides and corners, and take the photo again. Never show a payment card's "
       "number."});
  return search;
}

}  // namespace scantling
