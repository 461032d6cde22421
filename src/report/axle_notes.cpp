#include "report/axle_notes.h"

#include <fmt/format.h>

#include <algorithm>

#include "report/wording.h"
#include "verdict/axle.h"

namespace scantling {

namespace {

/// The size to compare: a reading by hand before a photo.
std::optional<Quantity> size_of(const PartSummary& part) {
  const auto smallest =
      std::min_element(part.readings.begin(), part.readings.end(),
                       [](const auto& a, const auto& b) { return a.value_mm < b.value_mm; });
  if (smallest != part.readings.end())
    return Quantity{
        smallest->value_mm, smallest->standard_uncertainty_mm, kUnlimitedDegreesOfFreedom, {}};
  if (part.size) return part.size->quantity;
  return std::nullopt;
}

AxlePart axle_part_of(const PartSummary& part) {
  AxlePart result;
  result.kind = part.part.kind == PartKind::disc ? AxlePartKind::disc : AxlePartKind::pad;
  result.side = part.part.side == Side::left ? CarSide::left : CarSide::right;
  result.position = part.part.place == PadPlace::inner ? PadPosition::inner : PadPosition::outer;
  if (part.verdict) result.state = part.verdict->state;
  result.size = size_of(part);
  if (part.governing_photo) {
    const Measurement& measurement = part.photos[*part.governing_photo].newest->measurement;
    if (const Dimension* taper = measurement.dimension("friction_taper"))
      result.taper = taper->quantity;
  }
  return result;
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
    if (wear.severity == Severity::warn)
      notes.push_back(
          fmt::format("{} Look for: {}.", wear.sentence, fmt::join(wear.look_for, "; ")));
  return notes;
}

}  // namespace scantling
