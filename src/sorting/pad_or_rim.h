#pragma once

#include "dimension/analysis.h"

namespace scantling {

/// Log-odds (natural) that a photo with the notch card shows a pad and not a disc's rim, from both
/// readings of its lines. Positive: a pad.
double pad_or_rim_log_odds(const Analysis& as_pad, const Analysis& as_rim);

}  // namespace scantling
