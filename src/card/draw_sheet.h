#pragma once

#include "card/sheet_layout.h"
#include "print/document.h"

namespace scantling {

/// The printable sheets: page 1 the cards to cut out with their stand, page 2 the ground sheet,
/// each with its check bars and what to do. The same paper always gives the same document.
Document draw_sheet(Paper paper);

}  // namespace scantling
