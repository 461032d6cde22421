#include "report/report_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <map>

#include "report/improvements.h"
#include "report/wording.h"
#include "verdict/size_text.h"

namespace scantling {

namespace {

constexpr std::size_t kMostStations = 7;

// A part of the budget that adds less than a thousandth to the whole is named with its like.
constexpr double kNamedFrom = 0.045;  ///< of the combined standard uncertainty

std::string joined(const std::vector<std::string>& pieces, const char* between) {
  std::string text;
  for (const std::string& piece : pieces)
    if (!piece.empty()) text += (text.empty() ? "" : between) + piece;
  return text;
}

/// What calls for action comes first.
int urgency(const PartSummary& part) {
  if (!part.verdict) return part.standing == PartStanding::no_minimum ? 4 : 2;
  switch (part.verdict->state) {
    case VerdictState::replace:
      return 0;
    case VerdictState::gauge_it:
      return 1;
    case VerdictState::keep_due_soon:
      return 5;
    case VerdictState::keep:
      break;
  }
  return 6;
}

// What the user or a program noted, as " One sentence."; nothing stays nothing.
std::string as_sentence(std::string note) {
  while (!note.empty() && (note.back() == '.' || note.back() == ' ')) note.pop_back();
  if (note.empty()) return note;
  note.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(note.front())));
  return " " + note + ".";
}

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
    if (std::abs(s.position_mm - position_mm) < 0.05) return fmt::format("{:.2f} mm", s.value_mm);
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

std::string report_title(const Vehicle& vehicle) {
  return vehicle.name.empty() ? "Brake check" : "Brake check: " + vehicle.name;
}

std::string count_of_states(const JobSummary& summary) {
  std::map<std::pair<int, std::string>, int> counts;
  for (const PartSummary& part : summary.parts) ++counts[{urgency(part), part.state}];
  std::vector<std::string> pieces;
  for (const auto& [state, count] : counts)
    pieces.push_back(fmt::format("{} {}", count, state.second));
  if (pieces.empty()) return "No parts in this job yet.";
  return fmt::format("{} part{}: {}.", summary.parts.size(), summary.parts.size() == 1 ? "" : "s",
                     joined(pieces, ", "));
}

std::string minimum_words(const Part& part) {
  if (!part.minimum_mm) return "No minimum given";
  return joined({"Minimum " + minimum_number(*part.minimum_mm), part.minimum_origin}, ", ");
}

std::string left_words(const PartSummary& part) {
  if (!part.left_mm) return {};
  return fmt::format("{:.2f}\u00A0mm {}{}", std::abs(*part.left_mm),
                     *part.left_mm >= 0 ? "left above it" : "below it",
                     part.readings.empty() ? "" : ", by hand");
}

std::string readings_words(const std::vector<HandReadingEntry>& readings) {
  std::vector<std::string> pieces;
  for (const HandReadingEntry& r : readings)
    pieces.push_back(joined({fmt::format("{:.2f}\u00A0mm", r.value_mm), r.instrument}, " "));
  return pieces.empty() ? std::string() : "By hand: " + joined(pieces, "; ");
}

std::vector<std::string> because_words(const PartSummary& part) {
  std::vector<std::string> sentences = part.because;
  for (const Check& check : part.cautions) sentences.push_back(check.message);
  return sentences;
}

std::string next_check_words(const Job& job) {
  const std::string when =
      joined({job.next_check_km ? "at " + distance_title(*job.next_check_km) : "",
              job.next_check_date.empty() ? "" : "on " + date_title(job.next_check_date)},
             ", or ");
  return when.empty() ? when : "Next check planned " + when + ".";
}

std::string sheet_words(const std::optional<Sheet>& sheet) {
  if (!sheet) return "No card sheet is named for this job.";
  const SheetScale& s = sheet->scale;
  if (!s.checked)
    return fmt::format("Card sheet \u201C{}\u201D: its print scale was not checked.", sheet->name);
  return fmt::format(
      "Card sheet \u201C{}\u201D: printed size over nominal size {:.4f} across, {:.4f} down, "
      "standard uncertainty {:.4f}.{}",
      sheet->name, s.x, s.y, s.standard_uncertainty, as_sentence(sheet->how_checked));
}

const char* triage_words() {
  return "A photo's size is a triage: it says when to keep, replace or gauge. The maker's figures "
         "and the law where you are come before this report; where work on brakes is reserved to "
         "licensed people, leave it to them.";
}

std::string section_words(const std::vector<std::string>& scales, bool pads, bool discs) {
  std::vector<std::string> kinds;
  if (pads) kinds.push_back("pads from the plate to the friction face");
  if (discs) kinds.push_back("discs across the worn track, inside the lips");
  const std::string to_scale = joined(scales, ", ");
  return fmt::format(
      "Sections to scale{}, laid out as they wear: {}. The patterned band is where the face lies "
      "with 95 % confidence.",
      to_scale.empty() ? "" : " (" + to_scale + ")", joined(kinds, ", "));
}

std::string check_words(const Check& check) {
  return fmt::format("{}: {}",
                     check.severity == Severity::stop   ? "No result"
                     : check.severity == Severity::warn ? "Mind"
                                                        : "Note",
                     check.message);
}

std::string who_agreed(const PhotoFinding& finding, const MeasuredEdge& edge) {
  for (const EdgeConfirmation& c : finding.confirmations)
    if (c.edge == edge.name)
      return fmt::format("{}, {}", c.confirmed_by.empty() ? "somebody" : c.confirmed_by,
                         time_title(c.confirmed_at));
  const bool asked =
      std::count(finding.edges_to_confirm.begin(), finding.edges_to_confirm.end(), edge.name) > 0;
  return asked ? "nobody yet: confirm it first" : "nobody";
}

std::vector<std::pair<std::string, std::string>> photo_facts(const PhotoFinding& finding) {
  std::vector<std::pair<std::string, std::string>> facts;
  facts.emplace_back("photo", finding.photo.original_name);
  facts.emplace_back("added", time_title(finding.photo.added_at));
  facts.emplace_back("content", "SHA-256\u00A0" + finding.photo.sha256);
  if (!finding.newest) return facts;
  const MeasurementEntry& entry = *finding.newest;
  if (const auto& card = entry.measurement.card) {
    facts.emplace_back("card", entry.options.sheet_scale.id_card
                                   ? std::string("ID-1 card (ISO/IEC 7810), by its four sides")
                                   : fmt::format("{}, {} corners fitted to {:.2f} px", card->name,
                                                 card->corners, card->residual_px));
    facts.emplace_back("seen", fmt::format("at {:.1f} px per mm, tilted {:.0f}°, from {:.0f} mm",
                                           card->px_per_mm, card->tilt_deg, card->distance_mm));
  }
  const SheetScale& s = entry.options.sheet_scale;
  const PartOffset& o = entry.options.part_offset;
  if (s.id_card)
    facts.emplace_back("size reference",
                       fmt::format("the ID-1 card; standard uncertainty {:.4f} of a length",
                                   s.standard_uncertainty));
  else
    facts.emplace_back(
        "print scale",
        fmt::format("{:.4f} across, {:.4f} down, {}; standard uncertainty {:.4f}", s.x, s.y,
                    s.checked ? "checked" : "not checked", s.standard_uncertainty));
  // A lip lies in the card's own plane.
  if (entry.options.view != View::lip)
    facts.emplace_back(
        "part's edge",
        fmt::format("{:.1f} mm behind the card's face; standard uncertainty {:.1f} mm", o.offset_mm,
                    o.standard_uncertainty_mm));
  facts.emplace_back(
      "measured", fmt::format("{}, Scantling {}", time_title(entry.made_at), entry.engine_version));
  return facts;
}

SizeTable size_table(const PhotoFinding& finding) {
  const Measurement& measurement = finding.newest->measurement;
  SizeTable table;
  table.places_mm = station_places(measurement);
  for (const Dimension& d : measurement.dimensions) {
    const bool open = rests_on_open_edge(d, finding);
    SizeTable::Row row{dimension_title(d.name),
                       open ? "confirm first" : size_with_95(d.quantity),
                       fmt::format("{:.0f} %", 100 * d.confidence),
                       {}};
    // A taper is a difference: it has no size at a place.
    for (const double place : table.places_mm)
      row.at_places.push_back(open || d.name.starts_with("friction_taper") ? std::string()
                                                                           : at_place(d, place));
    table.rows.push_back(std::move(row));
  }
  return table;
}

std::vector<BudgetLine> lines_to_show(const Quantity& size) {
  std::vector<BudgetLine> shown;
  double rest = 0;
  int unnamed = 0;
  for (const BudgetLine& line : size.budget) {
    if (line.standard_uncertainty_mm >= kNamedFrom * size.standard_uncertainty_mm) {
      shown.push_back(line);
    } else {
      rest = std::hypot(rest, line.standard_uncertainty_mm);
      ++unnamed;
    }
  }
  if (unnamed > 0)
    shown.push_back({fmt::format("{} smaller part{} together", unnamed, unnamed == 1 ? "" : "s"),
                     rest,
                     kUnlimitedDegreesOfFreedom,
                     {}});
  return shown;
}

std::string budget_foot(const Quantity& size) {
  return fmt::format(
      "Standard uncertainties, largest first (GUM, JCGM 100). Together {:.3f} mm; for 95 % that "
      "is \u00B1 {:.3f} mm.",
      size.standard_uncertainty_mm, size.expanded_95_mm());
}

std::vector<std::string> improvement_words(const PartSummary& part) {
  std::vector<std::string> words;
  for (const Improvement& improvement : improvements(part)) words.push_back(improvement.sentence);
  return words;
}

PhotoSets photo_sets(const PartSummary& part) {
  PhotoSets sets;
  for (const PhotoFinding& finding : part.photos) {
    sets.entries.push_back(finding.photo);
    (from_planes(finding.photo.view) ? sets.by_planes : sets.by_edges).push_back(&finding);
  }
  return sets;
}

}  // namespace scantling
