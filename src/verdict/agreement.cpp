#include "verdict/agreement.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "uncertainty/coverage.h"

namespace scantling {

namespace {

constexpr double kOutlierLevel = 0.01;

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
  else if (n >= kPairsToCorrect)
    a.sentences.push_back("Sizes are not corrected by it while one pair stands apart.");
  else
    a.sentences.push_back(
        fmt::format("Sizes are not corrected by it before {} pairs are there.", kPairsToCorrect));
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
  a.corrects = pairs.size() >= kPairsToCorrect && !apart;
  say(pairs, a);
  return a;
}

Quantity corrected_by(const Quantity& photo, const Agreement& agreement) {
  if (!agreement.corrects) return photo;
  std::vector<BudgetLine> lines = photo.budget;
  if (lines.empty())
    lines.push_back(
        {"the photo's own budget", photo.standard_uncertainty_mm, photo.degrees_of_freedom, ""});
  lines.push_back({"bias against readings by hand", agreement.bias_standard_uncertainty_mm,
                   agreement.degrees_of_freedom, "More parts measured both ways."});
  return combine_independent(photo.value_mm - agreement.bias_mm, std::move(lines));
}

std::string correction_sentence(const Agreement& agreement) {
  if (!agreement.corrects) return {};
  return fmt::format(
      "Corrected by {:+.3f} mm: against {} readings by hand, photos by this camera and sheet read "
      "{:+.3f} mm with a standard uncertainty of {:.3f} mm.",
      -agreement.bias_mm, agreement.pairs.size(), agreement.bias_mm,
      agreement.bias_standard_uncertainty_mm);
}

}  // namespace scantling
