#include "command_line/measure_table.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <vector>

#include "command_line/aligned_rows.h"
#include "dimension/better_size.h"
#include "report/wording.h"

namespace scantling {
namespace {

using Row = std::vector<std::string>;

std::string stations_text(const Dimension& dimension) {
  std::string text;
  for (const Station& station : dimension.stations)
    text += fmt::format("{}{:+.0f}: {:.2f}", text.empty() ? "" : "  ", station.position_mm,
                        station.value_mm);
  return text;
}

std::string sizes_text(const Measurement& measurement) {
  std::vector<Row> rows = {
      {"size", "measured, 95 %", "certain", "along the edge, mm from the middle"}};
  for (const Dimension& d : measurement.dimensions)
    rows.push_back({dimension_title(d.name), size_with_95(d.quantity),
                    fmt::format("{:.0f} %", 100 * d.confidence), stations_text(d)});
  return aligned_rows(rows);
}

struct SourceRow {
  std::string source;
  std::vector<double> parts_mm;  ///< one a dimension
  double largest_mm = 0;
};

std::vector<SourceRow> sources_of(const Measurement& measurement) {
  std::vector<SourceRow> rows;
  for (std::size_t i = 0; i < measurement.dimensions.size(); ++i)
    for (const BudgetLine& line : measurement.dimensions[i].quantity.budget) {
      auto row = std::find_if(rows.begin(), rows.end(),
                              [&](const SourceRow& r) { return r.source == line.source; });
      if (row == rows.end()) {
        rows.push_back({line.source, std::vector<double>(measurement.dimensions.size()), 0});
        row = std::prev(rows.end());
      }
      row->parts_mm[i] = std::hypot(row->parts_mm[i], line.standard_uncertainty_mm);
      row->largest_mm = std::max(row->largest_mm, row->parts_mm[i]);
    }
  std::stable_sort(rows.begin(), rows.end(), [](const SourceRow& a, const SourceRow& b) {
    return a.largest_mm > b.largest_mm;
  });
  return rows;
}

std::string budgets_text(const Measurement& measurement) {
  std::vector<Row> rows = {{""}};
  for (const Dimension& d : measurement.dimensions) rows[0].push_back(dimension_title(d.name));
  for (const SourceRow& source : sources_of(measurement)) {
    if (source.largest_mm < 0.0005) continue;  // would read 0.000
    rows.push_back({source.source});
    for (const double part : source.parts_mm)
      rows.back().push_back(part < 0.0005 ? "-" : fmt::format("{:.3f}", part));
  }
  return "Where the uncertainty comes from, largest first (one sigma, mm):\n" + aligned_rows(rows);
}

/// Advice on the lines that matter, each sentence once, in order of weight.
std::string advice_text(const Measurement& measurement) {
  std::vector<BudgetLine> lines;
  for (const Dimension& d : measurement.dimensions)
    for (const BudgetLine& line : d.quantity.budget)
      if (!line.advice.empty() && !line.remedy &&
          line.standard_uncertainty_mm > 0.3 * d.quantity.standard_uncertainty_mm)
        lines.push_back(line);
  std::stable_sort(lines.begin(), lines.end(), [](const BudgetLine& a, const BudgetLine& b) {
    return a.standard_uncertainty_mm > b.standard_uncertainty_mm;
  });
  std::vector<std::string> said;
  std::string text;
  for (const BudgetLine& line : lines) {
    if (std::find(said.begin(), said.end(), line.advice) != said.end()) continue;
    said.push_back(line.advice);
    text += fmt::format("  {}: {}\n", line.source, line.advice);
  }
  return text.empty() ? text : "What else would make it smaller:\n" + text;
}

/// What would improve each size most, by how much.
std::string improvements_text(const Measurement& measurement) {
  std::string text;
  for (const Dimension& d : measurement.dimensions)
    for (const BetterSize& better : better_sizes(measurement, d.name))
      text += fmt::format("  {}: {}\n", dimension_title(d.name), better_size_sentence(better));
  return text.empty() ? text : "What would improve it most (95 %):\n" + text;
}

std::string card_text(const CardSummary& card) {
  return fmt::format(
      "Card: {}, {} corners to {:.2f} px, {:.1f} px/mm, tilted {:.0f}°, {:.0f} mm from the "
      "camera\nLens: by {}\n",
      card.name, card.corners, card.residual_px, card.px_per_mm, card.tilt_deg, card.distance_mm,
      card.camera);
}

}  // namespace

std::string measure_table(const std::string& photo_name, const Measurement& measurement) {
  std::string text = photo_name + "\n";
  if (measurement.dimensions.empty())
    text += "  no size\n";
  else
    text += sizes_text(measurement) + budgets_text(measurement) + improvements_text(measurement) +
            advice_text(measurement);
  if (measurement.card) text += card_text(*measurement.card);
  return text;
}

}  // namespace scantling
