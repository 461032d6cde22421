#include "verdict/uneven_wear.h"

#include <fmt/format.h>

#include <algorithm>
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
Causes causes_taper_across() {
  return {"worn guide-pin bushes: the calliper tilts", "calliper bracket bent or its bolts loose",
          "fixed calliper: one piston sticking", "disc tilted on the hub, or dirt behind it"};
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

const char* kHangingCalliper = "Do not let the calliper hang on its hose while you look.";

std::vector<std::string> cautions_of(UnevenKind kind) {
  switch (kind) {
    case UnevenKind::inner_against_outer:
      return {kHangingCalliper,
              "A pad that was changed singly explains a difference too: ask what was done before."};
    case UnevenKind::left_against_right:
      return {kHangingCalliper,
              "New pads do not cure a sticking calliper: find the cause before you fit them.",
              "Parts from different makers may differ from new on."};
    case UnevenKind::taper:
    case UnevenKind::taper_across:
      return {kHangingCalliper,
              "Some pads are made with a slight taper or chamfer: compare with a new one.",
              "There is no common limit for taper: the maker's figure counts."};
    case UnevenKind::lips:
      break;
  }
  return {"Rust on an edge can look like a lip: scrape it off and look again.",
          "A lip's height is no thickness: gauge the track itself."};
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
  double shared_a_mm = 0;  ///< what both sizes have in common, fully correlated
  double shared_b_mm = 0;
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
  if (!a->shared_with.empty() && a->shared_with == b->shared_with) {
    comparisons.back().shared_a_mm = a->shared_standard_uncertainty_mm;
    comparisons.back().shared_b_mm = b->shared_standard_uncertainty_mm;
  }
}

/// What is left of an uncertainty once its shared part is taken out.
double own_part(double u_mm, double shared_mm) {
  return std::sqrt(std::max(0.0, u_mm * u_mm - shared_mm * shared_mm));
}

/// GUM 5.2.2: own parts add as squares, the shared ones, fully correlated, as their difference.
Quantity difference_of(const Comparison& c) {
  return combine_independent(
      c.a.value_mm - c.b.value_mm,
      {{"a", own_part(c.a.standard_uncertainty_mm, c.shared_a_mm), c.a.degrees_of_freedom, ""},
       {"b", own_part(c.b.standard_uncertainty_mm, c.shared_b_mm), c.b.degrees_of_freedom, ""},
       {"shared", std::abs(c.shared_a_mm - c.shared_b_mm), kUnlimitedDegreesOfFreedom, ""}});
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
      const std::string sentence =
          fmt::format("The {} is tapered along, from end to end", part_name(part));
      list.push_back({UnevenKind::taper, part.kind, *part.taper, Quantity{}, sentence, sentence,
                      causes_taper(), causes_taper()});
    }
    if (part.kind == AxlePartKind::pad && usable(part.taper_across)) {
      const std::string sentence =
          fmt::format("The {} is tapered across, from rim to hub", part_name(part));
      list.push_back({UnevenKind::taper_across, part.kind, *part.taper_across, Quantity{}, sentence,
                      sentence, causes_taper_across(), causes_taper_across()});
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
    const Quantity joint = difference_of(c);
    const double coverage = 1 - kFalseAlarmsPerAxle / static_cast<double>(comparisons.size());
    const double limit =
        coverage_factor(coverage, joint.degrees_of_freedom) * joint.standard_uncertainty_mm;
    const double difference = std::abs(joint.value_mm);
    if (!(difference > limit)) continue;
    const bool a_smaller = joint.value_mm < 0;
    UnevenWear wear;
    wear.kind = c.kind;
    wear.part = c.part;
    wear.severity = c.part == AxlePartKind::pad && difference >= kPadWarning_mm ? Severity::warn
                                                                                : Severity::info;
    wear.sentence = fmt::format("{} by {}. The measurements alone would explain up to {}.",
                                a_smaller ? c.thinner_a : c.thinner_b, size_text(difference, limit),
                                size_text(limit, difference));
    wear.difference_mm = difference;
    wear.limit_mm = limit;
    wear.look_for = a_smaller ? c.causes_a : c.causes_b;
    wear.cautions = cautions_of(c.kind);
    found.push_back(std::move(wear));
  }
  return found;
}

}  // namespace scantling
