#include "report/measure_photos.h"

#include <map>

#include "base/each_index.h"
#include "camera/camera_profile_file.h"
#include "camera/camera_shelf.h"
#include "record/record_error.h"

namespace scantling {

namespace {

using Lip = std::pair<std::int64_t, std::optional<DiscFace>>;

void read_together(const std::vector<std::size_t>& group, const std::vector<PhotoToMeasure>& photos,
                   std::vector<MeasuredPhoto>& measured,
                   const std::vector<std::size_t>& place_of_photo) {
  std::vector<Analysis> analyses;
  for (const std::size_t i : group) analyses.push_back(measured[place_of_photo[i]].analysis);
  analyses = Analysis::agreed_on_lip(std::move(analyses));
  for (std::size_t k = 0; k < group.size(); ++k) {
    MeasuredPhoto& own = measured[place_of_photo[group[k]]];
    own.analysis = std::move(analyses[k]);
    for (const std::size_t other : group)
      if (other != group[k]) own.read_with.push_back(photos[other].photo.sha256);
  }
}

}  // namespace

std::vector<MeasuredPhoto> measure_photos(const std::vector<PhotoToMeasure>& photos,
                                          const std::atomic<bool>* stop) {
  std::vector<MeasuredPhoto> measured;
  std::vector<std::size_t> place_of_photo(photos.size());
  std::map<Lip, std::vector<std::size_t>> lips;
  for (std::size_t i = 0; i < photos.size(); ++i) {
    if (stop && *stop) return {};
    const PhotoToMeasure& photo = photos[i];
    if (from_planes(photo.options.view)) continue;
    place_of_photo[i] = measured.size();
    measured.push_back({photo.photo.id, Analysis::run(photo.path, photo.options), {}});
    if (photo.options.view == View::lip) lips[{photo.photo.part_id, photo.photo.face}].push_back(i);
  }
  for (const auto& [lip, group] : lips)
    if (group.size() > 1) read_together(group, photos, measured, place_of_photo);
  return measured;
}

std::vector<std::vector<PhotoToMeasure>> measured_together(
    const std::vector<PhotoToMeasure>& photos) {
  std::vector<std::vector<PhotoToMeasure>> groups;
  std::map<Lip, std::size_t> lips;
  for (const PhotoToMeasure& photo : photos) {
    if (from_planes(photo.options.view)) continue;
    if (photo.options.view == View::lip) {
      const auto [known, is_new] =
          lips.emplace(Lip{photo.photo.part_id, photo.photo.face}, groups.size());
      if (!is_new) {
        groups[known->second].push_back(photo);
        continue;
      }
    }
    groups.push_back({photo});
  }
  return groups;
}

std::vector<MeasurementEntry> measure_many(const std::vector<PhotoToMeasure>& photos,
                                           unsigned threads, const std::atomic<bool>* stop,
                                           const std::function<void(std::size_t)>& done) {
  const std::vector<std::vector<PhotoToMeasure>> groups = measured_together(photos);
  std::vector<std::vector<MeasurementEntry>> entries(groups.size());
  std::atomic<std::size_t> ready{0};
  for_each_index(
      groups.size(), threads,
      [&](std::size_t g) {
        for (const MeasuredPhoto& measured : measure_photos(groups[g], stop))
          entries[g].push_back(entry_of(measured));
        ready += groups[g].size();
        if (done) done(ready);
      },
      stop);
  std::vector<MeasurementEntry> all;
  for (const PhotoToMeasure& photo : photos)
    for (std::vector<MeasurementEntry>& group : entries)
      for (MeasurementEntry& entry : group)
        if (entry.photo_id == photo.photo.id) all.push_back(std::move(entry));
  return all;
}

MeasurementEntry entry_of(const MeasuredPhoto& measured, std::vector<MovedEdge> moved) {
  const Analysis& analysis = measured.analysis;
  MeasurementEntry entry;
  entry.photo_id = measured.photo_id;
  entry.measurement = moved.empty() ? analysis.measurement() : analysis.with_edges(moved);
  entry.options = analysis.options();
  entry.options.cameras.reset();
  entry.moved_edges = std::move(moved);
  entry.read_with = measured.read_with;
  if (const CameraProfile* profile = analysis.camera_profile())
    entry.camera_profile = profile_to_text(*profile);
  return entry;
}

std::shared_ptr<const CameraShelf> cameras_as_recorded(const MeasurementEntry& entry) {
  if (entry.camera_profile.empty()) return nullptr;
  CameraProfileLoad load =
      profile_from_text(entry.camera_profile, "the profile kept with the measurement");
  if (!load.profile) throw RecordError(load.checks.at(0).message);
  auto shelf = std::make_shared<CameraShelf>();
  shelf->profiles.push_back(std::move(*load.profile));
  shelf->named_by_user = true;  // it served this photo: it need not name its camera again
  return shelf;
}

}  // namespace scantling
