// The part of Session that takes in what was sorted.
#include <algorithm>
#include <map>

#include "app/session.h"

namespace scantling {

SortingContext Session::sorting_context() const {
  SortingContext context;
  if (!job_) return context;
  for (const PartSummary& part : job_->parts)
    for (const PhotoFinding& finding : part.photos) {
      FiledPhoto filed;
      filed.sha256 = finding.photo.sha256;
      filed.place = PhotoPlace::part(slot_of(part.part), kind_of(finding.photo));
      if (finding.newest && finding.photo.view == View::pad)
        if (const Dimension* all = finding.newest->measurement.dimension("overall_thickness"))
          filed.thickness =
              RoughSize{all->quantity.value_mm, all->quantity.standard_uncertainty_mm};
      context.filed.push_back(std::move(filed));
    }
  // In an empty job the first part stands there unasked.
  if (!context.filed.empty() || !(slot_ == PartSlot{})) context.start = slot_;
  return context;
}

void Session::heap_filed(const FiledHeap& heap, bool show) {
  if (heap.photos.empty()) return;
  const PhotoEntry& first = heap.photos.front();
  history_.already_done(edit_file_photos(heap));
  if (job_ && job_->job.id == heap.job_id)
    reload();
  else if (show)
    open_job(heap.job_id);
  if (!show || !job_) return;
  for (const PartSummary& part : job_->parts)
    if (part.part.id == first.part_id) select_part(slot_of(part.part));
  if (!from_planes(first.view)) select_photo(first.id);
}

bool Session::select_next_to_confirm() {
  if (!job_) return false;
  std::vector<std::pair<PartSlot, std::int64_t>> waiting;
  std::size_t next = 0;  // the first one after the photo in hand
  bool passed = false;
  for (const PartSummary& part : job_->parts)
    for (const PhotoFinding& finding : part.photos) {
      if (finding.photo.id == photo_id_) {
        passed = true;
        next = waiting.size();
      }
      const bool here = finding.photo.id == photo_id_;
      if (!here && !finding.edges_to_confirm.empty())
        waiting.emplace_back(slot_of(part.part), finding.photo.id);
    }
  if (waiting.empty()) {
    const PhotoFinding* here = photo();
    return here && !here->edges_to_confirm.empty();
  }
  if (!passed || next >= waiting.size()) next = 0;
  const auto [slot, id] = waiting[next];
  select_part(slot);
  select_photo(id);
  return true;
}

}  // namespace scantling
