#pragma once

#include "card/sheet_layout.h"
#include "print/page.h"

namespace scantling {

/// What to do with page 1, in words and two sketches.
void draw_instructions(Page& page, const SheetLayout& layout);

}  // namespace scantling
