#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/check.h"
#include "uncertainty/quantity.h"
#include "verdict/verdict.h"

namespace scantling {

enum class AxlePartKind { disc, pad };
enum class CarSide { left, right };
enum class PadPosition { inner, outer };

/// One of an axle's two discs or four pads, with what is known about it.
struct AxlePart {
  AxlePartKind kind = AxlePartKind::pad;
  CarSide side = CarSide::left;
  PadPosition position = PadPosition::inner;  ///< pads only
  std::optional<VerdictState> state = {};     ///< its own verdict; none without a minimum
  /// Friction material of a pad, worn thickness of a disc. Never a disc's thickness over its lips.
  std::optional<Quantity> size = {};
  /// The part of `size`'s standard uncertainty that is one error for every part with the same
  /// `shared_with`, such as one sheet's print scale: it cancels in a difference of like sizes.
  double shared_standard_uncertainty_mm = 0;
  std::string shared_with = {};        ///< empty: nothing is shared
  std::optional<Quantity> taper = {};  ///< pads: one end less the other, along the disc's turn
  std::optional<Quantity> taper_across = {};  ///< pads: outer rim side less hub side
  std::optional<Quantity> outboard_lip = {};  ///< discs: lip height of each friction face
  std::optional<Quantity> inboard_lip = {};
};

enum class AxleAction { none, replace_pads, replace_discs_and_pads };

enum class UnevenKind { inner_against_outer, left_against_right, taper, taper_across, lips };

/// A difference that the measurements' uncertainty does not explain.
struct UnevenWear {
  UnevenKind kind = UnevenKind::taper;
  AxlePartKind part = AxlePartKind::pad;
  Severity severity = Severity::info;
  std::string sentence;  ///< what differs, by how much, against which uncertainty
  double difference_mm = 0;
  double limit_mm = 0;                     ///< differences up to here are noise
  std::vector<std::string> look_for = {};  ///< usual causes, by common practice
  std::vector<std::string> cautions = {};  ///< what to mind while looking, and what it may not mean
};

struct AxleVerdict {
  AxleAction action = AxleAction::none;
  /// The axle as a whole is only as good as its worst part, and no better than "gauge it" while one
  /// of its six parts has no verdict; none where no part has one.
  std::optional<VerdictState> state;
  /// What each part's verdict becomes in its set, in the order given.
  std::vector<std::optional<VerdictState>> part_states;
  std::vector<std::string> because;
  std::vector<UnevenWear> uneven;
  std::vector<Check> checks;
};

/// Judges an axle's parts as a set (common practice): a disc replaced means both discs and all
/// pads, a pad replaced means all pads of the axle. Uneven wear is told only where a difference
/// exceeds its joint uncertainty at a level shared among all the comparisons made (Bonferroni), so
/// that an even axle raises an alarm at most once in twenty. Differences of pads from 2 mm on are
/// warnings (common practice names 2 to 3 mm); there is no common limit for taper or for left
/// against right, and none is made up here.
AxleVerdict judge_axle(std::span<const AxlePart> parts);

/// "left inner pad", "right disc".
std::string part_name(const AxlePart& part);

}  // namespace scantling
