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

}  // namespace scantling
