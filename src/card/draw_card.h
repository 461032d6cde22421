#pragma once

#include "card/card_definition.h"
#include "print/page.h"

namespace scantling {

/// Draws a card's squares and markers as areas, its frame's origin at `origin`. What the notch
/// takes away is left white.
void draw_card(Page& page, PagePoint origin, const CardDefinition& card);

/// The thin grey line to cut along: round the white margin, and round the notch.
void draw_cut_line(Page& page, PagePoint origin, const CardDefinition& card);

}  // namespace scantling
