#include "app/planes_solver.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

namespace scantling {

namespace {

constexpr double kAssumedCard_mm = CardThickness{}.standard_uncertainty_mm;

/// The card that a photo shows, or the ground sheet; its scale and pose are means over all photos.
CardSummary card_of(const SolvedPhoto& photo, const PlanesResult& result) {
  CardSummary card;
  const PlanePiece shown = photo.shows.empty() ? PlanePiece::ground : photo.shows.back();
  card.name = printed_pieces()[static_cast<std::size_t>(shown)]->name;
  card.camera = photo.camera;
  card.corners = static_cast<int>(std::count_if(photo.corners.begin(), photo.corners.end(),
                                                [](const SolvedCorner& c) { return c.used; }));
  card.residual_px = photo.residual_px;
  if (const SolvedPiece* piece = result.piece(shown)) {
    card.px_per_mm = piece->px_per_mm;
    card.tilt_deg = piece->tilt_deg;
    card.distance_mm = piece->distance_mm;
  }
  return card;
}

}  // namespace

CardThickness card_thickness_of(const PartOffset& offset) {
  return {offset.offset_mm, offset.standard_uncertainty_mm,
          offset.standard_uncertainty_mm < kAssumedCard_mm};
}

PlanesOptions planes_options_of(const MeasureOptions& options) {
  PlanesOptions planes;
  planes.view = options.view == View::faces ? PlanesView::faces : PlanesView::pile;
  planes.sheet_scale = options.sheet_scale;
  planes.card_thickness = card_thickness_of(options.part_offset);
  return planes;
}

bool same_planes_options(const MeasureOptions& a, const MeasureOptions& b) {
  return a.view == b.view && a.sheet_scale == b.sheet_scale && a.part_offset == b.part_offset;
}

bool PlanesOutcome::part_of(const PlanesTask& task) const {
  return same_planes_options(options, task.options) && photo_ids.size() <= task.photos.size() &&
         std::equal(
             photo_ids.begin(), photo_ids.end(), task.photos.begin(),
             [](std::int64_t id, const PlanesSource& source) { return id == source.photo_id; });
}

bool PlanesOutcome::complete(const PlanesTask& task) const {
  return photo_ids.size() == task.photos.size() && part_of(task);
}

std::vector<PlanesSource> planes_sources(const Record& record,
                                         const std::vector<PhotoEntry>& photos) {
  std::map<std::string, int> seen;
  std::vector<PlanesSource> sources;
  for (const PhotoEntry& photo : photos) {
    const int number = ++seen[photo.original_name];
    sources.push_back(
        {photo.id,
         number == 1 ? photo.original_name : fmt::format("{} ({})", photo.original_name, number),
         record.photo_path(photo), photo.sha256});
  }
  return sources;
}

std::vector<MeasurementEntry> planes_entries(const PlanesOutcome& outcome) {
  std::vector<MeasurementEntry> entries;
  for (std::size_t i = 0; i < outcome.photo_ids.size(); ++i) {
    MeasurementEntry entry;
    entry.photo_id = outcome.photo_ids[i];
    entry.options = outcome.options;
    for (std::size_t k = 0; k < outcome.sha256.size(); ++k)
      if (k != i) entry.read_with.push_back(outcome.sha256[k]);
    entry.measurement.view = outcome.options.view;
    entry.measurement.dimensions = outcome.result.dimensions;
    entry.measurement.checks = outcome.result.checks;
    entry.measurement.timing_ms = outcome.result.timing_ms;
    if (i < outcome.result.photos.size() && outcome.result.photos[i].solved)
      entry.measurement.card = card_of(outcome.result.photos[i], outcome.result);
    entries.push_back(std::move(entry));
  }
  return entries;
}

void PlanesSolver::keep_first(std::size_t count) {
  outcome_.photo_ids.resize(count);
  outcome_.sha256.resize(count);
  outcome_.steps.resize(count);
  session_.emplace(planes_options_of(outcome_.options));
  std::vector<PlanePhoto> kept;
  for (const std::int64_t id : outcome_.photo_ids) kept.push_back(sightings_.at(id));
  if (!kept.empty()) session_->add(std::move(kept));
}

void PlanesSolver::take_in(const PlanesTask& task, const PlanesSource& source) {
  if (!sightings_.contains(source.photo_id)) {
    // The store names files by their content: sentences must name the photo as the user does.
    PhotoLoad load = load_photo(source.file);
    PlanePhoto photo;
    if (load.photo) photo = sight_pieces(*load.photo, source.name, task.cameras.get());
    photo.name = source.name;
    for (Check& check : load.checks) check.message = "'" + source.name + "': " + check.message;
    photo.checks.insert(photo.checks.begin(), load.checks.begin(), load.checks.end());
    sightings_.emplace(source.photo_id, std::move(photo));
  }
  session_->add(sightings_.at(source.photo_id));
  outcome_.photo_ids.push_back(source.photo_id);
  outcome_.sha256.push_back(source.sha256);
  PlanesStep step{outcome_.photo_ids.size(), std::nullopt, 0};
  const PlanesResult& result = session_->result();
  if (result.usable()) {
    step.value_mm = result.dimensions.front().quantity.value_mm;
    step.expanded_95_mm = result.dimensions.front().quantity.expanded_95_mm();
  }
  outcome_.steps.push_back(step);
}

PlanesOutcome PlanesSolver::advance(const PlanesTask& task) {
  if (cameras_ != task.cameras) {
    sightings_.clear();
    session_.reset();
    cameras_ = task.cameras;
  }
  if (!session_ || !same_planes_options(outcome_.options, task.options)) {
    outcome_ = {};
    outcome_.options = task.options;
    keep_first(0);
  }
  std::size_t shared = 0;
  while (shared < outcome_.photo_ids.size() && shared < task.photos.size() &&
         outcome_.photo_ids[shared] == task.photos[shared].photo_id)
    ++shared;
  if (shared < outcome_.photo_ids.size()) keep_first(shared);
  bool searched = false;
  for (std::size_t i = shared; i < task.photos.size(); ++i) {
    const bool known = sightings_.contains(task.photos[i].photo_id);
    if (!known && searched) break;
    searched = searched || !known;
    take_in(task, task.photos[i]);
  }
  outcome_.result = session_->result();
  return outcome_;
}

}  // namespace scantling
