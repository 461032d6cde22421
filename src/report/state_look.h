#pragma once

#include <string_view>

#include "print/page.h"
#include "report/part_summary.h"

namespace scantling {

// Okabe and Ito's colours (2008): told apart under every common colour blindness.
inline constexpr Colour kOrange{0.902, 0.624, 0.0};
inline constexpr Colour kSky{0.337, 0.706, 0.914};
inline constexpr Colour kYellow{0.941, 0.894, 0.259};
inline constexpr Colour kBlue{0.0, 0.447, 0.698};
inline constexpr Colour kVermillion{0.835, 0.369, 0.0};
inline constexpr Colour kPurple{0.8, 0.475, 0.655};

/// Every state differs by its word and its pattern, not by its colour alone.
enum class FillPattern { solid, dots, diagonal, cross, outline };

struct PageLook {
  Colour colour;
  FillPattern pattern;
};

PageLook page_look(const PartSummary& summary);

/// Fills a box with the look's colour and pattern, and frames it.
void fill_with_look(Page& page, const PageBox& box, PageLook look);

/// How an edge is drawn on a photo: a colour and a rhythm of dashes of its own.
struct EdgeStroke {
  Colour colour;
  std::vector<double> dash_mm;
};
EdgeStroke edge_stroke(std::string_view edge);

}  // namespace scantling
