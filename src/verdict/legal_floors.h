#pragma once

#include <span>
#include <string>
#include <string_view>

namespace scantling {

/// A thickness that a published rule names. It is a floor for the law's purpose, never a maker's
/// minimum and never used in a verdict: a part above it may be worn out by its maker's figure.
struct LegalFloor {
  std::string_view where;       ///< country or area
  std::string_view applies_to;  ///< vehicles and parts
  double floor_mm = 0;
  std::string_view as_printed;      ///< with the rule's own unit beside it
  bool floor_itself_fails = false;  ///< "1.6 mm or less" against "below 1.5 mm"
  std::string_view source;
  std::string_view clause;
};

/// Floors for friction material of disc brakes.
std::span<const LegalFloor> legal_floors();

bool fails(const LegalFloor& floor, double size_mm);

/// A published rule without a figure of its own, worth knowing beside the floors.
struct LegalNote {
  std::string_view where;
  std::string_view text;
  std::string_view source;
};

std::span<const LegalNote> legal_notes();

/// The sentence that stands over every list of floors.
std::string_view legal_floors_heading();

}  // namespace scantling
