#include "report/axle_notes.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/wording.h"

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

/// By how much `a` is thinner than `b`, where that is uneven and certain.
std::optional<double> thinner_by(const PartSummary& a, const PartSummary& b) {
  const auto size_a = size_of(a), size_b = size_of(b);
  if (!size_a || !size_b) return std::nullopt;
  const double difference = size_b->value_mm - size_a->value_mm;
  const double joint_95 = std::hypot(size_a->expanded_95_mm(), size_b->expanded_95_mm());
  if (!(difference >= kUneven_mm && difference > joint_95)) return std::nullopt;
  return difference;
}

bool to_replace(const PartSummary& part) {
  return part.verdict && part.verdict->state == VerdictState::replace;
}

void note_pairs(std::span<const PartSummary> parts, Axle axle, std::vector<std::string>& notes) {
  for (const PartSummary& a : parts)
    for (const PartSummary& b : parts) {
      if (a.part.kind != PartKind::pad || b.part.kind != PartKind::pad) continue;
      const auto difference = thinner_by(a, b);
      if (!difference) continue;
      if (a.part.side == b.part.side && a.part.place != b.part.place)
        notes.push_back(fmt::format(
            "{} is {:.1f} mm thinner than its partner. Look at the guide pins and their bushes{}.",
            part_title(a.part, axle), *difference,
            a.part.place == PadPlace::inner
                ? ", the pad's slides, and the piston and its seal"
                : " and the pad's slides: a pad that drags after release wears on"));
      if (a.part.side != b.part.side && a.part.place == b.part.place)
        notes.push_back(
            fmt::format("{} is {:.1f} mm thinner than the same pad on the other side. Look for a "
                        "sticking calliper or hose, and for oil or brake fluid on the pads.",
                        part_title(a.part, axle), *difference));
    }
}

void note_tapers(std::span<const PartSummary> parts, Axle axle, std::vector<std::string>& notes) {
  for (const PartSummary& part : parts) {
    if (!part.governing_photo) continue;
    const Measurement& measurement = part.photos[*part.governing_photo].newest->measurement;
    const Dimension* taper = measurement.dimension("friction_taper");
    if (!taper) continue;
    const double size = std::abs(taper->quantity.value_mm);
    if (size >= kUneven_mm && size > taper->quantity.expanded_95_mm())
      notes.push_back(
          fmt::format("{} is worn to a taper of {:.1f} mm. Look for worn guide-pin bushes, one "
                      "pin or slide seized, or a pad fitted the wrong way.",
                      part_title(part.part, axle), size));
  }
}

}  // namespace

std::vector<std::string> axle_notes(std::span<const PartSummary> parts, Axle axle) {
  std::vector<std::string> notes;
  const auto any = [&](PartKind kind) {
    return std::any_of(parts.begin(), parts.end(),
                       [&](const PartSummary& p) { return p.part.kind == kind && to_replace(p); });
  };
  if (any(PartKind::disc))
    notes.push_back(fmt::format(
        "Discs are changed in pairs: both discs of the {}, with new pads on both sides.",
        axle_title(axle)));
  else if (any(PartKind::pad))
    notes.push_back(fmt::format("Pads are changed as a set: all pads of the {}, left and right.",
                                axle_title(axle)));
  note_pairs(parts, axle, notes);
  note_tapers(parts, axle, notes);
  return notes;
}

}  // namespace scantling
