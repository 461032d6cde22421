#pragma once

#include <span>
#include <string_view>

namespace scantling {

/// What no photo and no thickness can tell; belongs on every result and report.
std::string_view beyond_thickness();

/// A warning for help texts and reports.
struct Caution {
  std::string_view text;
  std::string_view basis;  ///< where it comes from
};

std::span<const Caution> work_cautions();

/// Where in the work one line of them is said.
enum class WorkStage {
  wheel_off,       ///< before anything is photographed
  at_the_disc,     ///< cards are laid on it
  tightening,      ///< the maker's figures
  putting_in_use,  ///< new parts
  deciding,        ///< beside a verdict that wants a hand or a new part
};
const Caution& caution_at(WorkStage stage);

}  // namespace scantling
