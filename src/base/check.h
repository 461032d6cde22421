#pragma once

#include <algorithm>
#include <span>
#include <string>

namespace scantling {

/// How much a check weighs: `stop` means that there is no result to rely on.
enum class Severity { info, warn, stop };

/// One finding about the input, as data: bad input never travels as an exception.
struct Check {
  std::string id;  ///< stable name for scripts, such as "card_missing"
  Severity severity = Severity::info;
  std::string message;  ///< one sentence for the user: what is wrong and what to do next
};

inline bool any_stop(std::span<const Check> checks) {
  return std::any_of(checks.begin(), checks.end(),
                     [](const Check& c) { return c.severity == Severity::stop; });
}

/// "info", "warn" or "stop", as the JSON contract writes them.
inline const char* severity_word(Severity severity) {
  switch (severity) {
    case Severity::info:
      return "info";
    case Severity::warn:
      return "warn";
    case Severity::stop:
      break;
  }
  return "stop";
}

}  // namespace scantling
