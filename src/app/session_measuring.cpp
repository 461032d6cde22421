// The part of Session that says which photos are to be measured, and takes what they gave.
#include <algorithm>

#include "app/session.h"

namespace scantling {

std::vector<Session::WantedPhoto> Session::wanted_photos() const {
  std::vector<WantedPhoto> photos;
  if (!job_) return photos;
  for (const PartSummary& part : job_->parts)
    for (const PhotoFinding& finding : part.photos)
      if (!from_planes(finding.photo.view))
        photos.push_back(
            {finding.photo.id, wanted_options(finding, part.part), is_due(finding, part.part)});
  return photos;
}

std::vector<DuePhoto> Session::due_together(
    std::int64_t photo_id, const std::shared_ptr<const CameraShelf>& cameras) const {
  if (job_)
    for (const PartSummary& part : job_->parts)
      for (const PhotoFinding& finding : part.photos)
        if (finding.photo.id == photo_id)
          return scantling::due_together(*record_, part, photo_id, cameras);
  return {};
}

std::vector<std::int64_t> Session::analyses_ready(const std::vector<MeasuredPhoto>& measured,
                                                  const std::vector<DuePhoto>& photos) {
  const std::vector<WantedPhoto> wanted = wanted_photos();
  const auto find = [&](std::int64_t photo_id) {
    return std::find_if(wanted.begin(), wanted.end(),
                        [&](const WantedPhoto& photo) { return photo.photo_id == photo_id; });
  };
  // Those of a job that was left meanwhile are in nobody's way, but are not drawn either.
  for (const MeasuredPhoto& one : measured)
    if (find(one.photo_id) != wanted.end()) analyses_.insert_or_assign(one.photo_id, one);
  std::vector<std::int64_t> changed;
  const bool due =
      std::any_of(photos.begin(), photos.end(), [](const DuePhoto& p) { return p.due; });
  if (due) {
    changed = keep_measurements(*record_, new_measurements(measured, photos));
    reload();
  }
  drop_outdated_analyses();
  return changed;
}

const Analysis* Session::analysis() const {
  return analysis_of(photo_id_);
}

const Analysis* Session::analysis_of(std::int64_t photo_id) const {
  const auto known = analyses_.find(photo_id);
  return known == analyses_.end() ? nullptr : &known->second.analysis;
}

}  // namespace scantling
