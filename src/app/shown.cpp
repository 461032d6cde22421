#include "app/shown.h"

namespace scantling {

namespace {
FigureStyle current;
}

const FigureStyle& shown_style() {
  return current;
}

void show_figures(const FigureStyle& style) {
  current = style;
}

std::string shown(std::string_view text) {
  return current == FigureStyle{} ? std::string(text) : in_style(text, current);
}

}  // namespace scantling
