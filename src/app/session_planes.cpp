// The part of Session that keeps photos solved together: the sizes from planes.
#include <algorithm>
#include <cmath>

#include "app/planes_solver.h"
#include "app/session.h"
#include "report/planes_beside.h"

namespace scantling {

namespace {

constexpr double kSameSize_mm = 1e-5;  ///< two solvings of the same photos

View planes_view_of(PartKind kind) {
  return kind == PartKind::disc ? View::faces : View::pile;
}

bool same(const Measurement& a, const Measurement& b) {
  return std::equal(a.dimensions.begin(), a.dimensions.end(), b.dimensions.begin(),
                    b.dimensions.end(),
                    [](const Dimension& x, const Dimension& y) {
                      return x.name == y.name &&
                             std::abs(x.quantity.value_mm - y.quantity.value_mm) < kSameSize_mm;
                    }) &&
         std::equal(a.checks.begin(), a.checks.end(), b.checks.begin(), b.checks.end(),
                    [](const Check& x, const Check& y) { return x.id == y.id; });
}

bool waits(const Measurement& m) {
  return std::any_of(m.checks.begin(), m.checks.end(),
                     [](const Check& check) { return check.id == kPlanesUnsolved; });
}

MeasurementEntry waiting(std::int64_t photo_id, const MeasureOptions& options) {
  MeasurementEntry entry;
  entry.photo_id = photo_id;
  entry.options = options;
  entry.measurement.view = options.view;
  entry.measurement.checks = {
      {kPlanesUnsolved, Severity::info, "This photo waits to be solved together with the others."}};
  return entry;
}

}  // namespace

View Session::planes_view() const {
  return planes_view_of(slot_.kind);
}

std::vector<const PhotoFinding*> Session::planes_photos(const PartSummary& part) {
  std::vector<const PhotoFinding*> photos;
  for (const PhotoFinding& finding : part.photos)
    if (finding.photo.view == planes_view_of(part.part.kind)) photos.push_back(&finding);
  return photos;
}

MeasureOptions Session::planes_options(const PartSummary& part) const {
  MeasureOptions options;
  options.view = planes_view_of(part.part.kind);
  if (job_ && job_->sheet) options.sheet_scale = job_->sheet->scale;
  options.part_offset = {0.25, 0.05};  // stiff card with the print glued on, not measured
  // The same cards mostly serve the whole job; what this part was solved with counts most.
  const auto take = [&](const PartSummary& from) {
    for (const PhotoFinding* finding : planes_photos(from))
      if (finding->newest) options.part_offset = finding->newest->options.part_offset;
  };
  if (job_)
    for (const PartSummary& other : job_->parts) take(other);
  if (card_thickness_) options.part_offset = *card_thickness_;
  take(part);
  return options;
}

void Session::planes_photo_added(const PhotoEntry& photo) {
  if (!job_) return;
  reload();
  for (const PartSummary& part : job_->parts)
    if (part.part.id == photo.part_id)
      history_.already_done(edit_add_photo("add photo for the planes", {.job_id = job_->job.id,
                                                                        .part_id = photo.part_id,
                                                                        .photo_id = photo.id,
                                                                        .planes = true}));
}

void Session::remove_planes_photo(std::int64_t photo_id) {
  if (const PartSummary* selected = part())
    perform(edit_remove_photo("remove photo from the planes", {.job_id = job_->job.id,
                                                               .part_id = selected->part.id,
                                                               .photo_id = photo_id,
                                                               .planes = true}));
}

bool Session::planes_kept(const PartSummary& part, const MeasureOptions& options) const {
  const auto photos = planes_photos(part);
  return solved_together(photos) &&
         std::all_of(photos.begin(), photos.end(), [&](const PhotoFinding* finding) {
           return !waits(finding->newest->measurement) &&
                  same_planes_options(finding->newest->options, options);
         });
}

void Session::keep_planes(std::int64_t part_id, const std::vector<MeasurementEntry>& entries) {
  if (!job_) return;
  const auto part =
      std::find_if(job_->parts.begin(), job_->parts.end(),
                   [&](const PartSummary& known) { return known.part.id == part_id; });
  if (part == job_->parts.end()) return;
  const auto photos = planes_photos(*part);
  const bool known =
      solved_together(photos) &&
      std::equal(photos.begin(), photos.end(), entries.begin(), entries.end(),
                 [](const PhotoFinding* finding, const MeasurementEntry& entry) {
                   return finding->photo.id == entry.photo_id && finding->newest &&
                          !waits(finding->newest->measurement) &&
                          same_planes_options(finding->newest->options, entry.options) &&
                          same(finding->newest->measurement, entry.measurement);
                 });
  if (known) return;
  record_->as_one_change([&] {
    for (const MeasurementEntry& entry : entries) record_->add_measurement(entry);
  });
  reload();
}

void Session::set_card_thickness(const PartOffset& thickness) {
  card_thickness_ = thickness;
  const PartSummary* selected = part();
  if (!selected) return;
  const MeasureOptions now = planes_options(*selected);
  std::vector<MeasurementEntry> before, after;
  for (const PhotoFinding* finding : planes_photos(*selected)) {
    if (!finding->newest) continue;
    before.push_back(*finding->newest);
    MeasureOptions options = now;
    options.part_offset = thickness;
    after.push_back(waiting(finding->photo.id, options));
  }
  if (before.empty() || same_planes_options(now, after.front().options)) return;
  perform(edit_photos("set the card's thickness",
                      {.job_id = job_->job.id, .part_id = selected->part.id, .planes = true},
                      std::move(before), std::move(after)));
}

}  // namespace scantling
