#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/check.h"
#include "uncertainty/quantity.h"

namespace scantling {

enum class VerdictState { keep, keep_due_soon, replace, gauge_it };

/// "keep", "keep, due soon", "replace", "gauge it".
const char* verdict_word(VerdictState state);

/// A size read with an instrument.
struct HandReading {
  double value_mm = 0;
  double standard_uncertainty_mm = 0;
  std::string instrument;  ///< "micrometer", "vernier calliper", ...; may be empty
  /// The part of the standard uncertainty that is this one reading's own: the step it was read to
  /// and repeatability. What is beyond it, such as the instrument's error, serves all readings of
  /// one instrument alike. Nothing: not known.
  std::optional<double> own_u_mm = {};
};

struct Verdict {
  VerdictState state = VerdictState::gauge_it;
  std::optional<double> probability_below;  ///< of the governing size; none without a size
  std::vector<std::string> because;         ///< sentences, the deciding one first
  std::vector<Check> checks;                ///< such as photo and hand reading disagreeing
};

/// The rule's two probabilities (JCGM 106:2012 clause 7 gives the probability; the limits are
/// ours).
inline constexpr double kKeepAtMost = 0.01;
inline constexpr double kReplaceAtLeast = 0.95;

/// The rule by which judge() decides, with its version, as the record keeps it
/// beside a verdict.
std::string verdict_rule();

/// Sets a size against the part's minimum (JCGM 106:2012 clause 7; rules in
/// DEVELOPERS.md). `photo`: the size from photos; leave empty where no photo
/// was usable, or where a quality gate failed or an edge of low confidence is
/// not confirmed yet. `minimum_mm` empty: no verdict can be given, so the
/// result is nothing. Hand readings outrank the photo. Any of them below the
/// minimum means replace; keep asks that each of them is clear by its own
/// uncertainty, so that a fine reading never hides a coarse, lower one. Sizes
/// or uncertainties that are no numbers, infinite or negative never lead to
/// keep. `reaches_minimum_before_next_check`: from the forecast.
std::optional<Verdict> judge(const std::optional<Quantity>& photo,
                             std::span<const HandReading> hand_readings,
                             std::optional<double> minimum_mm,
                             bool reaches_minimum_before_next_check = false);

/// Probability that the true size is below the limit: Student t with the size's degrees of
/// freedom (JCGM 106:2012 7.2-7.3; GUM G.3), normal where they are unlimited.
/// An exact size (uncertainty zero) on the limit counts as 0.5. NaN where the size, its uncertainty
/// or the limit is not finite or negative, or the degrees of freedom are not above zero.
double probability_below(const Quantity& size, double limit_mm);

}  // namespace scantling
