#pragma once

#include <imgui.h>

#include <optional>

#include "report/wear_plot.h"

namespace scantling {

/// Draws a part's sizes over the odometer: points with their 95 % bars, the fitted line in its
/// prediction band where there is one, the minimum, the odometer now and the next check. Axes in
/// the window's units. Returns the point under `pointer`; nothing where none is.
std::optional<std::size_t> draw_wear(ImDrawList* draw, ImVec2 at, ImVec2 extent,
                                     const WearPlot& plot, ImVec2 pointer);

}  // namespace scantling
