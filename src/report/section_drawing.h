#pragma once

#include <optional>
#include <string>
#include <vector>

#include "print/page.h"
#include "report/figure_style.h"
#include "report/state_look.h"

namespace scantling {

/// What a part's section shows, all in mm of the part.
struct PartSection {
  PartKind kind = PartKind::pad;
  double plate_mm = 0;  ///< backing plate, pads only
  std::optional<double> size_mm;
  double expanded_95_mm = 0;
  std::optional<double> minimum_mm;
  std::vector<HandReading> readings;
  PageLook look{grey(0.4), FillPattern::outline};
};

PartSection section_of(const PartSummary& summary);

/// What the sections of all parts of one kind share, so that they compare by eye.
struct SectionLayout {
  double scale = 1;     ///< times life size
  double plate_mm = 0;  ///< room for the thickest plate: material begins at one place in all
  double end_mm = 1;    ///< where the scale ends
  FigureStyle style;
};

SectionLayout layout_of(const std::vector<PartSection>& sections, double width_mm,
                        const FigureStyle& style = {});

/// Draws the section to scale: the plate hatched as in a workshop drawing, the material that is
/// left, the 95 % band at its face, the minimum as a heavy broken line, readings as marks above,
/// and a scale in the layout's unit below that begins where the material begins.
void draw_section(Page& page, const PageBox& area, const PartSection& section,
                  const SectionLayout& layout);

}  // namespace scantling
