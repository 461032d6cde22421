#include <fmt/format.h>

#include <vector>

#include "report/planes_beside.h"
#include "report/report_pages.h"
#include "report/report_words.h"
#include "report/state_look.h"
#include "report/wear_plot.h"
#include "report/wording.h"

namespace scantling {

namespace {

constexpr double kCompactBlock_mm = 122;  ///< a photo among several, with all that is said of it
constexpr double kPlanesBlock_mm = 75;

void write_title(PageFlow& flow, const JobSummary& summary, const PartSummary& part) {
  Page& page = flow.page();
  const double top = flow.y();
  flow.space(
      page.text({flow.left(), top}, part_title(part.part, summary.job.axle), {15, Weight::semibold})
          .height +
      0.5);
  const TextStyle style{11, Weight::bold, kInk, Align::right};
  const TextExtent word = text_extent(part.state, style);
  page.text({flow.right(), top + 1.2}, part.state, style);
  fill_with_look(page, {flow.right() - word.width - 6.5, top + 1.6, 4, 4}, page_look(part));
  flow.rule(0.4);
}

void write_edges(PageFlow& flow, const PhotoFinding& finding) {
  flow.heading("Edges");
  const std::vector<double> columns{0, 42, 76, 96, 113};
  flow.cells(columns, {"", "where from", "confidence", "scatter", "confirmed by"}, kLabelText);
  for (const MeasuredEdge& edge : finding.newest->measurement.edges)
    flow.cells(columns,
               {edge_title(edge.name),
                edge.origin == EdgeOrigin::moved ? "moved by hand" : "found by the program",
                fmt::format("{:.0f} %", 100 * edge.confidence),
                fmt::format("{:.2f} px", edge.residual_px), who_agreed(finding, edge)},
               kBodyText);
}

void write_checks(PageFlow& flow, const Measurement& m) {
  flow.heading("Checks");
  if (m.checks.empty()) flow.paragraph("Nothing to remark.");
  for (const Check& check : m.checks) flow.paragraph(check_words(check));
}

void write_readings(PageFlow& flow, const PartSummary& part) {
  if (part.readings.empty()) return;
  flow.heading("Readings by hand");
  const std::vector<double> columns{0, 45, 80, 115};
  flow.cells(columns, {"as typed", "reading, 95 % interval", "instrument", "when"}, kLabelText);
  for (const HandReadingEntry& r : part.readings)
    flow.cells(
        columns,
        {r.as_typed,
         size_with_95({r.value_mm, r.standard_uncertainty_mm, kUnlimitedDegreesOfFreedom, {}}),
         r.instrument, time_title(r.read_at)},
        kBodyText);
}

void write_wear(PageFlow& flow, const PartSummary& part) {
  const std::optional<WearPlot> plot = wear_plot(part);
  if (!plot) return;
  constexpr double kHeight_mm = 62;
  flow.need(kHeight_mm + 26);
  flow.heading("Wear so far and to come");
  for (const std::string& sentence : wear_sentences(part)) flow.paragraph(sentence);
  flow.paragraph(
      "Bars and band hold the size with 95 % confidence; the band "
      "is where the next "
      "size is expected.",
      kLabelText);
  flow.space(3);
  draw_wear_plot(flow.page(), {flow.left(), flow.y(), flow.width(), kHeight_mm}, *plot,
                 flow.style());
  flow.space(kHeight_mm + 2);
}

}  // namespace

namespace {

void write_finding(PageFlow& flow, const PhotoFinding& finding, bool alone) {
  if (!finding.newest) return flow.paragraph("This photo has not been measured yet.");
  const Measurement& measurement = finding.newest->measurement;
  // Room counts where photos share a page.
  if (alone || !measurement.checks.empty()) write_checks(flow, measurement);
  if (!measurement.dimensions.empty()) write_sizes(flow, finding);
  if (!measurement.edges.empty()) write_edges(flow, finding);
  if (finding.size)
    if (const Dimension* d = measurement.dimension(finding.size->dimension))
      write_budget(flow, *d, dimension_title(d->name));
}

/// What all photos of a set say together is kept with each of them.
void write_planes(PageFlow& flow, const Record& record, const std::string& title,
                  const std::vector<const PhotoFinding*>& set) {
  if (set.empty()) return;
  flow.need(kPlanesBlock_mm);
  flow.heading(title + ". Photos for the size from planes");
  write_photo_row(flow, record, set);
  const PhotoFinding& newest = *set.back();
  if (!solved_together(set))
    return flow.paragraph("These photos have not been solved together yet.");
  const Measurement& measurement = newest.newest->measurement;
  write_checks(flow, measurement);
  if (measurement.dimensions.empty()) return;
  write_sizes(flow, newest);
  const Dimension& size = measurement.dimensions.front();
  write_budget(flow, size, dimension_title(size.name) + " from planes");
}

}  // namespace

void write_part(PageFlow& flow, const Record& record, const JobSummary& summary,
                const PartSummary& part) {
  flow.new_page();
  write_title(flow, summary, part);
  for (const std::string& sentence : part.because) flow.paragraph(sentence);
  for (const Check& check : part.cautions) flow.paragraph(check.message, kStrongText);
  write_improvements(flow, part);
  write_worn(flow, part);
  const auto& [entries, by_edges, by_planes] = photo_sets(part);
  for (const PhotoFinding* finding : by_edges) {
    const bool alone = by_edges.size() == 1;
    if (alone)
      flow.space(1.5);
    else
      flow.need(kCompactBlock_mm);
    if (!alone)  // a page may be looked at by itself
      flow.heading(part_title(part.part, summary.job.axle) + ". " +
                   photo_title(finding->photo, entries));
    write_photo(flow, record, *finding, !alone);
    write_finding(flow, *finding, alone);
  }
  write_planes(flow, record, part_title(part.part, summary.job.axle), by_planes);
  write_readings(flow, part);
  write_wear(flow, part);
}

}  // namespace scantling
