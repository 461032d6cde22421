#include "planes/planes_result.h"

#include <algorithm>

namespace scantling {

const char* planes_view_word(PlanesView view) {
  return view == PlanesView::faces ? "faces" : "pile";
}

std::optional<PlanesView> planes_view_from_word(std::string_view word) {
  if (word == "faces") return PlanesView::faces;
  if (word == "pile") return PlanesView::pile;
  return std::nullopt;
}

const Dimension* PlanesResult::dimension(std::string_view name) const {
  const auto found = std::find_if(dimensions.begin(), dimensions.end(),
                                  [&](const Dimension& d) { return d.name == name; });
  return found == dimensions.end() ? nullptr : &*found;
}

const SolvedPiece* PlanesResult::piece(PlanePiece wanted) const {
  const auto found = std::find_if(pieces.begin(), pieces.end(),
                                  [&](const SolvedPiece& p) { return p.piece == wanted; });
  return found == pieces.end() ? nullptr : &*found;
}

}  // namespace scantling
