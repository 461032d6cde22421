#include "verdict/uneven_wear.h"

#include <fmt/format.h>

#include <cmath>

#include "uncertainty/coverage.h"
#include "verdict/size_text.h"

namespace scantling {

namespace {

// Common practice (one trade text): a pair of pads wears evenly while within 2 to 3 mm.
constexpr double kPadWarning_mm = 2.0;
constexpr double kFalseAlarmsPerAxle = 0.05;

using Causes = std::vector<std::string>;

/// Usual causes in own words, after trade texts (common practice).
Causes causes_inner_thinner() {
  return {"guide pins or bushes seized (sliding calliper)", "pad stuck in its slide",
          "piston or its seal worn, corroded or not drawing back",
          "pressure that stays on after the pedal is released"};
}
Causes causes_outer_thinner() {
  return {"outer pad drags after release: guide pins or bushes seized", "pad stuck in its slide"};
}
Causes causes_taper() {
  return {"worn guide-pin bushes", "one pin or slide seized", "pad wrongly fitted",
          "fixed calliper: one piston sticking"};
}
Causes causes_left_right() {
  return {"one calliper sticking", "one hose restricted", "oil, grease or brake fluid on one side"};
}
Causes causes_lips() {
  return {
      "the pad on the deeper worn face does more work: look at the calliper's pins, slides and "
      "piston"};
}

bool usable(const std::optional<Quantity>& size) {
  return size && std::isfinite(size->value_mm) && std::isfinite(size->standard_uncertainty_mm) &&
         size->standard_uncertainty_mm >= 0 && size->degrees_of_freedom > 0;
}

/// Two sizes that should be alike; a taper is set against none.
struct Comparison {
  UnevenKind kind = UnevenKind::taper;
  AxlePartKind part = AxlePartKind::pad;
  Quantity a;
  Quantity b;
  std::string thinner_a;  ///< how to say that a is the smaller one
  std::string thinner_b;
  Causes causes_a;
  Causes causes_b;
};

const AxlePart* find(std::span<const AxlePart> parts, const AxlePart& wanted) {
  for (const AxlePart& part : parts)
    if (part_name(part) == part_name(wanted)) return &part;
  return nullptr;
}

void compare_pair(std::span<const AxlePart> parts, UnevenKind kind, const AxlePart& first,
                  const AxlePart& second, const Causes& first_thinner, const Causes& second_thinner,
                  std::vector<Comparison>& comparisons) {
  const AxlePart* a = find(parts, first);
  const AxlePart* b = find(parts, second);
  if (!a || !b || !usable(a->size) || !usable(b->size)) return;
  comparisons.push_back({kind, first.kind, *a->size, *b->size,
                         fmt::format("The {} is thinner than the {}", part_name(*a), part_name(*b)),
                         fmt::format("The {} is thinner than the {}", part_name(*b), part_name(*a)),
                         first_thinner, second_thinner});
}

std::vector<Comparison> comparisons_of(std::span<const AxlePart> parts) {
  std::vector<Comparison> list;
  const auto pad = [](CarSide side, PadPosition position) {
    return AxlePart{AxlePartKind::pad, side, position};
  };
  for (const CarSide side : {CarSide::left, CarSide::right})
    compare_pair(parts, UnevenKind::inner_against_outer, pad(side, PadPosition::inner),
                 pad(side, PadPosition::outer), causes_inner_thinner(), causes_outer_thinner(),
                 list);
  for (const PadPosition position : {PadPosition::inner, PadPosition::outer})
    compare_pair(parts, UnevenKind::left_against_right, pad(CarSide::left, position),
                 pad(CarSide::right, position), causes_left_right(), causes_left_right(), list);
  compare_pair(parts, UnevenKind::left_against_right, {AxlePartKind::disc, CarSide::left},
               {AxlePartKind::disc, CarSide::right}, causes_left_right(), causes_left_right(),
               list);
  for (const AxlePart& part : parts) {
    if (part.kind == AxlePartKind::pad && usable(part.taper)) {
      const std::string sentence = fmt::format("The {} is tapered", part_name(part));
      list.push_back({UnevenKind::taper, part.kind, *part.taper, Quantity{}, sentence, sentence,
                      causes_taper(), causes_taper()});
    }
    if (part.kind == AxlePartKind::disc && usable(part.outboard_lip) && usable(part.inboard_lip))
      list.push_back({UnevenKind::lips, part.kind, *part.outboard_lip, *part.inboard_lip,
                      fmt::format("The {} is worn deeper on its inboard face", part_name(part)),
                      fmt::format("The {} is worn deeper on its outboard face", part_name(part)),
                      causes_lips(), causes_lips()});
  }
  return list;
}

}  // namespace

std::vector<UnevenWear> uneven_wear(std::span<const AxlePart> parts) {
  const std::vector<Comparison> comparisons = comparisons_of(parts);
  std::vector<UnevenWear> found;
  for (const Comparison& c : comparisons) {
    const Quantity joint =
        combine_independent(c.a.value_mm - c.b.value_mm,
                            {{"a", c.a.standard_uncertainty_mm, c.a.degrees_of_freedom, ""},
                             {"b", c.b.standard_uncertainty_mm, c.b.degrees_of_freedom, ""}});
    const double coverage = 1 - kFalseAlarmsPerAxle / static_cast<double>(comparisons.size());
    const double limit =
        coverage_factor(coverage, joint.degrees_of_freedom) * joint.standard_uncertainty_mm;
    const double difference = std::abs(joint.value_mm);
    if (!(difference > limit)) continue;
    const bool a_smaller = joint.value_mm < 0;
    UnevenWear wear;
    wear.kind = c.kind;
    wear.severity = c.part == AxlePartKind::pad && difference >= kPadWarning_mm ? Severity::warn
                                                                                : Severity::info;
    wear.sentence = fmt::format("{} by {}; up to {} the measurements would explain.",
                                a_smaller ? c.thinner_a : c.thinner_b, size_text(difference, limit),
                                size_text(limit, difference));
    wear.difference_mm = difference;
    wear.limit_mm = limit;
    wear.look_for = a_smaller ? c.causes_a : c.causes_b;
    found.push_back(std::move(wear));
  }
  return found;
}

}  // namespace scantling
