#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/check.h"
#include "uncertainty/quantity.h"
#include "uncertainty/regression.h"

namespace scantling {

/// One part measured twice: by photo, and by hand at the same place.
struct AgreementPair {
  std::string label;  ///< how to name it to the user: "21 November 2026, front left inner pad"
  double photo_mm = 0;
  double photo_standard_uncertainty_mm = 0;
  double hand_mm = 0;
  double hand_standard_uncertainty_mm = 0;
};

/// What one pair says.
struct PairAgreement {
  double difference_mm = 0;     ///< photo less hand
  double normalised_error = 0;  ///< difference over both expanded uncertainties (k = 2) together
  bool disagrees = false;       ///< |normalised error| above 1
  bool outlier = false;         ///< far from the other differences (Grubbs, 1 %)
};

/// How a camera with a sheet agrees with hand instruments.
struct Agreement {
  std::vector<PairAgreement> pairs;
  double bias_mm = 0;       ///< mean of the differences
  double deviation_mm = 0;  ///< of single differences, n - 1; 0 for one pair
  /// Of the bias: the mean's own scatter, and the hand instrument's error, which all pairs share
  /// and no number of them averages away.
  double bias_standard_uncertainty_mm = 0;
  double degrees_of_freedom = 0;  ///< n - 1
  Interval bias_95;               ///< from the scatter alone
  Interval limits;                ///< bias +- 2 deviations: where single differences lie
  Interval low_limit_95;          ///< the limits' own 95 % intervals
  Interval high_limit_95;
  /// How much more single photos scatter about the bias than photo and reading say of themselves:
  /// sqrt(s^2 - mean(u_photo^2 + u_hand^2)), 0 where they scatter less.
  double excess_mm = 0;
  /// The differences on the means of both (Bland and Altman's plot) as a line, where its slope is
  /// significant at 5 % (t, n - 2 degrees of freedom); only from kPairsToCorrect pairs on whose
  /// sizes spread far enough to tell.
  std::optional<LineFit> by_size;
  /// How far uncorrected photos are off beyond what they and the readings say of themselves: root
  /// mean square over all pairs.
  double off_mm = 0;
  std::string stands_apart;  ///< the label of a pair that does; empty where none does
  /// From kPairsToCorrect pairs on, while none of them stands apart from the rest and the
  /// difference does not depend on the size. Pairs beyond their uncertainties (|E_n| > 1) alone do
  /// not stand against it: the bias taken off is itself what moves them there, and what scatter is
  /// left is in `excess_mm`.
  bool corrects = false;
  std::vector<std::string> sentences;  ///< for the user: bias, limits, outliers by name
};

inline constexpr std::size_t kPairsToCorrect = 5;

/// Bias and limits of agreement after Bland and Altman (Lancet 1986; i: 307-310), with the 95 %
/// intervals that they give: deviation / sqrt(n) for the bias, sqrt(3 / n) deviations for a limit,
/// t with n - 1 degrees of freedom. Normalised error as in ISO 13528 and ISO/IEC 17043. Nothing
/// where there is no pair, or one with numbers that are none.
std::optional<Agreement> agreement_of(std::span<const AgreementPair> pairs);

/// A photo's size less the bias. Its budget gains one line with n - 1 degrees of freedom for the
/// bias's uncertainty and the scatter that the photo's own budget does not explain (one, since both
/// come from the same scatter); where there is such scatter the size has no more of them either.
/// Where kPairsToCorrect pairs are there but may not correct (one stands apart, or the difference
/// depends on the size), nothing is taken off and the line holds what photos were off beyond their
/// budgets. With fewer pairs the size as it was.
Quantity corrected_by(const Quantity& photo, const Agreement& agreement);

/// "Corrected by -0.04 mm: against 7 readings by hand, ...", or why not where the size was made
/// less sure instead; empty where nothing was changed.
std::string correction_sentence(const Agreement& agreement);

}  // namespace scantling
