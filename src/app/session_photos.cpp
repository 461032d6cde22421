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

void Session::photo_added(const PhotoEntry& photo) {
  reload();
  const PartSummary* part = nullptr;
  if (job_)
    for (const PartSummary& state : job_->parts)
      if (state.part.id == photo.part_id) part = &state;
  if (!part) return;  // its job was left meanwhile: it is there when that is opened again
  slot_ = slot_of(part->part);
  select_photo(photo.id);
  history_.already_done(edit_add_photo("add photo", focus()));
}

void Session::remove_photo() {
  if (!photo()) return;
  const auto removed = focus();
  perform(edit_remove_photo("remove photo", removed));
  select_part(slot_);
}

MeasureOptions Session::options_for(const PhotoEntry& photo) const {
  MeasureOptions options;
  options.view = photo.view;
  if (const PartSummary* selected = part())
    options.disc_diameter_mm = selected->part.disc_diameter_mm;
  if (job_ && job_->sheet) options.sheet_scale = job_->sheet->scale;
  return options;
}

void Session::analysis_ready(const MeasuredPhoto& measured, bool anew) {
  analyses_.insert_or_assign(measured.photo_id, measured);
  const auto newest = record_->newest_measurement(measured.photo_id);
  if (newest && (!anew || !newest->moved_edges.empty())) return;
  record_->add_measurement(entry_of(measured));
  reload();
}

std::vector<PhotoToMeasure> Session::photos_to_rescale() const {
  std::vector<PhotoToMeasure> photos;
  if (!job_) return photos;
  for (const PartSummary& part : job_->parts) {
    const auto stale = [&](const PhotoFinding& finding) {
      return finding.scale_changed && !from_planes(finding.photo.view) &&
             record_->photo_intact(finding.photo);
    };
    const auto of_stale_lip = [&](const PhotoFinding& finding) {
      return finding.photo.view == View::lip && finding.newest &&
             record_->photo_intact(finding.photo) &&
             std::any_of(part.photos.begin(), part.photos.end(), [&](const PhotoFinding& other) {
               return kind_of(other.photo) == kind_of(finding.photo) && stale(other);
             });
    };
    for (const PhotoFinding& finding : part.photos) {
      if (!stale(finding) && !of_stale_lip(finding)) continue;
      MeasureOptions options = finding.newest->options;
      options.cameras = cameras_as_recorded(*finding.newest);
      const auto sheet = record_->sheet_for(finding.photo);
      if (!options.sheet_scale.id_card) options.sheet_scale = sheet ? sheet->scale : SheetScale{};
      photos.push_back({finding.photo, record_->photo_path(finding.photo), std::move(options)});
    }
  }
  return photos;
}

void Session::keep_rescaled(const std::vector<MeasuredPhoto>& anew) {
  drop_preview();
  record_->as_one_change([&] {
    for (const MeasuredPhoto& measured : anew) {
      const auto newest = record_->newest_measurement(measured.photo_id);
      if (!newest) continue;  // the photo was removed meanwhile
      analyses_.insert_or_assign(measured.photo_id, measured);
      record_->add_measurement(entry_of(measured, newest->moved_edges));
    }
  });
  reload();
}

const Analysis* Session::analysis() const {
  return analysis_of(photo_id_);
}

const Analysis* Session::analysis_of(std::int64_t photo_id) const {
  const auto known = analyses_.find(photo_id);
  return known == analyses_.end() ? nullptr : &known->second.analysis;
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
