#include "verdict/verdict.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "uncertainty/coverage.h"
#include "verdict/size_text.h"

namespace scantling {

namespace {

Quantity as_quantity(const HandReading& reading) {
  return {reading.value_mm, reading.standard_uncertainty_mm, kUnlimitedDegreesOfFreedom, {}};
}

VerdictState state_of(double probability) {
  if (probability <= kKeepAtMost) return VerdictState::keep;
  return probability >= kReplaceAtLeast ? VerdictState::replace : VerdictState::gauge_it;
}

std::string with_uncertainty(const Quantity& size, double minimum_mm) {
  return fmt::format("{} (give or take {})", size_text(size.value_mm, minimum_mm),
                     size_text(size.expanded_95_mm()));
}

std::string chance_sentence(double probability) {
  return fmt::format("The chance that it is really below the minimum is {}.",
                     chance_text(probability));
}

const char* name_of(const HandReading& reading) {
  return reading.instrument.empty() ? "hand" : reading.instrument.c_str();
}

/// The smallest of the readings and the one with the largest chance of being below the minimum;
/// they differ where a coarse reading stands beside a fine one.
struct Governing {
  const HandReading* smallest = nullptr;
  const HandReading* worst = nullptr;
  double worst_probability = -1;
};

Governing governing_of(std::span<const HandReading> readings, double minimum_mm) {
  Governing governing;
  for (const HandReading& reading : readings) {
    const double p = probability_below(as_quantity(reading), minimum_mm);
    if (std::isnan(p)) continue;
    if (!governing.smallest || reading.value_mm < governing.smallest->value_mm)
      governing.smallest = &reading;
    if (p > governing.worst_probability) {
      governing.worst = &reading;
      governing.worst_probability = p;
    }
  }
  return governing;
}

void judge_by_hand(const Governing& governing, double minimum_mm, Verdict& verdict) {
  const HandReading& smallest = *governing.smallest;
  const std::string minimum = size_text(minimum_mm, smallest.value_mm);
  const std::string size = size_text(smallest.value_mm, minimum_mm);
  verdict.probability_below = governing.worst_probability;
  if (smallest.value_mm < minimum_mm) {
    verdict.state = VerdictState::replace;
    verdict.because.push_back(
        fmt::format("The smallest {} reading, {}, is below the minimum of {}.", name_of(smallest),
                    size, minimum));
  } else if (governing.worst_probability <= kKeepAtMost) {
    verdict.state = VerdictState::keep;
    verdict.because.push_back(
        fmt::format("The smallest {} reading, {}, is clear of the minimum of {} by more than its "
                    "own uncertainty.",
                    name_of(smallest), size, minimum));
  } else {
    const HandReading& worst = *governing.worst;
    verdict.state = VerdictState::gauge_it;
    verdict.because.push_back("At the limit: repeat with a finer instrument, or replace.");
    verdict.because.push_back(fmt::format(
        "The {} reading of {} is too near the minimum of {} for its uncertainty.", name_of(worst),
        with_uncertainty(as_quantity(worst), minimum_mm), size_text(minimum_mm, worst.value_mm)));
    if (governing.worst != governing.smallest)
      verdict.because.push_back(
          "If a finer reading of the same place replaces it, take the coarse one out.");
  }
  verdict.because.push_back(chance_sentence(governing.worst_probability));
}

void judge_by_photo(const Quantity& photo, double minimum_mm, Verdict& verdict) {
  const double p = probability_below(photo, minimum_mm);
  const std::string size = with_uncertainty(photo, minimum_mm);
  const std::string minimum = size_text(minimum_mm, photo.value_mm);
  verdict.probability_below = p;
  verdict.state = state_of(p);
  if (verdict.state == VerdictState::keep)
    verdict.because.push_back(fmt::format("{} is clear of the minimum of {}.", size, minimum));
  else if (verdict.state == VerdictState::replace)
    verdict.because.push_back(fmt::format("{} is below the minimum of {}.", size, minimum));
  else
    verdict.because.push_back(
        fmt::format("{} is too near the minimum of {} for the photo to decide: gauge it with a "
                    "micrometer or a calliper and enter the reading.",
                    size, minimum));
  verdict.because.push_back(chance_sentence(p));
}

/// A photo and an instrument that cannot both be right; the two are never averaged.
void compare(const Quantity& photo, const HandReading& reading, std::vector<Check>& checks) {
  const Quantity hand = as_quantity(reading);
  const double joint_95 =
      combine_independent(0,
                          {{"photo", photo.standard_uncertainty_mm, photo.degrees_of_freedom, ""},
                           {"hand", hand.standard_uncertainty_mm, hand.degrees_of_freedom, ""}})
          .expanded_95_mm();
  const double apart = std::abs(photo.value_mm - hand.value_mm);
  if (apart <= joint_95) return;
  checks.push_back(
      {"photo_and_hand_disagree", Severity::warn,
       fmt::format("Photo ({}) and {} reading ({}) are {} apart, more than both uncertainties "
                   "explain ({}): measure again at the same place, inside the lip, and look at the "
                   "photo's edges.",
                   size_text(photo.value_mm, hand.value_mm), name_of(reading),
                   size_text(hand.value_mm, photo.value_mm), size_text(apart, joint_95),
                   size_text(joint_95, apart))});
}

/// No maker's or legal minimum known to us is less than 1/32 in (49 CFR 570.59(c), printed as 0.79
/// mm); minimums of pads in inches, such as .079 in for 2 mm, are.
constexpr double kLeastMinimum_mm = 0.79;
/// A size in millimetres over a minimum in inches is 25 times as large or so; a new pad's over its
/// own minimum hardly ever 12 times.
constexpr double kLargestRatio = 12;

bool units_doubtful(double size_mm, double minimum_mm) {
  return minimum_mm < kLeastMinimum_mm || size_mm > kLargestRatio * minimum_mm;
}

/// Takes "keep" back where the minimum was probably typed in inches; what condemns a part stands.
void doubt_units(double minimum_mm, Verdict& verdict) {
  verdict.checks.push_back(
      {"units_doubtful", Severity::warn,
       fmt::format("The minimum of {:.4g} mm is very small for this part: check that it is in "
                   "millimetres. In inches it would be {:.2f} mm.",
                   minimum_mm, minimum_mm * 25.4)});
  if (verdict.state != VerdictState::keep) return;
  verdict.state = VerdictState::gauge_it;
  verdict.because.insert(
      verdict.because.begin(),
      fmt::format("The minimum of {:.4g} mm may be meant in inches, so it clears no part: look it "
                  "up again and enter it in millimetres. If it really is that small, gauge the "
                  "part and decide by the maker's own words.",
                  minimum_mm));
}

}  // namespace

const char* verdict_word(VerdictState state) {
  switch (state) {
    case VerdictState::keep:
      return "keep";
    case VerdictState::keep_due_soon:
      return "keep, due soon";
    case VerdictState::replace:
      return "replace";
    case VerdictState::gauge_it:
      break;
  }
  return "gauge it";
}

std::string verdict_rule() {
  return fmt::format(
      "rule 2: keep at most {} chance below the minimum at every place and by every photo alone, "
      "replace at least {} or a hand reading below it, else gauge it; Student t, JCGM 106:2012 "
      "clause 7",
      kKeepAtMost, kReplaceAtLeast);
}

double probability_below(const Quantity& size, double limit_mm) {
  const double u = size.standard_uncertainty_mm;
  const bool usable = std::isfinite(size.value_mm) && size.value_mm >= 0 && std::isfinite(u) &&
                      u >= 0 && std::isfinite(limit_mm) && limit_mm >= 0 &&
                      size.degrees_of_freedom > 0;
  if (!usable) return std::numeric_limits<double>::quiet_NaN();
  if (size.value_mm == limit_mm) return 0.5;
  if (u == 0) return size.value_mm < limit_mm ? 1 : 0;
  return t_probability_below((limit_mm - size.value_mm) / u, size.degrees_of_freedom);
}

std::optional<Verdict> judge(const std::optional<Quantity>& photo,
                             std::span<const HandReading> hand_readings,
                             std::optional<double> minimum_mm,
                             bool reaches_minimum_before_next_check) {
  if (!minimum_mm) return std::nullopt;
  Verdict verdict;
  if (!std::isfinite(*minimum_mm) || *minimum_mm <= 0) {
    verdict.checks.push_back({"minimum_unusable", Severity::stop,
                              "The minimum must be a size above 0 mm: enter the figure that the "
                              "maker gives, often stamped on the part."});
    verdict.because.push_back("Without a usable minimum nothing can be judged.");
    return verdict;
  }
  const bool photo_usable = photo && !std::isnan(probability_below(*photo, *minimum_mm));
  if (photo && !photo_usable)
    verdict.checks.push_back({"size_unusable", Severity::stop,
                              "The size and its uncertainty must be finite and not negative: "
                              "measure the part again."});
  const auto unusable_reading = [&](const HandReading& reading) {
    return std::isnan(probability_below(as_quantity(reading), *minimum_mm));
  };
  const bool reading_unusable =
      std::any_of(hand_readings.begin(), hand_readings.end(), unusable_reading);
  if (reading_unusable)
    verdict.checks.push_back({"hand_reading_unusable", Severity::stop,
                              "A hand reading or its uncertainty is not a size: correct it or take "
                              "it out."});

  const Governing governing = governing_of(hand_readings, *minimum_mm);
  if (governing.smallest) {
    judge_by_hand(governing, *minimum_mm, verdict);
    if (photo_usable) compare(*photo, *governing.smallest, verdict.checks);
  } else if (photo_usable) {
    judge_by_photo(*photo, *minimum_mm, verdict);
  } else {
    verdict.because.push_back(
        "No usable photo and no hand reading: gauge it with a micrometer or a calliper.");
  }
  // Rubbish beside a good size may be the thin place mistyped: it must not be lost in a keep.
  if (any_stop(verdict.checks) && verdict.state == VerdictState::keep) {
    verdict.state = VerdictState::gauge_it;
    verdict.because.insert(verdict.because.begin(),
                           "One of the entries cannot be used: put it right first.");
  }
  const std::optional<double> size_mm = governing.smallest
                                            ? std::optional(governing.smallest->value_mm)
                                        : photo_usable ? std::optional(photo->value_mm)
                                                       : std::nullopt;
  if (size_mm && units_doubtful(*size_mm, *minimum_mm)) doubt_units(*minimum_mm, verdict);
  if (verdict.state == VerdictState::keep && reaches_minimum_before_next_check) {
    verdict.state = VerdictState::keep_due_soon;
    verdict.because.push_back(
        "At the wear seen so far it reaches the minimum before the next planned check.");
  }
  return verdict;
}

}  // namespace scantling
