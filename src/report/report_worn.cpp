#include <algorithm>

#include "report/report_pages.h"
#include "report/wording.h"

namespace scantling {

void write_worn(PageFlow& flow, const PartSummary& part) {
  if (!part.worn) return;
  flow.need(40);
  const bool planes_too =
      std::any_of(part.photos.begin(), part.photos.end(),
                  [](const PhotoFinding& f) { return from_planes(f.photo.view); });
  flow.heading(planes_too ? "How the worn thickness comes about from edges"
                          : "How the worn thickness comes about");
  for (const WornRow& row : worn_rows(*part.worn)) {
    if (row.result) {
      flow.page().line({flow.left(), flow.y()}, {flow.left() + 100, flow.y()}, {0.2, kInk, {}});
      flow.space(0.8);
    }
    flow.cells({0, 62}, {row.words, row.size}, row.result ? kStrongText : kBodyText);
  }
  flow.paragraph(not_over_the_lips(), kLabelText);
  if (part.worn->worn) write_budget(flow, *part.worn->worn, "worn thickness");
}

}  // namespace scantling
