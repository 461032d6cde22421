#pragma once

#include <string>
#include <string_view>

#include "report/figure_style.h"

namespace scantling {

/// How the window writes its figures; as long as nothing is set, in mm, km and with a point.
const FigureStyle& shown_style();
void show_figures(const FigureStyle& style);

/// A text with its figures in that style. Every text with a length, a distance or a decimal goes
/// through this before it is drawn; `heading`, `wrapped_text` and `muted_text` do it themselves.
std::string shown(std::string_view text);

}  // namespace scantling
