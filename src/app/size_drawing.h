#pragma once

#include <imgui.h>

#include <optional>

#include "uncertainty/quantity.h"
#include "verdict/verdict.h"

namespace scantling {

/// What the two drawings show; lengths in mm.
struct SizeDrawing {
  Quantity size;  ///< the friction material
  std::optional<double> plate_mm;
  std::optional<double> minimum_mm;
  std::optional<VerdictState> state;
};

/// The range in mm that a bar shows so that the size, its interval and the minimum are all in it
/// and the interval is wide enough to be seen. Ends at nought where the interval goes below it.
struct BarRange {
  double from_mm = 0;
  double to_mm = 1;
};
BarRange bar_range(const SizeDrawing& drawing);
/// 1, 2 or 5 times a power of ten: the step of a scale with at most `most` steps.
double scale_step(double extent, int most);

/// The pad cut through, to scale: plate, friction material, the minimum as a line, the uncertainty
/// as a band.
void draw_pad_section(ImDrawList* draw, ImVec2 at, ImVec2 extent, const SizeDrawing& drawing);
/// The size with its 95 % interval against the minimum, on a magnified scale.
void draw_size_bar(ImDrawList* draw, ImVec2 at, ImVec2 extent, const SizeDrawing& drawing);

}  // namespace scantling
