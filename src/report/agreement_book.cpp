#include "report/agreement_book.h"

#include <fmt/format.h>

#include <algorithm>

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

std::string sheet_name(const AgreementKey& key, const std::optional<Sheet>& sheet) {
  if (key.id_card) return "an ID-1 card";
  return sheet ? sheet->name : "sheet not named";
}

}  // namespace

AgreementKey agreement_key(const PhotoEntry& photo, const std::optional<Sheet>& sheet,
                           const SheetScale& used, PartKind kind) {
  // An ID-1 card is not the job's printed sheet, whatever sheet the job names.
  const bool printed = sheet && !used.id_card;
  return {photo.camera_id, printed ? std::optional(sheet->id) : std::nullopt, used.id_card, kind};
}

AgreementBook::AgreementBook(const Record& record) {
  for (const std::int64_t part_id : record.parts_with_readings()) {
    const auto part = record.part(part_id);
    const auto job = part ? record.job(part->job_id) : std::nullopt;
    if (!job) continue;
    const PartSummary summary = summarise_part_alone(record, *part);
    if (!summary.governing_photo || !summary.size) continue;
    const auto smallest =
        std::min_element(summary.readings.begin(), summary.readings.end(),
                         [](const auto& a, const auto& b) { return a.value_mm < b.value_mm; });
    if (smallest == summary.readings.end()) continue;
    const PhotoFinding& finding = summary.photos[*summary.governing_photo];
    const auto sheet = record.sheet_for(finding.photo);
    const AgreementKey key =
        agreement_key(finding.photo, sheet, finding.newest->options.sheet_scale, part->kind);
    auto entry =
        std::find_if(entries_.begin(), entries_.end(), [&](const auto& e) { return e.key == key; });
    if (entry == entries_.end()) {
      entries_.push_back({camera_name(record, key.camera_id), sheet_name(key, sheet), key, {}, {}});
      entry = entries_.end() - 1;
    }
    const Quantity& size = summary.size->quantity;
    entry->pairs.push_back(
        {fmt::format("{}, {}", date_title(job->date), part_title(*part, job->axle)), size.value_mm,
         size.standard_uncertainty_mm, smallest->value_mm, smallest->standard_uncertainty_mm});
  }
  std::erase_if(entries_, [](CameraSheetAgreement& entry) {
    const auto agreement = agreement_of(entry.pairs);
    if (agreement) entry.agreement = *agreement;
    return !agreement;
  });
}

const Agreement* AgreementBook::find(const AgreementKey& key) const {
  const auto found =
      std::find_if(entries_.begin(), entries_.end(), [&](const auto& e) { return e.key == key; });
  return found == entries_.end() ? nullptr : &found->agreement;
}

}  // namespace scantling
