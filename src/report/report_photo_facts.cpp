#include <fmt/format.h>

#include "report/report_pages.h"
#include "report/wording.h"

namespace scantling {

double write_photo_facts(Page& page, PagePoint at, double width_mm, const PhotoFinding& finding) {
  double y = at.y;
  const auto fact = [&](const char* name, const std::string& text) {
    page.text({at.x, y + 0.25}, name, kLabelText);
    y += page.text({at.x + 22, y}, text, kSmallText, width_mm - 22).height + 0.5;
  };
  fact("photo", finding.photo.original_name);
  fact("added", time_title(finding.photo.added_at));
  fact("content", "SHA-256\u00A0" + finding.photo.sha256);
  if (!finding.newest) return y;
  const MeasurementEntry& entry = *finding.newest;
  if (const auto& card = entry.measurement.card) {
    fact("card", entry.options.sheet_scale.id_card
                     ? std::string("ID-1 card (ISO/IEC 7810), by its four sides")
                     : fmt::format("{}, {} corners fitted to {:.2f} px", card->name, card->corners,
                                   card->residual_px));
    fact("seen", fmt::format("at {:.1f} px per mm, tilted {:.0f}°, from {:.0f} mm", card->px_per_mm,
                             card->tilt_deg, card->distance_mm));
  }
  const SheetScale& s = entry.options.sheet_scale;
  const PartOffset& o = entry.options.part_offset;
  if (s.id_card)
    fact("size reference", fmt::format("the ID-1 card; standard uncertainty {:.4f} of a length",
                                       s.standard_uncertainty));
  else
    fact("print scale",
         fmt::format("{:.4f} across, {:.4f} down, {}; standard uncertainty {:.4f}", s.x, s.y,
                     s.checked ? "checked" : "not checked", s.standard_uncertainty));
  // A lip lies in the card's own plane.
  if (entry.options.view != View::lip)
    fact("part's edge",
         fmt::format("{:.1f} mm behind the card's face; standard uncertainty {:.1f} mm",
                     o.offset_mm, o.standard_uncertainty_mm));
  fact("measured",
       fmt::format("{}, Scantling {}", time_title(entry.made_at), entry.engine_version));
  return y;
}

}  // namespace scantling
