#pragma once

#include <optional>
#include <string>
#include <vector>

#include "dimension/better_size.h"
#include "report/part_summary.h"

namespace scantling {

/// Steps beside those of better_input.h.
inline constexpr char kConfirmEdges[] = "confirm_edges";
inline constexpr char kOtherLip[] = "other_lip";
inline constexpr char kFromPlanes[] = "planes";
inline constexpr char kByHand[] = "hand_reading";

/// One thing the user could do about a part's size, and what it would bring.
struct Improvement {
  BetterSize better;
  /// The verdict with that interval where it would be another one than now, the size staying as it
  /// is. Nothing where it stays, or where there is no minimum.
  std::optional<VerdictState> state_then;
  std::string sentence;  ///< all of it
};

/// What would improve a part's size, the greatest gain first, a reading by hand last: its budget
/// with each better input in turn, one more photo of a lip, the lip that is missing, for a disc the
/// size from planes where it has none yet (see `faces_outlook`; worked out once for each sheet).
/// Where edges have to be confirmed first, that stands alone. Nothing where a reading by hand
/// settles the size already.
std::vector<Improvement> improvements(const PartSummary& part);

}  // namespace scantling
