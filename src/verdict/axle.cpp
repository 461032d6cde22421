#include "verdict/axle.h"

#include <algorithm>
#include <array>

#include "verdict/uneven_wear.h"

namespace scantling {

namespace {

bool is(const AxlePart& part, AxlePartKind kind) {
  return part.kind == kind;
}

bool any_replaced(std::span<const AxlePart> parts, AxlePartKind kind) {
  return std::any_of(parts.begin(), parts.end(), [&](const AxlePart& part) {
    return is(part, kind) && part.state == VerdictState::replace;
  });
}

std::string names_of(std::span<const AxlePart> parts, AxlePartKind kind, VerdictState state) {
  std::string names;
  for (const AxlePart& part : parts)
    if (is(part, kind) && part.state == state)
      names += (names.empty() ? "" : ", ") + part_name(part);
  return names;
}

/// Worst first: what one part of a set says for the whole.
constexpr std::array<VerdictState, 4> kWorstFirst{VerdictState::replace, VerdictState::gauge_it,
                                                  VerdictState::keep_due_soon, VerdictState::keep};

std::optional<VerdictState> worst(const std::vector<std::optional<VerdictState>>& states) {
  for (const VerdictState state : kWorstFirst)
    if (std::find(states.begin(), states.end(), state) != states.end()) return state;
  return std::nullopt;
}

/// An axle with a part that nobody judged is not decided, however good the others are.
void check_completeness(std::span<const AxlePart> parts, AxleVerdict& verdict) {
  std::string missing;
  for (const AxlePart& wanted :
       {AxlePart{AxlePartKind::disc, CarSide::left}, AxlePart{AxlePartKind::disc, CarSide::right},
        AxlePart{AxlePartKind::pad, CarSide::left, PadPosition::inner},
        AxlePart{AxlePartKind::pad, CarSide::left, PadPosition::outer},
        AxlePart{AxlePartKind::pad, CarSide::right, PadPosition::inner},
        AxlePart{AxlePartKind::pad, CarSide::right, PadPosition::outer}}) {
    const bool judged = std::any_of(parts.begin(), parts.end(), [&](const AxlePart& part) {
      return part.state && part_name(part) == part_name(wanted);
    });
    if (!judged) missing += (missing.empty() ? "" : ", ") + part_name(wanted);
  }
  if (missing.empty()) return;
  const bool undecided =
      verdict.state == VerdictState::keep || verdict.state == VerdictState::keep_due_soon;
  if (undecided) verdict.state = VerdictState::gauge_it;
  verdict.checks.push_back(
      {"axle_incomplete", Severity::warn,
       "The axle is judged as a set, but without: " + missing +
           ". Measure these too before you rely on it." +
           (undecided ? " Until then the axle stands at gauge it, not at keep." : "")});
}

}  // namespace

std::string part_name(const AxlePart& part) {
  const std::string side = part.side == CarSide::left ? "left " : "right ";
  if (part.kind == AxlePartKind::disc) return side + "disc";
  return side + (part.position == PadPosition::inner ? "inner pad" : "outer pad");
}

AxleVerdict judge_axle(std::span<const AxlePart> parts) {
  AxleVerdict verdict;
  const bool discs = any_replaced(parts, AxlePartKind::disc);
  const bool pads = any_replaced(parts, AxlePartKind::pad);
  for (const AxlePart& part : parts) {
    const bool in_set = discs || (pads && is(part, AxlePartKind::pad));
    verdict.part_states.push_back(in_set ? VerdictState::replace : part.state);
  }
  verdict.state = worst(verdict.part_states);

  if (discs) {
    verdict.action = AxleAction::replace_discs_and_pads;
    verdict.because.push_back("Replace both discs and all pads of this axle, because of: " +
                              names_of(parts, AxlePartKind::disc, VerdictState::replace) +
                              ". Discs are changed in pairs, so that both sides brake alike, and "
                              "new discs get new pads.");
  } else if (pads) {
    verdict.action = AxleAction::replace_pads;
    verdict.because.push_back("Replace all pads of this axle as a set, because of: " +
                              names_of(parts, AxlePartKind::pad, VerdictState::replace) + ".");
    for (const VerdictState state : {VerdictState::gauge_it, VerdictState::keep_due_soon})
      if (const std::string names = names_of(parts, AxlePartKind::disc, state); !names.empty())
        verdict.because.push_back("Settle the discs before you fit new pads: " + names +
                                  " stands at " + verdict_word(state) + ".");
  }
  const std::string doubtful_pads = names_of(parts, AxlePartKind::pad, VerdictState::gauge_it);
  const std::string doubtful_discs = names_of(parts, AxlePartKind::disc, VerdictState::gauge_it);
  if (!discs && !doubtful_discs.empty())
    verdict.because.push_back("Gauge it: " + doubtful_discs + ".");
  if (!discs && !pads && !doubtful_pads.empty())
    verdict.because.push_back("Gauge it: " + doubtful_pads + ".");
  if (verdict.because.empty() && verdict.state)
    verdict.because.push_back("Every part judged may stay on.");

  check_completeness(parts, verdict);
  verdict.uneven = uneven_wear(parts);
  return verdict;
}

}  // namespace scantling
