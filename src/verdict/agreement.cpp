#include "verdict/agreement.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "uncertainty/coverage.h"
#include "uncertainty/regression.h"

namespace scantling {

namespace {

constexpr double kOutlierLevel = 0.01;
constexpr double kSlopeLevel = 0.05;
/// Difference and mean share both errors, so sizes that are nearly alike show a slope by chance
/// alone: sizes must spread this many times as far as the differences.
constexpr double kSpreadForSlope = 2;

bool usable(const AgreementPair& pair) {
  const auto size = [](double value) { return std::isfinite(value) && value >= 0; };
  return size(pair.photo_mm) && size(pair.hand_mm) && size(pair.photo_standard_uncertainty_mm) &&
         size(pair.hand_standard_uncertainty_mm);
}

PairAgreement agreement_of_pair(const AgreementPair& pair) {
  PairAgreement result;
  result.difference_mm = pair.photo_mm - pair.hand_mm;
  const double expanded =
      2 * std::hypot(pair.photo_standard_uncertainty_mm, pair.hand_standard_uncertainty_mm);
  if (expanded > 0)
    result.normalised_error = result.difference_mm / expanded;
  else
    result.normalised_error =
        result.difference_mm == 0 ? 0 : std::copysign(INFINITY, result.difference_mm);
  result.disagrees = std::abs(result.normalised_error) > 1;
  return result;
}

/// Grubbs's two-sided limit for the largest deviation among n (ISO 5725-2).
double grubbs_limit(std::size_t count) {
  const double n = static_cast<double>(count);
  const double t = t_quantile(1 - kOutlierLevel / (2 * n), n - 2);
  return (n - 1) / std::sqrt(n) * std::sqrt(t * t / (n - 2 + t * t));
}

Interval about(double centre, double half) {
  return {centre - half, centre + half};
}

double square(double value) {
  return value * value;
}

/// Mean of what each pair says of its own difference.
double stated_variance(std::span<const AgreementPair> pairs) {
  double sum = 0;
  for (const AgreementPair& pair : pairs)
    sum += square(pair.photo_standard_uncertainty_mm) + square(pair.hand_standard_uncertainty_mm);
  return sum / static_cast<double>(pairs.size());
}

std::optional<LineFit> significant_line(std::span<const AgreementPair> pairs, const Agreement& a) {
  if (pairs.size() < kPairsToCorrect) return std::nullopt;
  std::vector<double> sizes, differences;
  double sum = 0;
  for (std::size_t i = 0; i < pairs.size(); ++i) {
    sizes.push_back((pairs[i].photo_mm + pairs[i].hand_mm) / 2);
    differences.push_back(a.pairs[i].difference_mm);
    sum += sizes.back();
  }
  const double n = static_cast<double>(pairs.size());
  double squares = 0;
  for (const double size : sizes) squares += square(size - sum / n);
  if (!(std::sqrt(squares / (n - 1)) > kSpreadForSlope * a.deviation_mm)) return std::nullopt;
  const LineFit line = fit_line(sizes, differences);
  const double limit = coverage_factor(1 - kSlopeLevel, n - 2) * line.slope_uncertainty;
  if (std::abs(line.slope) > limit) return line;
  return std::nullopt;
}

/// Root mean square of the differences beyond what the pairs say of them.
double far_off(std::span<const AgreementPair> pairs, const Agreement& a) {
  double squares = 0;
  for (const PairAgreement& pair : a.pairs) squares += square(pair.difference_mm);
  return std::sqrt(
      std::max(0.0, squares / static_cast<double>(pairs.size()) - stated_variance(pairs)));
}

/// The same at one size, where the difference depends on it.
double off_at(const Agreement& a, double size_mm) {
  if (!a.by_size) return a.off_mm;
  return std::max(a.off_mm, std::hypot(a.by_size->at(size_mm), a.excess_mm));
}

bool only_less_sure(const Agreement& a) {
  return !a.corrects && a.pairs.size() >= kPairsToCorrect;
}

void say(std::span<const AgreementPair> pairs, Agreement& a) {
  const std::size_t n = pairs.size();
  a.sentences.push_back(fmt::format(
      "Against {} reading{} by hand the photos read {:+.3f} mm (standard uncertainty {:.3f} mm).",
      n, n == 1 ? "" : "s", a.bias_mm, a.bias_standard_uncertainty_mm));
  if (n > 1)
    a.sentences.push_back(
        fmt::format("A single photo is expected between {:+.3f} and {:+.3f} mm of the reading.",
                    a.limits.low, a.limits.high));
  if (a.corrects)
    a.sentences.push_back("Sizes by this camera and sheet are corrected by it.");
  else if (a.by_size)
    a.sentences.push_back(fmt::format(
        "The difference depends on the size ({:+.3f} mm a millimetre), so no one correction fits: "
        "sizes are not corrected, and their uncertainty gains what the photos were off. Look at "
        "the print scale and the camera profile.",
        a.by_size->slope));
  else if (n >= kPairsToCorrect)
    a.sentences.push_back("Sizes are not corrected by it while one pair stands apart.");
  else
    a.sentences.push_back(
        fmt::format("Sizes are not corrected by it before {} pairs are there.", kPairsToCorrect));
  if (a.corrects && a.excess_mm > 0)
    a.sentences.push_back(
        fmt::format("They scatter more than photos and readings say of themselves: {:.3f} mm is "
                    "added to each size's uncertainty.",
                    a.excess_mm));
  for (std::size_t i = 0; i < n; ++i) {
    const PairAgreement& pair = a.pairs[i];
    if (pair.outlier)
      a.sentences.push_back(
          fmt::format("{} stands apart from the rest ({:+.3f} mm): look at its edges and measure "
                      "that part again by hand.",
                      pairs[i].label, pair.difference_mm));
    else if (pair.disagrees)
      a.sentences.push_back(
          fmt::format("{}: photo and reading are {:+.3f} mm apart, more than both uncertainties "
                      "explain.",
                      pairs[i].label, pair.difference_mm));
  }
}

}  // namespace

std::optional<Agreement> agreement_of(std::span<const AgreementPair> pairs) {
  if (pairs.empty() || !std::all_of(pairs.begin(), pairs.end(), usable)) return std::nullopt;
  Agreement a;
  const double n = static_cast<double>(pairs.size());
  double hand_variance = 0;
  for (const AgreementPair& pair : pairs) {
    a.pairs.push_back(agreement_of_pair(pair));
    a.bias_mm += a.pairs.back().difference_mm / n;
    hand_variance += std::pow(pair.hand_standard_uncertainty_mm, 2) / n;
  }
  a.degrees_of_freedom = n - 1;
  if (pairs.size() > 1) {
    double squares = 0;
    for (const PairAgreement& pair : a.pairs)
      squares += std::pow(pair.difference_mm - a.bias_mm, 2);
    a.deviation_mm = std::sqrt(squares / (n - 1));
    const double t = coverage_factor(0.95, n - 1);
    a.bias_95 = about(a.bias_mm, t * a.deviation_mm / std::sqrt(n));
    a.limits = about(a.bias_mm, 2 * a.deviation_mm);
    const double limit_half = t * a.deviation_mm * std::sqrt(3 / n);
    a.low_limit_95 = about(a.limits.low, limit_half);
    a.high_limit_95 = about(a.limits.high, limit_half);
  } else {
    a.bias_95 = a.limits = a.low_limit_95 = a.high_limit_95 = about(a.bias_mm, 0);
  }
  // With one pair the pair's own uncertainty is all that is known of the scatter.
  const double scatter = pairs.size() > 1 ? a.deviation_mm / std::sqrt(n)
                                          : pairs.front().photo_standard_uncertainty_mm;
  a.bias_standard_uncertainty_mm = std::sqrt(scatter * scatter + hand_variance);
  if (pairs.size() > 2 && a.deviation_mm > 0) {
    const double limit = grubbs_limit(pairs.size());
    for (PairAgreement& pair : a.pairs)
      pair.outlier = std::abs(pair.difference_mm - a.bias_mm) > limit * a.deviation_mm;
  }
  const bool apart = std::any_of(a.pairs.begin(), a.pairs.end(),
                                 [](const PairAgreement& pair) { return pair.outlier; });
  for (std::size_t i = 0; i < pairs.size(); ++i)
    if (a.pairs[i].outlier) a.stands_apart = pairs[i].label;
  if (pairs.size() > 1)
    a.excess_mm = std::sqrt(std::max(0.0, square(a.deviation_mm) - stated_variance(pairs)));
  if (!apart) a.by_size = significant_line(pairs, a);
  a.off_mm = far_off(pairs, a);
  a.corrects = pairs.size() >= kPairsToCorrect && !apart && !a.by_size;
  say(pairs, a);
  return a;
}

Quantity corrected_by(const Quantity& photo, const Agreement& agreement) {
  const bool less_sure = only_less_sure(agreement);
  if (!agreement.corrects && !less_sure) return photo;
  const double u = less_sure
                       ? off_at(agreement, photo.value_mm)
                       : std::hypot(agreement.bias_standard_uncertainty_mm, agreement.excess_mm);
  if (less_sure && u == 0) return photo;
  const BudgetLine line{less_sure ? "how far photos were off from readings by hand"
                                  : "bias and scatter against readings by hand",
                        u, agreement.degrees_of_freedom, "More parts measured both ways."};
  const BudgetLine own{"the photo's own budget", photo.standard_uncertainty_mm,
                       photo.degrees_of_freedom, ""};
  const double value_mm = photo.value_mm - (less_sure ? 0 : agreement.bias_mm);
  Quantity corrected = combine_independent(value_mm, {own, line});
  // Where the photo's own budget has proved too small, its degrees of freedom prop up nothing.
  if (less_sure || agreement.excess_mm > 0)
    corrected.degrees_of_freedom =
        std::min(corrected.degrees_of_freedom, agreement.degrees_of_freedom);
  if (photo.budget.empty()) return corrected;
  std::vector<BudgetLine> lines = photo.budget;
  lines.push_back(line);
  corrected.budget = combine_independent(value_mm, std::move(lines)).budget;
  return corrected;
}

std::string correction_sentence(const Agreement& agreement) {
  if (agreement.corrects)
    return fmt::format(
        "Corrected by {:+.3f} mm: against {} readings by hand, photos by this camera and sheet "
        "read {:+.3f} mm with a standard uncertainty of {:.3f} mm.",
        -agreement.bias_mm, agreement.pairs.size(), agreement.bias_mm,
        agreement.bias_standard_uncertainty_mm);
  if (agreement.by_size)
    return fmt::format(
        "Not corrected: against {} readings by hand, how far photos by this camera and sheet are "
        "off depends on the size. The uncertainty holds what they were off.",
        agreement.pairs.size());
  if (only_less_sure(agreement) && agreement.off_mm > 0)
    return fmt::format(
        "Not corrected while one of {} pairs of photo and reading by hand stands apart ({}). Until "
        "that is put right the uncertainty holds what they were off.",
        agreement.pairs.size(), agreement.stands_apart);
  return {};
}

}  // namespace scantling
