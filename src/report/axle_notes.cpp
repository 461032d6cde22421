#include "report/axle_notes.h"

#include <fmt/format.h>

#include "report/planes_beside.h"
#include "report/summary.h"
#include "report/wording.h"
#include "verdict/axle.h"

namespace scantling {

namespace {

/// A card lying on the pad tells its slope both ways; along the pad the surer one counts.
void add_pile(const Measurement& pile, AxlePart& part) {
  const Dimension* along = pile.dimension("friction_taper");
  if (along && (!part.taper ||
                along->quantity.standard_uncertainty_mm < part.taper->standard_uncertainty_mm))
    part.taper = along->quantity;
  if (const Dimension* across = pile.dimension("friction_taper_across"))
    part.taper_across = across->quantity;
}

AxlePart axle_part_of(const PartSummary& part) {
  AxlePart result;
  result.kind = part.part.kind == PartKind::disc ? AxlePartKind::disc : AxlePartKind::pad;
  result.side = part.part.side == Side::left ? CarSide::left : CarSide::right;
  result.position = part.part.place == PadPlace::inner ? PadPosition::inner : PadPosition::outer;
  if (part.verdict) result.state = part.verdict->state;
  result.size = settled_size(part);
  const SharedError shared = shared_error(part);
  result.shared_standard_uncertainty_mm = shared.standard_uncertainty_mm;
  result.shared_with = shared.with;
  if (part.governing_photo) {
    const Measurement& measurement = part.photos[*part.governing_photo].newest->measurement;
    if (const Dimension* taper = measurement.dimension("friction_taper"))
      result.taper = taper->quantity;
  }
  if (part.part.kind == PartKind::pad && planes_settled(part))
    for (const PhotoFinding& finding : part.photos)
      if (finding.photo.view == View::pile) add_pile(finding.newest->measurement, result);
  if (part.worn) {
    if (part.worn->lip_out) result.outboard_lip = part.worn->lip_out->quantity;
    if (part.worn->lip_in) result.inboard_lip = part.worn->lip_in->quantity;
  }
  return result;
}

/// Pads of much the same thickness wear evenly, by common practice; every other difference that
/// the measurements do not explain is worth a look.
bool worth_a_look(const UnevenWear& wear) {
  const bool whole_parts =
      wear.kind == UnevenKind::inner_against_outer || wear.kind == UnevenKind::left_against_right;
  return !(whole_parts && wear.part == AxlePartKind::pad) || wear.severity == Severity::warn;
}

std::string uneven_note(const UnevenWear& wear) {
  if (!worth_a_look(wear))
    return wear.sentence + " For information: common practice looks for a cause from 2 to 3 mm on.";
  return fmt::format("{} Look for: {}. {}", wear.sentence, fmt::join(wear.look_for, "; "),
                     fmt::join(wear.cautions, " "));
}

/// Parts that are changed for the others' sake.
std::string with_the_set(const std::vector<AxlePart>& set, const AxleVerdict& verdict) {
  std::string names;
  for (std::size_t i = 0; i < set.size(); ++i)
    if (set[i].state && set[i].state != VerdictState::replace &&
        verdict.part_states[i] == VerdictState::replace)
      names += fmt::format("{}{} ({} by itself)", names.empty() ? "" : ", ", part_name(set[i]),
                           verdict_word(*set[i].state));
  return names.empty() ? names : "Changed with the set: " + names + ".";
}

}  // namespace

AxleTogether axle_together(std::span<const PartSummary> parts, Axle axle) {
  std::vector<AxlePart> set;
  for (const PartSummary& part : parts) set.push_back(axle_part_of(part));
  const AxleVerdict verdict = judge_axle(set);
  AxleTogether together{verdict.state, verdict.part_states, {}};
  std::vector<std::string>& notes = together.notes;
  if (verdict.action == AxleAction::replace_discs_and_pads)
    notes.push_back(fmt::format(
        "Discs are changed in pairs: both discs of the {}, with new pads on both sides.",
        axle_title(axle)));
  else if (verdict.action == AxleAction::replace_pads)
    notes.push_back(fmt::format("Pads are changed as a set: all pads of the {}, left and right.",
                                axle_title(axle)));
  if (std::string names = with_the_set(set, verdict); !names.empty())
    notes.push_back(std::move(names));
  // The first of its sentences says which parts are changed, as above.
  for (std::size_t i = verdict.action == AxleAction::none ? 0 : 1; i < verdict.because.size(); ++i)
    notes.push_back(verdict.because[i]);
  if (verdict.state)
    for (const Check& check : verdict.checks) notes.push_back(check.message);
  for (const UnevenWear& wear : verdict.uneven) notes.push_back(uneven_note(wear));
  return together;
}

}  // namespace scantling
