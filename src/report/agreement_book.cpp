#include "report/agreement_book.h"

#include <fmt/format.h>

#include <algorithm>

#include "report/every_photo.h"
#include "report/planes_beside.h"
#include "report/summary.h"
#include "report/wording.h"

namespace scantling {

namespace {

std::string camera_name(const Record& record, std::optional<std::int64_t> id) {
  const auto camera = id ? record.camera(*id) : std::nullopt;
  if (!camera) return "camera unknown";
  return camera->model.starts_with(camera->make) || camera->make.empty()
             ? camera->model
             : camera->make + " " + camera->model;
}

/// A size with what its photos share.
struct SizeByKey {
  AgreementKey key;
  Quantity quantity;
};

std::vector<SizeByKey> sizes_by_key(const PartSummary& summary) {
  std::vector<SizeByKey> sizes;
  if (summary.part.kind == PartKind::pad) {
    if (!summary.governing_photo || !summary.size) return sizes;
    if (const auto& key = summary.photos[*summary.governing_photo].key)
      sizes.push_back({*key, summary.size->quantity});
    return sizes;
  }
  if (summary.worn_by_edges)
    if (const PhotoFinding* photo = edges_speaker(summary))
      sizes.push_back({*photo->key, *summary.worn_by_edges});
  if (const PhotoFinding* photo = planes_speaker(summary))
    if (const auto planes = planes_beside(summary).planes)
      sizes.push_back({*photo->key, planes->quantity});
  return sizes;
}

std::string sheet_name(const AgreementKey& key, const std::optional<Sheet>& sheet) {
  if (key.id_card) return "an ID-1 card";
  return sheet ? sheet->name : "sheet not named";
}

}  // namespace

AgreementKey agreement_key(const PhotoEntry& photo, const std::optional<Sheet>& sheet,
                           const SheetScale& used, PartKind kind) {
  // An ID-1 card is not the job's printed sheet, whatever sheet the job names.
  const bool printed = sheet && !used.id_card;
  return {photo.camera_id, printed ? std::optional(sheet->id) : std::nullopt, used.id_card, kind,
          from_planes(photo.view)};
}

AgreementBook::AgreementBook(const Record& record) {
  for (const std::int64_t part_id : record.parts_with_readings()) {
    const auto part = record.part(part_id);
    const auto job = part ? record.job(part->job_id) : std::nullopt;
    if (!job) continue;
    const PartSummary summary = summarise_part_alone(record, *part);
    const auto smallest =
        std::min_element(summary.readings.begin(), summary.readings.end(),
                         [](const auto& a, const auto& b) { return a.value_mm < b.value_mm; });
    if (smallest == summary.readings.end()) continue;
    for (const SizeByKey& size : sizes_by_key(summary))
      entry_of(record, size.key)
          .pairs.push_back(
              {fmt::format("{}, {}", date_title(job->date), part_title(*part, job->axle)),
               size.quantity.value_mm, size.quantity.standard_uncertainty_mm, smallest->value_mm,
               smallest->standard_uncertainty_mm});
  }
  std::erase_if(entries_, [](CameraSheetAgreement& entry) {
    const auto agreement = agreement_of(entry.pairs);
    if (agreement) entry.agreement = *agreement;
    return !agreement;
  });
}

CameraSheetAgreement& AgreementBook::entry_of(const Record& record, const AgreementKey& key) {
  const auto known =
      std::find_if(entries_.begin(), entries_.end(), [&](const auto& e) { return e.key == key; });
  if (known != entries_.end()) return *known;
  const auto sheet = key.sheet_id ? record.sheet(*key.sheet_id) : std::nullopt;
  return entries_.emplace_back(CameraSheetAgreement{
      camera_name(record, key.camera_id), sheet_name(key, sheet), key, {}, {}});
}

const Agreement* AgreementBook::find(const AgreementKey& key) const {
  const auto found =
      std::find_if(entries_.begin(), entries_.end(), [&](const auto& e) { return e.key == key; });
  return found == entries_.end() ? nullptr : &found->agreement;
}

}  // namespace scantling
