#include "sorting/pad_or_rim.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace scantling {
namespace {

double least_confidence(const Measurement& m) {
  double least = m.edges.empty() ? 0 : 1;
  for (const MeasuredEdge& edge : m.edges) least = std::min(least, edge.confidence);
  return least;
}

/// How far the worst edge strays from the line, in px: a rim read as a pad bows.
double worst_residual_px(const Measurement& m) {
  double worst = 0;
  for (const MeasuredEdge& edge : m.edges) worst = std::max(worst, edge.residual_px);
  return worst;
}

double size_mm(const Measurement& m, const char* name) {
  const Dimension* found = m.dimension(name);
  return found ? found->quantity.value_mm : 0;
}

}  // namespace

// Weights judged on the demo's photos and on made pictures of pads and rims in hard light; see
// tests/unit/sorting for what they give.
double pad_or_rim_log_odds(const Analysis& as_pad, const Analysis& as_rim) {
  const Measurement &pad = as_pad.measurement(), &rim = as_rim.measurement();
  if (pad.dimensions.empty() || rim.dimensions.empty())
    return !pad.dimensions.empty() ? 2 : !rim.dimensions.empty() ? -2 : 0;
  double log_odds = 1.2 + 3 * (least_confidence(pad) - least_confidence(rim));
  // A pad has the same two outer edges in either reading; of a rim, the pad's reading takes a part.
  constexpr double kSame_mm = 0.6, kOther_mm = 1.5;
  const double more_mm = size_mm(rim, "rim_thickness") - size_mm(pad, "overall_thickness");
  if (std::abs(more_mm) < kSame_mm)
    log_odds += 0.8;
  else if (more_mm > kOther_mm)
    log_odds -= std::min(5.0, 0.6 * more_mm);
  log_odds += 2.5 * std::clamp(worst_residual_px(rim) - worst_residual_px(pad) + 0.2, -1.0, 0.4);
  // Backing plates are 5 to 6.5 mm thick (common practice).
  const double odd_mm = std::abs(size_mm(pad, "plate_thickness") - 5.7) - 0.8;
  return log_odds - 1.5 * std::clamp(odd_mm, 0.0, 2.0);
}

}  // namespace scantling
