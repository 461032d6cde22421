#include "command_line/demo_sizes.h"

#include <algorithm>
#include <cmath>

#include "app/planes_solver.h"
#include "report/wording.h"

namespace scantling {

namespace {

/// The part as it would stand if nothing asked for a look; nobody has looked, so that the sizes are
/// no surer for it.
PartSummary as_proposed(const PartSummary& part) {
  std::vector<PhotoFinding> photos = part.photos;
  for (PhotoFinding& finding : photos) {
    finding.size.reset();
    if (!finding.newest) continue;
    for (MeasuredEdge& edge : finding.newest->measurement.edges)
      edge.confidence = std::max(edge.confidence, kLeastConfidence);
  }
  return summarise_part(part.part, std::move(photos), {});
}

bool asks_for_a_look(const PartSummary& part, View view, std::optional<DiscFace> face = {}) {
  for (const PhotoFinding& finding : part.photos)
    if (finding.photo.view == view && (!face || finding.photo.face == face) &&
        !finding.edges_to_confirm.empty())
      return true;
  return false;
}

DemoSize size_of(const std::string& dimension, std::string title, const TrueSizes& truth) {
  DemoSize size;
  size.dimension = dimension;
  size.title = std::move(title);
  size.true_mm = truth.of(dimension);
  return size;
}

std::vector<DemoSize> pad_sizes_of(const PartSummary& part, const TrueSizes& truth) {
  const PartSummary proposed = as_proposed(part);
  DemoSize size = size_of("friction_thickness", "friction material", truth);
  size.judged = true;
  size.to_confirm = asks_for_a_look(part, View::pad);
  if (proposed.size) {
    size.measured = proposed.size->quantity;
    size.true_mm = truth.of(size.dimension, proposed.size->at_mm);
    if (proposed.size->at_mm) size.title += ", thinnest place";
  }
  return {size};
}

std::vector<DemoSize> disc_sizes_of(const PartSummary& part, const TrueSizes& truth) {
  const PartSummary proposed = as_proposed(part);
  DemoSize rim = size_of("rim_thickness", "over the lips", truth);
  DemoSize out = size_of("lip_height_out", "less the outboard lip", truth);
  DemoSize in = size_of("lip_height_in", "less the inboard lip", truth);
  DemoSize worn = size_of("worn_thickness", "worn, inside the lips", truth);
  rim.to_confirm = asks_for_a_look(part, View::rim);
  out.to_confirm = asks_for_a_look(part, View::lip, DiscFace::outboard);
  in.to_confirm = asks_for_a_look(part, View::lip, DiscFace::inboard);
  worn.to_confirm = rim.to_confirm || out.to_confirm || in.to_confirm;
  if (proposed.worn) {
    const auto take = [](DemoSize& size, const std::optional<Dimension>& from) {
      if (from) size.measured = from->quantity;
    };
    take(rim, proposed.worn->rim);
    take(out, proposed.worn->lip_out);
    take(in, proposed.worn->lip_in);
    take(worn, proposed.worn->worn);
  }
  return {rim, out, in, worn};
}

/// The pad's whole thickness by its edges, to stand beside the one from planes.
std::optional<DemoSize> whole_pad(const PartSummary& part, const TrueSizes& truth) {
  for (const PhotoFinding& finding : part.photos) {
    if (!finding.newest || finding.photo.view != View::pad) continue;
    if (!finding.newest->measurement.usable()) continue;
    const Dimension* whole = finding.newest->measurement.dimension("overall_thickness");
    if (!whole) continue;
    DemoSize size = size_of("overall_thickness", "whole pad", truth);
    size.to_confirm = !finding.edges_to_confirm.empty();
    size.measured = whole->quantity;
    return size;
  }
  return std::nullopt;
}

/// Whether this is the size that the part's verdict rests on: a disc's is the surer of two.
bool counts_for(const PartSummary& part, const DemoSize& size) {
  return part.size && size.measured && part.size->dimension == size.dimension &&
         part.size->quantity.value_mm == size.measured->value_mm;
}

}  // namespace

std::optional<double> DemoSize::error_mm() const {
  if (!measured || !true_mm) return std::nullopt;
  return measured->value_mm - *true_mm;
}

std::optional<bool> DemoSize::inside_95() const {
  const auto error = error_mm();
  if (!error) return std::nullopt;
  return std::abs(*error) <= measured->expanded_95_mm();
}

std::vector<PlanesResult> solve_demo_planes(Record& record, const PartSummary& part,
                                            const DemoJob& demo,
                                            std::shared_ptr<const CameraShelf> cameras) {
  std::vector<PlanesResult> results;
  for (const View view : {View::faces, View::pile}) {
    std::vector<PhotoEntry> photos;
    for (const PhotoFinding& finding : part.photos)
      if (finding.photo.view == view) photos.push_back(finding.photo);
    if (photos.empty()) continue;
    const PlanesTask task{demo_planes_options(demo, view), planes_sources(record, photos), cameras};
    PlanesSolver solver;
    PlanesOutcome outcome = solver.advance(task);
    while (!outcome.complete(task)) outcome = solver.advance(task);
    for (const MeasurementEntry& entry : planes_entries(outcome)) record.add_measurement(entry);
    results.push_back(std::move(outcome.result));
  }
  return results;
}

std::vector<DemoSize> demo_sizes(const PartSummary& part, const TrueSizes& truth,
                                 const std::vector<PlanesResult>& planes) {
  std::vector<DemoSize> sizes =
      part.part.kind == PartKind::pad ? pad_sizes_of(part, truth) : disc_sizes_of(part, truth);
  if (part.part.kind == PartKind::disc)
    sizes.back().judged = !part.size || counts_for(part, sizes.back());
  for (const PlanesResult& result : planes) {
    const bool pile = result.view == PlanesView::pile;
    if (pile)
      if (auto whole = whole_pad(part, truth)) sizes.push_back(std::move(*whole));
    DemoSize size = pile ? size_of("overall_thickness", "whole pad", truth)
                         : size_of("worn_thickness", "worn, inside the lips", truth);
    size.planes = true;
    if (result.usable())
      if (const Dimension* measured = result.dimension(size.dimension))
        size.measured = measured->quantity;
    size.judged = counts_for(part, size);
    sizes.push_back(std::move(size));
  }
  return sizes;
}

}  // namespace scantling
