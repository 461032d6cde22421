#include "report/report_pages.h"
#include "report/report_words.h"

namespace scantling {

double write_photo_facts(PageFlow& flow, PagePoint at, double width_mm,
                         const PhotoFinding& finding) {
  double y = at.y;
  for (const auto& [name, text] : photo_facts(finding)) {
    flow.page().text({at.x, y + 0.25}, name, kLabelText);
    y += flow.page().text({at.x + 22, y}, flow.said(text), kSmallText, width_mm - 22).height + 0.5;
  }
  return y;
}

}  // namespace scantling
