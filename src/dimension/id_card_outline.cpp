#include "dimension/id_card_outline.h"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <opencv2/imgproc.hpp>

namespace scantling {
namespace {

constexpr double kGrid_mm = 0.5;
constexpr double kClearOfEdges_mm = 0.9;
constexpr double kDeparture = 0.35;  ///< of the way from black to white

struct Sample {
  Point_mm frame;
  cv::Point cell;
  PrintedTone tone;
  double value;
};

std::vector<Sample> sample_sheet(const cv::Mat& luma, const CardPose& pose,
                                 const CardDefinition& sheet, const CardPattern& pattern) {
  std::vector<Sample> samples;
  const int columns = static_cast<int>((sheet.sheet.x_max - sheet.sheet.x_min) / kGrid_mm);
  const int rows = static_cast<int>((sheet.sheet.y_max - sheet.sheet.y_min) / kGrid_mm);
  for (int row = 0; row < rows; ++row) {
    for (int column = 0; column < columns; ++column) {
      const Point_mm nominal{sheet.sheet.x_min + (column + 0.5) * kGrid_mm,
                             sheet.sheet.y_min + (row + 0.5) * kGrid_mm};
      const PrintedTone tone = pattern.around(nominal, kClearOfEdges_mm);
      if (tone == PrintedTone::none) continue;
      const Point_mm frame{nominal.x * pose.scale_x(), nominal.y * pose.scale_y()};
      const double value = luma_at(luma, pose.project({frame.x, frame.y, 0}));
      if (std::isfinite(value)) samples.push_back({frame, {column, row}, tone, value});
    }
  }
  return samples;
}

double median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

/// A plane through most of the values of one tone; what lies on the sheet falls out.
bool fit_light(const std::vector<Sample>& samples, PrintedTone tone, double plane[3]) {
  std::vector<const Sample*> used;
  std::vector<double> values;
  for (const Sample& s : samples) {
    if (s.tone != tone) continue;
    used.push_back(&s);
    values.push_back(s.value);
  }
  if (used.size() < 200) return false;
  Eigen::Vector3d p(median(values), 0, 0);
  for (int pass = 0; pass < 4; ++pass) {
    std::vector<double> distance;
    distance.reserve(used.size());
    for (const Sample* s : used)
      distance.push_back(std::abs(s->value - p[0] - p[1] * s->frame.x - p[2] * s->frame.y));
    const double limit = std::max(4.0, 2.5 * 1.4826 * median(distance));
    Eigen::Matrix3d normal = Eigen::Matrix3d::Zero();
    Eigen::Vector3d right = Eigen::Vector3d::Zero();
    for (std::size_t i = 0; i < used.size(); ++i) {
      if (distance[i] > limit) continue;
      const Eigen::Vector3d row(1, used[i]->frame.x, used[i]->frame.y);
      normal += row * row.transpose();
      right += row * used[i]->value;
    }
    p = normal.ldlt().solve(right);
    if (!p.allFinite()) return false;
  }
  std::copy(p.data(), p.data() + 3, plane);
  return true;
}

}  // namespace

double luma_at(const cv::Mat& luma, Point_px p) {
  const int x = static_cast<int>(std::floor(p.x)), y = static_cast<int>(std::floor(p.y));
  if (!(p.x >= 0 && p.y >= 0) || x + 1 >= luma.cols || y + 1 >= luma.rows)
    return std::numeric_limits<double>::quiet_NaN();
  const double fx = p.x - x, fy = p.y - y;
  const uchar* above = luma.ptr<uchar>(y) + x;
  const uchar* below = luma.ptr<uchar>(y + 1) + x;
  return (1 - fy) * ((1 - fx) * above[0] + fx * above[1]) +
         fy * ((1 - fx) * below[0] + fx * below[1]);
}

IdCardOutline find_id_card(const cv::Mat& luma, const CardPose& pose, const CardDefinition& sheet,
                           const CardPattern& pattern) {
  IdCardOutline result;
  const std::vector<Sample> samples = sample_sheet(luma, pose, sheet, pattern);
  if (!fit_light(samples, PrintedTone::black, result.light.black) ||
      !fit_light(samples, PrintedTone::white, result.light.white))
    return result;

  const int columns = static_cast<int>((sheet.sheet.x_max - sheet.sheet.x_min) / kGrid_mm);
  const int rows = static_cast<int>((sheet.sheet.y_max - sheet.sheet.y_min) / kGrid_mm);
  cv::Mat covered = cv::Mat::zeros(rows, columns, CV_8U);
  for (const Sample& s : samples) {
    const double black = result.light.black_at(s.frame), white = result.light.white_at(s.frame);
    const double share = (s.value - black) / std::max(1.0, white - black);
    const bool departs = s.tone == PrintedTone::black ? share > kDeparture : share < 1 - kDeparture;
    if (departs) covered.at<uchar>(s.cell) = 255;
  }
  cv::morphologyEx(covered, covered, cv::MORPH_OPEN, cv::Mat::ones(3, 3, CV_8U));

  // A white card shows only on the black squares, so what is found of it is joined over a square.
  const int reach = 2 * static_cast<int>(0.55 * sheet.square_mm / kGrid_mm) + 1;
  cv::Mat joined, labels, statistics, centroids;
  cv::morphologyEx(covered, joined, cv::MORPH_CLOSE,
                   cv::getStructuringElement(cv::MORPH_ELLIPSE, {reach, reach}));
  const int count = cv::connectedComponentsWithStats(joined, labels, statistics, centroids);
  int best = 0;
  for (int i = 1; i < count; ++i)
    if (best == 0 ||
        statistics.at<int>(i, cv::CC_STAT_AREA) > statistics.at<int>(best, cv::CC_STAT_AREA))
      best = i;
  if (best == 0) return result;
  std::vector<cv::Point2f> points;
  for (int y = 0; y < rows; ++y)
    for (int x = 0; x < columns; ++x)
      if (covered.at<uchar>(y, x) && labels.at<int>(y, x) == best)
        points.emplace_back(
            static_cast<float>((sheet.sheet.x_min + (x + 0.5) * kGrid_mm) * pose.scale_x()),
            static_cast<float>((sheet.sheet.y_min + (y + 0.5) * kGrid_mm) * pose.scale_y()));
  if (points.size() < 50) return result;
  const cv::RotatedRect box = cv::minAreaRect(points);
  const double longer = std::max(box.size.width, box.size.height);
  const double shorter = std::min(box.size.width, box.size.height);
  if (std::abs(longer - kIdCardLong_mm) > 7 || std::abs(shorter - kIdCardShort_mm) > 7)
    return result;
  double angle = box.angle * std::numbers::pi / 180;
  if (box.size.width < box.size.height) angle += std::numbers::pi / 2;
  result.place = IdCardPlace{{box.center.x, box.center.y}, std::cos(angle), std::sin(angle)};
  return result;
}

}  // namespace scantling
