#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "report/report_pages.h"
#include "report/report_words.h"
#include "report/section_drawing.h"
#include "report/wording.h"
#include "verdict/cautions.h"

namespace scantling {

namespace {

constexpr double kTitleColumn_mm = 40;
constexpr double kSizeColumn_mm = 56;
constexpr double kSectionHeight_mm = 21;
constexpr std::string_view kCommonPractice = "common practice";  ///< goes without saying

std::string joined(const std::vector<std::string>& pieces, const char* between) {
  std::string text;
  for (const std::string& piece : pieces)
    if (!piece.empty()) text += (text.empty() ? "" : between) + piece;
  return text;
}

void write_head(PageFlow& flow, const JobSummary& summary) {
  const Job& job = summary.job;
  const Vehicle& v = summary.vehicle;
  Page& page = flow.page();
  const double top = flow.y();
  const TextStyle right = aligned(kBodyText, Align::right);
  page.text({flow.right(), top + 0.6}, date_title(job.date), aligned(kStrongText, Align::right));
  page.text({flow.right(), top + 4.8},
            joined({axle_title(job.axle),
                    job.odometer_km ? flow.said(distance_title(*job.odometer_km)) : ""},
                   ", "),
            right);
  page.text({flow.right(), top + 9.0}, fmt::format("job {}", job.id), right);
  flow.space(
      page.text({flow.left(), top - 1}, report_title(v), kTitleText, flow.width() - 48).height);
  flow.paragraph(joined({v.registration, v.make_model, v.owner}, "   ·   "));
  flow.move_to(std::max(flow.y(), top + 13.5) + 0.5);
  flow.rule(0.6);
}

double write_size_column(PageFlow& flow, PagePoint at, double width, const PartSummary& part) {
  double y = at.y;
  const auto line = [&](const std::string& text, const TextStyle& style, double gap) {
    y += flow.page().text({at.x, y}, flow.said(text), style, width).height + gap;
  };
  if (part.size) {
    line(size_with_95(part.size->quantity), {13, Weight::semibold}, 0.2);
    line(dimension_title(part.size->dimension) + ", 95 % interval", kLabelText, 1.2);
  } else {
    line("no size", {13, Weight::semibold, grey(0.45)}, 1.2);
  }
  line(minimum_words(part.part), kBodyText, 0.6);
  if (part.left_mm) line(left_words(part), kBodyText, 0.6);
  if (!part.readings.empty()) line(readings_words(part.readings), kBodyText, 0.6);
  return y - at.y;
}

double write_title_column(Page& page, PagePoint at, double width, const PartSummary& part,
                          Axle axle) {
  double y = at.y;
  y += page.text({at.x, y}, part_title(part.part, axle), kBodyText, width).height + 1.8;
  const PageBox swatch{at.x, y + 0.6, 5, 5};
  fill_with_look(page, swatch, page_look(part));
  y += page.text({at.x + 7, y}, part.state, {part.state.size() > 12 ? 11.0 : 14.0, Weight::bold},
                 width - 7)
           .height;
  return std::max(y, swatch.bottom()) - at.y;
}

void write_row(PageFlow& flow, const PartSummary& part, Axle axle, const SectionLayout& layout) {
  const std::string because = flow.said(joined(because_words(part), " "));
  const double text_height = text_extent(because, kSmallText, flow.width()).height;
  const double columns_height =
      std::max(kSectionHeight_mm, part.readings.empty() ? 0.0 : kSectionHeight_mm + 4);
  flow.need(columns_height + text_height + 5);
  const double top = flow.y();
  Page& page = flow.page();
  const double section_x = flow.left() + kTitleColumn_mm + 3;
  const double size_x = flow.right() - kSizeColumn_mm;
  const double title = write_title_column(page, {flow.left(), top}, kTitleColumn_mm, part, axle);
  const double size = write_size_column(flow, {size_x, top}, kSizeColumn_mm, part);
  draw_section(page, {section_x, top, size_x - section_x - 4, kSectionHeight_mm}, section_of(part),
               layout);
  flow.move_to(top + std::max({title, size, kSectionHeight_mm}) + 0.8);
  flow.paragraph(because, kSmallText);
  flow.space(0.4);
  flow.page().line({flow.left(), flow.y()}, {flow.right(), flow.y()}, {0.15, grey(0.6), {}});
  flow.space(2.2);
}

}  // namespace

void write_front(PageFlow& flow, const JobSummary& summary) {
  write_head(flow, summary);
  flow.paragraph(count_of_states(summary), kHeadingText);
  const double section_width = flow.width() - kTitleColumn_mm - kSizeColumn_mm - 7;
  std::map<PartKind, std::vector<PartSection>> sections;
  for (const PartSummary& part : summary.parts)
    sections[part.part.kind].push_back(section_of(part));
  std::map<PartKind, SectionLayout> layouts;
  for (const auto& [kind, list] : sections)
    layouts[kind] = layout_of(list, section_width, flow.style());
  std::vector<std::string> scale_words;
  for (const auto& [kind, layout] : layouts)
    scale_words.push_back(
        fmt::format("{} {:.3g} : 1", kind == PartKind::pad ? "pads" : "discs", layout.scale));
  flow.paragraph(section_words(scale_words, layouts.count(PartKind::pad) > 0,
                               layouts.count(PartKind::disc) > 0),
                 kLabelText);
  flow.space(0.8);
  for (const PartSummary& part : summary.parts)
    write_row(flow, part, summary.job.axle, layouts[part.part.kind]);
  if (!summary.axle.notes.empty()) {
    flow.heading("The parts together");
    for (const std::string& note : summary.axle.notes) flow.paragraph(note);
  }
  if (!summary.job.note.empty()) {
    flow.heading("Note");
    flow.paragraph(summary.job.note);
  }
  if (const std::string next = next_check_words(summary.job); !next.empty())
    flow.paragraph(next, kSmallText);
  flow.paragraph(sheet_words(summary.sheet), kSmallText);
}

namespace {

// Two columns of text; `page` null only measures. Returns the height.
class CautionBlock {
 public:
  CautionBlock(PageFlow& flow, Page* page, double top) : flow_(flow), page_(page), top_(top) {}

  double write() {
    if (page_) page_->line({flow_.left(), top_}, {flow_.right(), top_}, {0.15, grey(0.6), {}});
    begin(0);
    line("What this does not tell", kHeadingText);
    line(beyond_thickness(), kBodyText);
    line(triage_words(), kBodyText);
    const double left = y_;
    begin(1);
    line("While you work", kHeadingText);
    for (const Caution& caution : work_cautions())
      line(caution.basis == kCommonPractice
               ? fmt::format("\u2013  {}", caution.text)
               : fmt::format("\u2013  {} ({})", caution.text, caution.basis),
           kSmallText);
    return std::max(left, y_) - top_;
  }

 private:
  void begin(int column) {
    x_ = flow_.left() + column * (column_mm() + kGap_mm);
    y_ = top_ + 2;
  }
  double column_mm() const { return (flow_.width() - kGap_mm) / 2; }
  void line(std::string_view text, const TextStyle& style) {
    const double height = page_ ? page_->text({x_, y_}, text, style, column_mm()).height
                                : text_extent(text, style, column_mm()).height;
    y_ += height + 0.8;
  }

  static constexpr double kGap_mm = 8;
  PageFlow& flow_;
  Page* page_;
  double top_;
  double x_ = 0, y_ = 0;
};

}  // namespace

void write_cautions(PageFlow& flow) {
  const double height = CautionBlock(flow, nullptr, 0).write();
  const double top = flow.keep_on_first_page(height);
  CautionBlock(flow, &flow.first_page(), top).write();
}

}  // namespace scantling
