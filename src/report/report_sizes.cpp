#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/report_pages.h"
#include "report/wording.h"

namespace scantling {

namespace {

constexpr double kFirstStation_mm = 95;
constexpr std::size_t kMostStations = 7;
constexpr double kRoomForAt_mm = 16;

/// Where the photo's sizes were taken: of the dimension with the most stations.
std::vector<double> station_places(const Measurement& measurement) {
  std::vector<double> places;
  for (const Dimension& d : measurement.dimensions) {
    if (d.stations.size() <= places.size()) continue;
    places.clear();
    for (const Station& s : d.stations) places.push_back(s.position_mm);
  }
  if (places.size() > kMostStations) places.resize(kMostStations);
  return places;
}

std::string at_place(const Dimension& d, double position_mm) {
  for (const Station& s : d.stations)
    if (std::abs(s.position_mm - position_mm) < 0.05) return fmt::format("{:.2f}", s.value_mm);
  return {};
}

/// Such a size is no result yet, and is not shown.
bool rests_on_open_edge(const Dimension& d, const PhotoFinding& finding) {
  const auto edges = edges_of_dimension(d.name);
  return std::any_of(finding.edges_to_confirm.begin(), finding.edges_to_confirm.end(),
                     [&](const std::string& open) {
                       return std::find(edges.begin(), edges.end(), open) != edges.end();
                     });
}

}  // namespace

void write_sizes(PageFlow& flow, const PhotoFinding& finding) {
  const Measurement& measurement = finding.newest->measurement;
  flow.heading("Sizes");
  const std::vector<double> places = station_places(measurement);
  std::vector<double> columns{0, 42, 74};
  std::vector<std::string> heads{"", "size, 95 % interval", "confidence"};
  for (std::size_t i = 0; i < places.size(); ++i) {
    const double step = (flow.width() - kFirstStation_mm) / static_cast<double>(places.size());
    columns.push_back(kFirstStation_mm + static_cast<double>(i) * step);
    heads.push_back(fmt::format("{}{:.0f} mm", step < kRoomForAt_mm ? "" : "at ", places[i]));
  }
  flow.cells(columns, heads, kLabelText);
  for (const Dimension& d : measurement.dimensions) {
    const bool open = rests_on_open_edge(d, finding);
    std::vector<std::string> texts{dimension_title(d.name),
                                   open ? "confirm first" : size_with_95(d.quantity),
                                   fmt::format("{:.0f} %", 100 * d.confidence)};
    // A taper is a difference: it has no size at a place.
    for (double place : places)
      texts.push_back(open || d.name == "friction_taper" ? std::string() : at_place(d, place));
    flow.cells(columns, texts, kBodyText);
  }
}

}  // namespace scantling
