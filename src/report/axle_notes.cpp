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
bool worth_telling(const UnevenWear& wear) {
  const bool whole_parts =
      wear.kind == UnevenKind::inner_against_outer || wear.kind == UnevenKind::left_against_right;
  return !(whole_parts && wear.part == AxlePartKind::pad) || wear.severity == Severity::warn;
}

}  // namespace

std::vector<std::string> axle_notes(std::span<const PartSummary> parts, Axle axle) {
  std::vector<AxlePart> set;
  for (const PartSummary& part : parts) set.push_back(axle_part_of(part));
  const AxleVerdict verdict = judge_axle(set);
  std::vector<std::string> notes;
  if (verdict.action == AxleAction::replace_discs_and_pads)
    notes.push_back(fmt::format(
        "Discs are changed in pairs: both discs of the {}, with new pads on both sides.",
        axle_title(axle)));
  else if (verdict.action == AxleAction::replace_pads)
    notes.push_back(fmt::format("Pads are changed as a set: all pads of the {}, left and right.",
                                axle_title(axle)));
  for (const UnevenWear& wear : verdict.uneven)
    if (worth_telling(wear))
      notes.push_back(fmt::format("{} Look for: {}. {}", wear.sentence,
                                  fmt::join(wear.look_for, "; "), fmt::join(wear.cautions, " ")));
  return notes;
}

}  // namespace scantling
