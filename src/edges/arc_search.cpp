#include "edges/arc_search.h"

#include <algorithm>
#include <cmath>

#include "edges/step_response.h"

namespace scantling {
namespace {

float median_of(std::vector<float> v) {
  if (v.empty()) return 0;
  const auto middle = v.begin() + static_cast<long>(v.size() / 2);
  std::nth_element(v.begin(), middle, v.end());
  return *middle;
}

/// Sums the lanes' answers along arcs.
class ArcSum {
 public:
  ArcSum(const LaneProfiles& lanes, double kernel_px) : lanes_(lanes) {
    bounded_ = step_response(LaneCodes(lanes), kernel_px);
    const std::vector<float> scatter = lane_scatter(bounded_);
    const float limit = answer_limit(median_of(scatter));
    for (float& answer : cv::Mat_<float>(bounded_)) answer = compressed_answer(answer, limit);
    middle_ = (lanes.along_mm.front() + lanes.along_mm.back()) / 2;
    half_ = (lanes.along_mm.back() - lanes.along_mm.front()) / 2;
  }

  double middle_mm() const { return middle_; }
  /// The change of slope, and of curvature, that moves an arc's end by `samples`.
  double slope_step(double samples) const { return samples * lanes_.across_step_mm / half_; }
  double bend_step(double samples) const {
    return samples * 2 * lanes_.across_step_mm / (half_ * half_);
  }

  /// Sum over all arcs of one direction and curvature of their squared mean answer.
  double energy(double slope, double curvature, std::vector<float>& sum) const {
    const int samples = bounded_.cols;
    sum.assign(static_cast<std::size_t>(samples), 0.f);
    for (int k = 0; k < bounded_.rows; ++k) {
      const double x = lanes_.along_mm[static_cast<std::size_t>(k)] - middle_;
      const int shift = static_cast<int>(
          std::lround((slope * x - 0.5 * curvature * x * x) / lanes_.across_step_mm));
      const int a = std::max(0, -shift), b = std::min(samples, samples - shift);
      const float* row = bounded_.ptr<float>(k) + shift;
      float* out = sum.data();
      for (int j = a; j < b; ++j) out[j] += row[j];
    }
    double total = 0;
    for (const float s : sum) total += double{s} * s;
    return total / (double{1.0} * bounded_.rows * bounded_.rows);
  }

  double across_of_energy(const std::vector<float>& sum) const {
    double weight = 0, place = 0;
    for (std::size_t j = 0; j < sum.size(); ++j) {
      const double w = std::pow(double{sum[j]}, 4);  // the clear ones decide
      weight += w;
      place += w * lanes_.across_mm(static_cast<double>(j));
    }
    return weight > 0 ? place / weight : lanes_.across_mm(0);
  }

 private:
  const LaneProfiles& lanes_;
  cv::Mat1f bounded_;
  double middle_ = 0, half_ = 1;
};

}  // namespace

ArcFamily find_arc_family(const LaneProfiles& lanes, const ArcSearchOptions& options) {
  ArcFamily family;
  if (lanes.light.rows < 12 || lanes.light.cols < 32) return family;
  std::vector<float> sum;
  std::vector<float> energies;
  double best = -1, slope = 0, curvature = 0;
  {
    const ArcSum coarse(lanes, 1.6 * options.kernel_px);
    const double ds = coarse.slope_step(2.5), dk = coarse.bend_step(3);
    const double k_first = 1 / options.most_radius_mm, k_last = 1 / options.least_radius_mm;
    const int bends = std::max(2, static_cast<int>(std::ceil((k_last - k_first) / dk)));
    const int slopes = static_cast<int>(std::ceil(options.steepest / ds));
    for (int b = 0; b <= bends; ++b)
      for (int m = -slopes; m <= slopes; ++m) {
        const double k = k_first + (k_last - k_first) * b / bends;
        const double e = coarse.energy(m * ds, k, sum);
        energies.push_back(static_cast<float>(e));
        if (e > best) {
          best = e;
          slope = m * ds;
          curvature = k;
        }
      }
    family.clarity = best / std::max(1e-6, double{median_of(energies)});
  }
  const ArcSum fine(lanes, options.kernel_px);
  double ds = fine.slope_step(1.2), dk = fine.bend_step(1.5);
  best = fine.energy(slope, curvature, sum);
  for (int round = 0; round < 3; ++round, ds /= 2, dk /= 2)
    for (int tries = 0; tries < 6; ++tries) {
      double next_slope = slope, next_curvature = curvature;
      for (int a = -1; a <= 1; ++a)
        for (int b = -1; b <= 1; ++b) {
          const double k = curvature + b * dk;
          if (k < 0.8 / options.most_radius_mm || k > 1.25 / options.least_radius_mm) continue;
          const double e = fine.energy(slope + a * ds, k, sum);
          if (e > best) {
            best = e;
            next_slope = slope + a * ds;
            next_curvature = k;
          }
        }
      if (next_slope == slope && next_curvature == curvature) break;
      slope = next_slope;
      curvature = next_curvature;
    }
  fine.energy(slope, curvature, sum);
  family.found = best > 0;
  family.middle_mm = fine.middle_mm();
  family.slope = slope;
  family.radius_mm = 1 / curvature;
  family.across_mm = fine.across_of_energy(sum);
  return family;
}

}  // namespace scantling
