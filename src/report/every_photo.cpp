#include "report/every_photo.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "dimension/lip_sizes.h"
#include "report/planes_beside.h"
#include "report/wording.h"
#include "verdict/size_text.h"

namespace scantling {

namespace {

/// One face's lip from all its photos whose edges are settled.
std::optional<Measurement> lip_of(const PartSummary& summary, DiscFace face) {
  const std::vector<Measurement> photos = settled_lips(summary, face);
  if (photos.empty()) return std::nullopt;
  return solve_lip_together(photos);
}

/// What one photo alone says of the part.
struct Alone {
  const PhotoFinding* photo = nullptr;
  Quantity size;
};

std::vector<Alone> sizes_alone(const PartSummary& summary) {
  std::vector<Alone> sizes;
  if (summary.part.kind == PartKind::pad) {
    for (const PhotoFinding& finding : summary.photos)
      if (finding.size) sizes.push_back({&finding, finding.size->quantity});
    return sizes;
  }
  const Agreement* agreement = agreement_of_edges(summary);
  for (const PhotoFinding* rim : settled_rims(summary)) {
    const WornThickness worn = worn_by(summary, rim->newest->measurement);
    if (!worn.worn) continue;
    const Quantity& size = worn.worn->quantity;
    sizes.push_back({rim, agreement ? corrected_by(size, *agreement) : size});
  }
  return sizes;
}

/// The first of them where all share one key.
const PhotoFinding* speaker_of(const std::vector<const PhotoFinding*>& photos) {
  if (photos.empty() || !photos.front()->key) return nullptr;
  const bool alike = std::all_of(photos.begin(), photos.end(), [&](const PhotoFinding* f) {
    return f->key == photos.front()->key;
  });
  return alike ? photos.front() : nullptr;
}

}  // namespace

WornThickness worn_by(const PartSummary& summary, const Measurement& rim) {
  const auto out = lip_of(summary, DiscFace::outboard), in = lip_of(summary, DiscFace::inboard);
  return worn_thickness(rim, out ? &*out : nullptr, in ? &*in : nullptr);
}

std::string photo_that_objects(const PartSummary& summary) {
  if (!summary.part.minimum_mm) return {};
  const double minimum_mm = *summary.part.minimum_mm;
  const double allowed = planes_govern(summary) ? kEdgesMayDoubt : kKeepAtMost;
  const Alone* worst = nullptr;
  double worst_doubt = allowed;
  const std::vector<Alone> sizes = sizes_alone(summary);
  for (const Alone& alone : sizes) {
    const double p = probability_below(alone.size, minimum_mm);
    const double doubt = std::isnan(p) ? 1 : p;
    if (doubt <= worst_doubt) continue;
    worst = &alone;
    worst_doubt = doubt;
  }
  if (!worst) return {};
  const std::string& name = worst->photo->photo.original_name;
  return fmt::format(
      "{} alone cannot clear the part: it gives {}, with a chance of {} of being below the "
      "minimum, "
      "and no photo may hide another. Take that photo again, sharper and closer, and remove it; or "
      "gauge the part and enter the reading.",
      name.empty() ? std::string("One photo") : "The photo " + name, size_with_95(worst->size),
      chance_text(worst_doubt));
}

const PhotoFinding* edges_speaker(const PartSummary& summary) {
  std::vector<const PhotoFinding*> photos = settled_rims(summary);
  for (const PhotoFinding& f : summary.photos)
    if (settled(f) && f.newest->measurement.view == View::lip && f.newest->measurement.usable())
      photos.push_back(&f);
  return speaker_of(photos);
}

const Agreement* agreement_of_edges(const PartSummary& summary) {
  const PhotoFinding* speaker = edges_speaker(summary);
  return speaker && speaker->agreement ? &*speaker->agreement : nullptr;
}

const PhotoFinding* planes_speaker(const PartSummary& summary) {
  std::vector<const PhotoFinding*> photos;
  for (const PhotoFinding& f : summary.photos)
    if (from_planes(f.photo.view)) photos.push_back(&f);
  return speaker_of(photos);
}

}  // namespace scantling
