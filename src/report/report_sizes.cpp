#include <fmt/format.h>

#include "report/report_pages.h"
#include "report/report_words.h"

namespace scantling {

namespace {

constexpr double kFirstStation_mm = 95;
constexpr double kRoomForAt_mm = 16;
constexpr double kRoomForUnit_mm = 14;

/// The number alone, where the column is narrow: its head says the unit.
std::string without_unit(const std::string& text) {
  return text.substr(0, text.find(' '));
}

}  // namespace

void write_sizes(PageFlow& flow, const PhotoFinding& finding) {
  flow.heading("Sizes");
  const SizeTable table = size_table(finding);
  std::vector<double> columns{0, 42, 74};
  std::vector<std::string> heads{"", "size, 95 % interval", "confidence"};
  const double step = table.places_mm.empty() ? 0
                                              : (flow.width() - kFirstStation_mm) /
                                                    static_cast<double>(table.places_mm.size());
  for (std::size_t i = 0; i < table.places_mm.size(); ++i) {
    columns.push_back(kFirstStation_mm + static_cast<double>(i) * step);
    heads.push_back(
        fmt::format("{}{:.0f} mm", step < kRoomForAt_mm ? "" : "at ", table.places_mm[i]));
  }
  flow.cells(columns, heads, kLabelText);
  for (const SizeTable::Row& row : table.rows) {
    std::vector<std::string> texts{row.title, row.size, row.confidence};
    for (const std::string& at : row.at_places) {
      const std::string said = flow.said(at);
      texts.push_back(step < kRoomForUnit_mm ? without_unit(said) : said);
    }
    flow.cells(columns, texts, kBodyText);
  }
}

}  // namespace scantling
