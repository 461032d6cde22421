// The part of Session that takes photos in and says what they measure.
#include <algorithm>
#include <utility>

#include "app/session.h"

namespace scantling {

PhotoKind Session::kind_to_add() const {
  const std::vector<PhotoKind> kinds = photo_kinds(slot_.kind);
  if (kind_chosen_ && std::find(kinds.begin(), kinds.end(), *kind_chosen_) != kinds.end())
    return *kind_chosen_;
  for (const PhotoKind& kind : kinds)
    if (kind_is_wanted(kind)) return kind;
  return kinds.front();
}

bool Session::kind_is_wanted(const PhotoKind& kind) const {
  if (kind_chosen_ == kind) return true;
  std::size_t taken = 0;
  if (const PartSummary* selected = part())
    for (const PhotoFinding& finding : selected->photos)
      if (kind_of(finding.photo) == kind) ++taken;
  return taken < photos_wanted(kind);
}

void Session::photo_added(const PhotoEntry& photo, bool show) {
  reload();
  const PartSummary* part = nullptr;
  if (job_)
    for (const PartSummary& state : job_->parts)
      if (state.part.id == photo.part_id) part = &state;
  if (!part) return;  // its job was left meanwhile: it is there when that is opened again
  history_.already_done(edit_add_photo(
      "add photo", {.job_id = job_->job.id, .part_id = photo.part_id, .photo_id = photo.id}));
  if (show && slot_of(part->part) == slot_) select_photo(photo.id);
}

void Session::remove_photo() {
  if (!photo()) return;
  const auto removed = focus();
  perform(edit_remove_photo("remove photo", removed));
  select_part(slot_);
}

const Measurement* Session::measurement() const {
  if (preview_) return &*preview_;
  const PhotoFinding* shown = photo();
  return shown && shown->newest ? &shown->newest->measurement : nullptr;
}

const PartSummary* Session::summary() const {
  if (preview_summary_) return &*preview_summary_;
  if (!job_) return nullptr;
  const PartSummary* known = part();
  return known ? known : &empty_part_;
}

const GoverningSize* Session::photo_size() const {
  const PartSummary* shown = summary();
  if (!shown) return nullptr;
  for (const PhotoFinding& finding : shown->photos)
    if (finding.photo.id == photo_id_ && finding.size) return &*finding.size;
  return nullptr;
}

std::vector<MovedEdge> Session::moved_edges() const {
  const PhotoFinding* shown = photo();
  return shown && shown->newest ? shown->newest->moved_edges : std::vector<MovedEdge>{};
}

}  // namespace scantling
