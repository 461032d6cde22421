#include "report/part_summary.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "dimension/lip_sizes.h"
#include "dimension/looked_at.h"
#include "report/due_photos.h"
#include "report/every_photo.h"
#include "report/planes_beside.h"
#include "report/wording.h"

namespace scantling {

namespace {

bool confirmed(const std::vector<EdgeConfirmation>& confirmations, const std::string& edge) {
  return std::any_of(confirmations.begin(), confirmations.end(),
                     [&](const EdgeConfirmation& c) { return c.edge == edge; });
}

/// A rim that is thin even over its lips is thin for certain; it never clears the track below.
std::optional<Quantity> rim_below_minimum(const PartSummary& summary) {
  if (summary.part.kind != PartKind::disc || !summary.part.minimum_mm) return std::nullopt;
  for (const PhotoFinding* finding : settled_rims(summary)) {
    const Quantity& rim = finding->newest->measurement.dimension("rim_thickness")->quantity;
    if (probability_below(rim, *summary.part.minimum_mm) >= kReplaceAtLeast) return rim;
  }
  return std::nullopt;
}

bool has_rim_photo(const PartSummary& summary) {
  return std::any_of(summary.photos.begin(), summary.photos.end(), [](const PhotoFinding& f) {
    return f.newest && f.newest->measurement.dimension("rim_thickness");
  });
}

/// A disc's worn thickness out of its photos; the rim alone never stands for it.
void combine_disc(PartSummary& summary) {
  const Measurement* rim = settled_rim(summary);
  if (!rim) return;
  summary.worn = worn_by(summary, *rim);
  for (const Check& check : summary.worn->checks)
    if (check.severity == Severity::warn) summary.cautions.push_back(check);
  if (!summary.worn->worn) return;
  const Agreement* agreement = agreement_of_edges(summary);
  summary.worn_by_edges = summary.worn->worn->quantity;
  if (agreement) summary.worn_by_edges = corrected_by(*summary.worn_by_edges, *agreement);
  GoverningSize size{summary.worn->worn->name, *summary.worn_by_edges, std::nullopt, {}};
  if (summary.worn->rim) size.because = worn_words(*summary.worn);
  if (agreement)
    if (const std::string corrected = correction_sentence(*agreement); !corrected.empty())
      size.because += (size.because.empty() ? "" : " ") + corrected;
  summary.size = std::move(size);
}

/// Chooses the governing photo and says where photos contradict each other.
void choose_photo(PartSummary& summary) {
  const auto size_of = [&](std::size_t i) -> const Quantity& {
    return summary.photos[i].size->quantity;
  };
  std::vector<std::size_t> sized;
  for (std::size_t i = 0; i < summary.photos.size(); ++i)
    if (summary.photos[i].size) sized.push_back(i);
  if (sized.empty()) return;
  const std::size_t surest =
      *std::min_element(sized.begin(), sized.end(), [&](std::size_t a, std::size_t b) {
        return size_of(a).expanded_95_mm() < size_of(b).expanded_95_mm();
      });
  std::size_t governing = surest;
  for (std::size_t i : sized) {
    const double apart = std::abs(size_of(i).value_mm - size_of(surest).value_mm);
    const double joint = std::hypot(size_of(i).expanded_95_mm(), size_of(surest).expanded_95_mm());
    if (apart <= joint) continue;
    if (size_of(i).value_mm < size_of(governing).value_mm) governing = i;
    summary.cautions.push_back(
        {"photos_disagree", Severity::warn,
         fmt::format("Two photos of this part differ: {} and {}, more than their uncertainties "
                     "explain. The thinner one counts. Look at the edges of both, and take one "
                     "more photo.",
                     size_with_95(size_of(surest)), size_with_95(size_of(i)))});
  }
  summary.governing_photo = governing;
  summary.size = summary.photos[governing].size;
}

/// A photo that is measured edge by edge and was not yet, with what was entered.
bool to_be_measured(const PhotoFinding& finding) {
  return !from_planes(finding.photo.view) &&
         (!finding.newest || waits_to_be_measured(finding.newest->measurement));
}

std::string first_stop(const PartSummary& summary) {
  for (const PhotoFinding& finding : summary.photos)
    if (finding.newest)
      for (const Check& check : finding.newest->measurement.checks)
        if (check.severity == Severity::stop) return check.message;
  return {};
}

std::string edges_sentence(const PartSummary& summary) {
  std::string list;
  for (const PhotoFinding& finding : summary.photos)
    for (const std::string& edge : finding.edges_to_confirm) {
      const std::string title = edge_title(edge);
      if (list.find(title) == std::string::npos) list += (list.empty() ? "" : ", ") + title;
    }
  return fmt::format(
      "The program is not sure of an edge ({}): look at it, then confirm it or drag it to its "
      "place.",
      list);
}

std::vector<HandReading> plain(const std::vector<HandReadingEntry>& entries) {
  std::vector<HandReading> readings;
  readings.reserve(entries.size());
  for (const HandReadingEntry& e : entries)
    readings.push_back({e.value_mm, e.standard_uncertainty_mm, e.instrument});
  return readings;
}

bool stale(const PhotoFinding& finding) {
  return finding.scale_changed && !from_planes(finding.photo.view) && finding.newest &&
         finding.newest->measurement.usable();
}

std::string name_of(const PhotoFinding& finding) {
  return finding.photo.original_name.empty() ? std::string("One photo")
                                             : "The photo " + finding.photo.original_name;
}

/// Photos whose sizes rest on a print scale that is known otherwise by now.
std::string stale_sentence(const PartSummary& summary) {
  for (const PhotoFinding& finding : summary.photos)
    if (stale(finding))
      return fmt::format(
          "{} was measured with another print scale than the sheet has now, so its size does not "
          "count: measure it again (the window does it by itself when it opens the job), or remove "
          "it.",
          name_of(finding));
  return {};
}

/// A verdict that clears the part becomes "gauge it", with the reason first.
void take_keep_back(PartSummary& summary, const std::string& why) {
  if (!summary.verdict || why.empty()) return;
  VerdictState& state = summary.verdict->state;
  if (state != VerdictState::keep && state != VerdictState::keep_due_soon) return;
  state = VerdictState::gauge_it;
  summary.verdict->because.insert(summary.verdict->because.begin(), why);
}

std::optional<double> left_above_minimum(const PartSummary& summary) {
  if (!summary.part.minimum_mm) return std::nullopt;
  const auto smallest =
      std::min_element(summary.readings.begin(), summary.readings.end(),
                       [](const auto& a, const auto& b) { return a.value_mm < b.value_mm; });
  if (smallest != summary.readings.end()) return smallest->value_mm - *summary.part.minimum_mm;
  if (!summary.size) return std::nullopt;
  return summary.size->quantity.value_mm - *summary.part.minimum_mm;
}

void settle_without_size(PartSummary& summary, bool measured) {
  if (!measured) {
    summary.standing = PartStanding::nothing_yet;
    summary.state = "not measured";
    const bool waits = std::any_of(summary.photos.begin(), summary.photos.end(), to_be_measured);
    summary.because.push_back(waits ? "Its photo waits to be measured."
                                    : "Add a photo with the card, or a reading by hand.");
    return;
  }
  summary.standing = PartStanding::photo_unusable;
  summary.state = verdict_word(VerdictState::gauge_it);
  if (const std::string stale_photo = stale_sentence(summary); !stale_photo.empty())
    summary.because.push_back(stale_photo);
  else if (has_rim_photo(summary))
    summary.because.push_back(
        "A photo of the rim shows the disc over its lips, not the worn track: add photos of the "
        "lips with the track card, or gauge the track with a micrometer and enter the reading.");
  else
    summary.because.push_back("No photo gives a size: gauge it with a calliper or a micrometer.");
  if (const std::string stop = first_stop(summary); !stop.empty()) summary.because.push_back(stop);
}

}  // namespace

std::vector<std::string> edges_of_dimension(std::string_view dimension) {
  if (dimension == "friction_thickness" || dimension == "friction_taper")
    return {"plate_friction", "friction_outer"};
  if (dimension == "plate_thickness") return {"plate_outer", "plate_friction"};
  if (dimension == "overall_thickness") return {"plate_outer", "friction_outer"};
  if (dimension == "rim_thickness") return {"face_a", "face_b"};
  if (dimension == "lip_height") return {"wall_foot", "wall_top"};
  return {};
}

bool edge_settled(const MeasuredEdge& edge, const std::vector<EdgeConfirmation>& confirmations) {
  // Written so that a confidence that is no number asks for a look.
  return edge.confidence >= kLeastConfidence || edge.origin == EdgeOrigin::moved ||
         confirmed(confirmations, edge.name);
}

std::vector<std::string> unconfirmed_edges(const Measurement& measurement,
                                           const std::vector<EdgeConfirmation>& confirmations) {
  const char* judged = measurement.view == View::pad   ? "friction_thickness"
                       : measurement.view == View::rim ? "rim_thickness"
                                                       : "lip_height";
  std::vector<std::string> doubtful;
  if (!measurement.usable()) return doubtful;
  for (const std::string& name : edges_of_dimension(judged)) {
    const MeasuredEdge* edge = measurement.edge(name);
    if (edge && !edge_settled(*edge, confirmations)) doubtful.push_back(name);
  }
  return doubtful;
}

Measurement as_confirmed(Measurement measurement,
                         const std::vector<EdgeConfirmation>& confirmations) {
  std::vector<std::string> edges;
  edges.reserve(confirmations.size());
  for (const EdgeConfirmation& c : confirmations) edges.push_back(c.edge);
  return looked_at(std::move(measurement), edges);
}

bool settled(const PhotoFinding& finding) {
  return finding.newest && finding.edges_to_confirm.empty() && !finding.scale_changed;
}

std::vector<const PhotoFinding*> settled_rims(const PartSummary& summary) {
  std::vector<const PhotoFinding*> rims;
  for (const PhotoFinding& f : summary.photos)
    if (settled(f) && f.newest->measurement.view == View::rim && f.newest->measurement.usable() &&
        f.newest->measurement.dimension("rim_thickness"))
      rims.push_back(&f);
  return rims;
}

const Measurement* settled_rim(const PartSummary& summary) {
  const Measurement* best = nullptr;
  const auto u = [](const Measurement& m) {
    return m.dimension("rim_thickness")->quantity.standard_uncertainty_mm;
  };
  for (const PhotoFinding* f : settled_rims(summary))
    if (!best || u(f->newest->measurement) < u(*best)) best = &f->newest->measurement;
  return best;
}

std::vector<Measurement> settled_lips(const PartSummary& summary, DiscFace face) {
  std::vector<Measurement> photos;
  for (const PhotoFinding& f : summary.photos)
    if (settled(f) && f.newest->measurement.view == View::lip && f.photo.face == face &&
        f.newest->measurement.usable() && f.newest->measurement.lip)
      photos.push_back(f.newest->measurement);
  return photos;
}

std::optional<Quantity> settled_size(const PartSummary& summary) {
  const auto smallest =
      std::min_element(summary.readings.begin(), summary.readings.end(),
                       [](const auto& a, const auto& b) { return a.value_mm < b.value_mm; });
  if (smallest != summary.readings.end())
    return Quantity{
        smallest->value_mm, smallest->standard_uncertainty_mm, kUnlimitedDegreesOfFreedom, {}};
  if (summary.size) return summary.size->quantity;
  return std::nullopt;
}

PartSummary summarise_part(const Part& part, std::vector<PhotoFinding> photos,
                           std::vector<HandReadingEntry> readings, bool due_soon) {
  PartSummary summary;
  summary.part = part;
  summary.photos = std::move(photos);
  summary.readings = std::move(readings);
  bool measured = false;
  bool to_confirm = false;
  for (PhotoFinding& finding : summary.photos) {
    if (!finding.newest || waits_to_be_measured(finding.newest->measurement)) continue;
    // A pile of pad and card tells the whole pad's thickness, not the friction material's.
    measured = measured || finding.photo.view != View::pile;
    if (from_planes(finding.photo.view)) continue;  // solved together: see weigh_planes
    finding.edges_to_confirm =
        unconfirmed_edges(finding.newest->measurement, finding.confirmations);
    to_confirm = to_confirm || !finding.edges_to_confirm.empty();
    finding.newest->measurement =
        as_confirmed(std::move(finding.newest->measurement), finding.confirmations);
    if (!settled(finding)) continue;
    finding.size = governing_size(part.kind, finding.newest->measurement, part.minimum_mm,
                                  finding.agreement ? &*finding.agreement : nullptr);
  }
  choose_photo(summary);
  if (part.kind == PartKind::disc && !summary.size) combine_disc(summary);
  const std::optional<Quantity> thin_rim = rim_below_minimum(summary);
  const std::string planes_object = thin_rim ? std::string() : weigh_planes(summary);
  std::optional<Quantity> by_photo;
  if (summary.size) by_photo = summary.size->quantity;
  if (!by_photo) by_photo = thin_rim;

  if (to_confirm && summary.readings.empty()) {
    summary.standing = PartStanding::confirm_first;
    summary.state = "confirm the edges first";
    summary.because.push_back(edges_sentence(summary));
    return summary;
  }
  if (!by_photo && summary.readings.empty()) {
    settle_without_size(summary, measured);
    return summary;
  }
  summary.left_mm = left_above_minimum(summary);
  summary.verdict = judge(by_photo, plain(summary.readings), part.minimum_mm, due_soon);
  if (summary.readings.empty()) {
    take_keep_back(summary, planes_object);
    take_keep_back(summary, photo_that_objects(summary));
    take_keep_back(summary, stale_sentence(summary));
  }
  if (!summary.verdict) {
    summary.standing = PartStanding::no_minimum;
    summary.state = "no minimum given";
    summary.because.push_back(
        "Enter the part's minimum, from the part itself or the maker's data, to get a verdict.");
  } else {
    summary.standing = PartStanding::judged;
    summary.state = verdict_word(summary.verdict->state);
    summary.because = summary.verdict->because;
    summary.cautions.insert(summary.cautions.end(), summary.verdict->checks.begin(),
                            summary.verdict->checks.end());
    if (!summary.size && thin_rim)
      summary.because.push_back(
          "The disc is that thin even over its lips; the worn track is thinner still.");
  }
  if (summary.size && !summary.size->because.empty())
    summary.because.push_back(summary.size->because);
  if (to_confirm) summary.because.push_back(edges_sentence(summary));
  return summary;
}

}  // namespace scantling
