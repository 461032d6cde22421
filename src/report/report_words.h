#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "report/summary.h"

namespace scantling {

// What the report says, for the pages and the web page alike. Lengths are in millimetres here; see
// in_unit().

/// "Brake check: Blue estate".
std::string report_title(const Vehicle& vehicle);
/// "4 parts: 1 replace, 1 gauge it, 2 keep."
std::string count_of_states(const JobSummary& summary);
/// "Minimum 2.0 mm, workshop manual".
std::string minimum_words(const Part& part);
/// "3.02 mm left above it"; empty where nothing is known.
std::string left_words(const PartSummary& part);
/// "By hand: 1.68 mm vernier calliper"; empty without readings.
std::string readings_words(const std::vector<HandReadingEntry>& readings);
/// Why the part is as it is, and what to mind.
std::vector<std::string> because_words(const PartSummary& part);
/// "Next check planned at 95 000 km."; empty where none is.
std::string next_check_words(const Job& job);
std::string sheet_words(const std::optional<Sheet>& sheet);
/// That the size is a triage, and whose figures come first.
const char* triage_words();
/// What the sections show: `scales` such as "pads 4 : 1".
std::string section_words(const std::vector<std::string>& scales, bool pads, bool discs);

/// "Mind: The photo is blurred."
std::string check_words(const Check& check);
/// Who confirmed the edge and when, or that nobody has.
std::string who_agreed(const PhotoFinding& finding, const MeasuredEdge& edge);
/// The photo, its card and how it was measured, each with its name.
std::vector<std::pair<std::string, std::string>> photo_facts(const PhotoFinding& finding);

/// All sizes of a measured photo, with the stations they were taken at; a size that rests on an
/// edge still to be confirmed is left out.
struct SizeTable {
  std::vector<double> places_mm;  ///< of the stations, along the part
  struct Row {
    std::string title, size, confidence;
    std::vector<std::string> at_places;  ///< "5.02 mm"; empty where there is none
  };
  std::vector<Row> rows;
};
SizeTable size_table(const PhotoFinding& finding);

/// The budget's lines that are worth naming, the smaller ones put together.
std::vector<BudgetLine> lines_to_show(const Quantity& size);
std::string budget_foot(const Quantity& size);

/// What would improve the part's size, a sentence each.
std::vector<std::string> improvement_words(const PartSummary& part);
inline constexpr char kImprovementsTitle[] = "What would improve it most";

/// A part's photos: those measured by their edges, and those solved together for the planes.
struct PhotoSets {
  std::vector<PhotoEntry> entries;
  std::vector<const PhotoFinding*> by_edges, by_planes;
};
PhotoSets photo_sets(const PartSummary& part);

}  // namespace scantling
