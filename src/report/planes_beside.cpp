#include "report/planes_beside.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "dimension/better_input.h"
#include "report/every_photo.h"
#include "report/wording.h"

namespace scantling {

namespace {

bool same_sizes(const Measurement& a, const Measurement& b) {
  return std::equal(a.dimensions.begin(), a.dimensions.end(), b.dimensions.begin(),
                    b.dimensions.end(), [](const Dimension& x, const Dimension& y) {
                      return x.name == y.name && x.quantity.value_mm == y.quantity.value_mm;
                    });
}

bool waits(const Measurement& measurement) {
  return std::any_of(measurement.checks.begin(), measurement.checks.end(),
                     [](const Check& check) { return check.id == kPlanesUnsolved; });
}

const Measurement* first_of_planes(const PartSummary& summary) {
  for (const PhotoFinding& f : summary.photos)
    if (from_planes(f.photo.view) && f.newest) return &f.newest->measurement;
  return nullptr;
}

const char* compared_dimension(PartKind kind) {
  return kind == PartKind::disc ? "worn_thickness" : "overall_thickness";
}

bool looked_at(const PhotoFinding& finding, const std::string& name) {
  const MeasuredEdge* edge = finding.newest->measurement.edge(name);
  return edge && edge_settled(*edge, finding.confirmations);
}

/// The surest of the pad's edge photos, as far as all edges that bound the pad are settled.
std::optional<Dimension> whole_pad(const PartSummary& summary) {
  const Dimension* best = nullptr;
  for (const PhotoFinding& f : summary.photos) {
    if (from_planes(f.photo.view) || !f.newest || f.scale_changed ||
        !f.newest->measurement.usable())
      continue;
    const std::vector<std::string> edges = edges_of_dimension("overall_thickness");
    if (!std::all_of(edges.begin(), edges.end(),
                     [&](const std::string& edge) { return looked_at(f, edge); }))
      continue;
    const Dimension* size = f.newest->measurement.dimension("overall_thickness");
    if (size &&
        (!best || size->quantity.standard_uncertainty_mm < best->quantity.standard_uncertainty_mm))
      best = size;
  }
  return best ? std::optional(*best) : std::nullopt;
}

std::string compare_sentence(PartKind kind, const PlanesBeside& both) {
  if (!both.disagree())
    return fmt::format(
        "Planes and edges agree: they lie {:.2f} mm apart, and their uncertainties together allow "
        "{:.2f} mm.",
        std::abs(both.difference_mm), both.joint_95_mm);
  const std::string apart = fmt::format(
      "Planes and edges lie {:.2f} mm apart, more than the {:.2f} mm that their uncertainties "
      "together allow: one of them is wrong.",
      std::abs(both.difference_mm), both.joint_95_mm);
  return apart + (kind == PartKind::disc
                      ? " Look at the edges of the rim and lip photos, and see that both cards lay "
                        "flat on clean metal. If they still differ, gauge the track with a "
                        "micrometer. Until then the thinner size counts."
                      : " Look at the edges of the pad's photo, and see that the pad lay flat on "
                        "the sheet and the card flat on the pad. If they still differ, gauge the "
                        "pad with a calliper.");
}

}  // namespace

bool solved_together(const std::vector<const PhotoFinding*>& photos) {
  std::multiset<std::string> all;
  for (const PhotoFinding* f : photos) all.insert(f->photo.sha256);
  return std::all_of(photos.begin(), photos.end(), [&](const PhotoFinding* f) {
    if (!f->newest) return false;
    std::multiset<std::string> own(f->newest->read_with.begin(), f->newest->read_with.end());
    own.insert(f->photo.sha256);
    return own == all;
  });
}

bool planes_settled(const PartSummary& summary) {
  const Measurement* first = first_of_planes(summary);
  if (!first) return false;
  const SheetScale* scale = nullptr;
  std::vector<const PhotoFinding*> photos;
  for (const PhotoFinding& f : summary.photos)
    if (from_planes(f.photo.view)) photos.push_back(&f);
  if (!solved_together(photos)) return false;
  for (const PhotoFinding& f : summary.photos) {
    if (!from_planes(f.photo.view)) continue;
    if (f.newest->measurement.view != f.photo.view || waits(f.newest->measurement) ||
        f.scale_changed || !same_sizes(f.newest->measurement, *first))
      return false;
    const SheetScale& own = f.newest->options.sheet_scale;
    if (scale && (own.x != scale->x || own.y != scale->y)) return false;
    scale = &own;
  }
  return true;
}

PlanesBeside planes_beside(const PartSummary& summary) {
  PlanesBeside both;
  const PartKind kind = summary.part.kind;
  if (planes_settled(summary)) {
    const Measurement& together = *first_of_planes(summary);
    if (together.usable())
      if (const Dimension* size = together.dimension(compared_dimension(kind))) both.planes = *size;
    const PhotoFinding* speaker = planes_speaker(summary);
    if (both.planes && kind == PartKind::disc && speaker && speaker->agreement)
      both.planes->quantity = corrected_by(both.planes->quantity, *speaker->agreement);
  }
  if (kind == PartKind::pad)
    both.edges = whole_pad(summary);
  else if (summary.worn)
    both.edges = summary.worn->worn;
  if (both.edges && summary.worn_by_edges) both.edges->quantity = *summary.worn_by_edges;
  if (!both.planes || !both.edges) return both;
  both.difference_mm = both.planes->quantity.value_mm - both.edges->quantity.value_mm;
  both.joint_95_mm =
      std::hypot(both.planes->quantity.expanded_95_mm(), both.edges->quantity.expanded_95_mm());
  both.normalised_error = std::abs(both.difference_mm) / both.joint_95_mm;
  both.sentence = compare_sentence(kind, both);
  return both;
}

namespace {

/// Written so that a chance that is no number is too large as well.
bool doubts(const PartSummary& summary, const Quantity& size, double allowed) {
  return summary.part.minimum_mm && !(probability_below(size, *summary.part.minimum_mm) <= allowed);
}

/// Whether the size allows for a mistaken edge that a look would settle.
bool nobody_looked(const Quantity& size) {
  const std::vector<std::string> inputs = better_inputs(size);
  return std::find(inputs.begin(), inputs.end(), kEdgesLookedAt) != inputs.end();
}

}  // namespace

std::string weigh_planes(PartSummary& summary) {
  if (summary.part.kind != PartKind::disc) return {};
  const PlanesBeside both = planes_beside(summary);
  if (!both.planes || !(both.planes->confidence >= kLeastConfidence)) return {};
  GoverningSize planes{both.planes->name, both.planes->quantity, std::nullopt,
                       "The size comes from the planes of the track cards."};
  if (const PhotoFinding* speaker = planes_speaker(summary); speaker && speaker->agreement)
    if (const std::string corrected = correction_sentence(*speaker->agreement); !corrected.empty())
      planes.because += " " + corrected;
  if (!both.edges) {
    if (summary.size) return {};
    summary.size = std::move(planes);
    return "Only the planes say it is thick enough, and one way of measuring clears no part: add "
           "photos of the rim and the lips that say so too, or a reading by hand.";
  }
  const Quantity& edges = both.edges->quantity;
  if (both.disagree())
    summary.cautions.push_back({"planes_disagree", Severity::warn, both.sentence});
  else
    planes.because = both.sentence + " The surer one counts, here the planes.";
  const bool rather_planes = both.disagree()
                                 ? both.difference_mm < 0
                                 : planes.quantity.expanded_95_mm() < edges.expanded_95_mm();
  if (!rather_planes)
    return doubts(summary, planes.quantity, kKeepAtMost)
               ? "The edges are sure that it is thick enough, but the planes are not, and neither "
                 "may hide the other. Take more photos for the planes, or remove them, or enter a "
                 "reading by hand."
               : std::string();
  summary.size = std::move(planes);
  if (!doubts(summary, edges, kEdgesMayDoubt)) return {};
  const std::string doubt =
      "Only the planes are sure: by the edges alone there is more than a 15 % chance that the disc "
      "is below its minimum, and one way of measuring clears no part. ";
  return doubt + (nobody_looked(edges)
                      ? "Look at the rim's edges, and confirm or drag them; if that is not enough, "
                        "take the rim and the lips again, surer, or enter a reading by hand."
                      : "Take the rim and the lips again, surer, or enter a reading by hand.");
}

bool planes_govern(const PartSummary& summary) {
  if (summary.part.kind != PartKind::disc || !summary.size) return false;
  const PlanesBeside both = planes_beside(summary);
  return both.planes && both.planes->quantity.value_mm == summary.size->quantity.value_mm &&
         both.planes->quantity.standard_uncertainty_mm ==
             summary.size->quantity.standard_uncertainty_mm;
}

}  // namespace scantling
