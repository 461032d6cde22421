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
  /// From kPairsToCorrect pairs on, while none of them stands apart from the rest.
  bool corrects = false;
  std::vector<std::string> sentences;  ///< for the user: bias, limits, outliers by name
};

inline constexpr std::size_t kPairsToCorrect = 5;

/// Bias and limits of agreement after Bland and Altman (Lancet 1986; i: 307-310), with the 95 %
/// intervals that they give: deviation / sqrt(n) for the bias, sqrt(3 / n) deviations for a limit,
/// t with n - 1 degrees of freedom. Normalised error as in ISO 13528 and ISO/IEC 17043. Nothing
/// where there is no pair, or one with numbers that are none.
std::optional<Agreement> agreement_of(std::span<const AgreementPair> pairs);

/// A photo's size less the bias, with a line for the bias in its budget; as it was where the record
/// does not correct yet.
Quantity corrected_by(const Quantity& photo, const Agreement& agreement);

/// "Corrected by -0.04 mm: against 7 readings by hand, ..."; empty where nothing is corrected.
std::string correction_sentence(const Agreement& agreement);

}  // namespace scantling
