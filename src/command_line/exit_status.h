#pragma once

namespace scantling {

/// The command line's exit statuses (stable contract).
enum ExitStatus : int { kDone = 0, kInternalFault = 1, kWrongUsage = 2, kInputUnusable = 3 };

}  // namespace scantling
