#include "report/summary.h"

#include <fmt/format.h>

#include <cmath>

#include "report/planes_beside.h"
#include "report/wear_history.h"

namespace scantling {

namespace {

void note_photo_troubles(const Record& record, PartSummary& summary) {
  for (PhotoFinding& finding : summary.photos) {
    const std::string& name = finding.photo.original_name;
    finding.lost = !record.photo_intact(finding.photo);
    if (finding.lost)
      summary.cautions.push_back({"photo_lost", Severity::warn,
                                  "The stored photo " + name +
                                      " is missing or was altered; what was measured on it stays. "
                                      "Add the photo again to put it back."});
    if (finding.scale_changed)
      summary.cautions.push_back({"scale_changed", Severity::warn,
                                  "The sheet's scale was changed after " + name +
                                      " was measured: it counts again once it is measured anew."});
  }
}

}  // namespace

namespace {

std::vector<PhotoFinding> findings_of(const Record& record, const Part& part,
                                      const AgreementBook& agreements) {
  std::vector<PhotoFinding> photos;
  for (const PhotoEntry& photo : record.photos(part.id)) {
    PhotoFinding finding;
    finding.photo = photo;
    finding.newest = record.newest_measurement(photo.id);
    finding.confirmations = record.confirmations(photo.id);
    finding.sheet = record.sheet_for(photo);
    if (finding.newest) {
      const std::optional<Sheet>& sheet = finding.sheet;
      const SheetScale& used = finding.newest->options.sheet_scale;
      const SheetScale now = sheet ? sheet->scale : SheetScale{};
      finding.scale_changed = !used.id_card && now != used;
      finding.key = agreement_key(photo, sheet, used, part.kind);
      if (const Agreement* agreement = agreements.find(*finding.key))
        finding.agreement = *agreement;
    }
    photos.push_back(std::move(finding));
  }
  return photos;
}

/// Implausible wear is told and fits nothing; too few sizes are no news.
void note_forecast(PartSummary& summary) {
  for (const std::string& sentence : summary.wear.left_out)
    summary.cautions.push_back({"no_odometer", Severity::info, sentence});
  if (!summary.forecast) return;
  for (Check check : summary.forecast->checks) {
    if (check.severity == Severity::stop) check.severity = Severity::warn;
    summary.cautions.push_back(std::move(check));
  }
}

}  // namespace

PartSummary summarise_part_alone(const Record& record, const Part& part,
                                 const AgreementBook& agreements) {
  return summarise_part(part, findings_of(record, part, agreements), record.hand_readings(part.id));
}

PartSummary summarise_part(const Record& record, const Part& part) {
  return summarise_part(record, part, AgreementBook(record));
}

PartSummary summarise_part(const Record& record, const Part& part,
                           const AgreementBook& agreements) {
  PartSummary summary = summarise_part_alone(record, part, agreements);
  if (const auto job = record.job(part.job_id)) {
    WearHistory wear = wear_history(record, *job, summary, agreements);
    std::optional<Forecast> forecast = forecast_of(wear, *job, part.minimum_mm);
    if (forecast && forecast->reaches_minimum_before_next_check)
      summary = summarise_part(part, std::move(summary.photos), std::move(summary.readings), true);
    summary.wear = std::move(wear);
    summary.forecast = std::move(forecast);
    note_forecast(summary);
  }
  note_photo_troubles(record, summary);
  return summary;
}

namespace {

/// A photo that the part's size rests on, for the sheet it was taken with: a disc's is put together
/// from several.
const PhotoFinding* photo_behind(const PartSummary& summary) {
  if (summary.governing_photo) return &summary.photos[*summary.governing_photo];
  const bool planes = planes_govern(summary);
  const Measurement* rim = settled_rim(summary);
  for (const PhotoFinding& finding : summary.photos)
    if (finding.newest &&
        (planes ? from_planes(finding.photo.view) : &finding.newest->measurement == rim))
      return &finding;
  return nullptr;
}

}  // namespace

SharedError shared_error(const PartSummary& summary) {
  if (!summary.readings.empty() || !summary.size) return {};
  const PhotoFinding* photo = photo_behind(summary);
  if (!photo) return {};
  // Planes have a line for the ground sheet and one for the cards, out of the same print.
  std::vector<BudgetLine> scales;
  for (const BudgetLine& line : summary.size->quantity.budget)
    if (line.source.starts_with("print scale of the ")) scales.push_back(line);
  const SheetScale& scale = photo->newest->options.sheet_scale;
  if (scales.empty() || scale.id_card) return {};
  const Quantity shared = combine_independent(0, std::move(scales));
  return {shared.standard_uncertainty_mm, shared.degrees_of_freedom,
          fmt::format("{}: {}/{}", photo->sheet ? photo->sheet->id : 0, scale.x, scale.y)};
}

std::optional<JobSummary> summarise_job(const Record& record, std::int64_t job_id) {
  return summarise_job(record, job_id, AgreementBook(record));
}

std::optional<JobSummary> summarise_job(const Record& record, std::int64_t job_id,
                                        const AgreementBook& agreements) {
  const auto job = record.job(job_id);
  if (!job) return std::nullopt;
  JobSummary summary{*job, record.vehicle(job->vehicle_id).value_or(Vehicle{}), {}, {}, {}, {}};
  if (job->sheet_id) summary.sheet = record.sheet(*job->sheet_id);
  for (const Part& part : record.parts(job_id))
    summary.parts.push_back(summarise_part(record, part, agreements));
  summary.axle = axle_together(summary.parts, job->axle);
  summary.work = record.work(job_id);
  return summary;
}

void keep_verdicts(Record& record, const JobSummary& summary) {
  for (const PartSummary& part : summary.parts) {
    if (!part.verdict || !part.part.minimum_mm) continue;
    VerdictEntry entry;
    entry.part_id = part.part.id;
    entry.state = part.state;
    entry.probability_below = part.verdict->probability_below;
    if (part.size) {
      const Quantity& size = part.size->quantity;
      entry.size_mm = size.value_mm;
      entry.standard_uncertainty_mm = size.standard_uncertainty_mm;
      if (std::isfinite(size.degrees_of_freedom))
        entry.degrees_of_freedom = size.degrees_of_freedom;
    }
    entry.minimum_mm = *part.part.minimum_mm;
    entry.minimum_origin = part.part.minimum_origin;
    entry.because = part.because;
    entry.rule = verdict_rule();
    const std::vector<VerdictEntry> known = record.verdicts(part.part.id);
    const bool same = !known.empty() && known.back().state == entry.state &&
                      known.back().probability_below == entry.probability_below &&
                      known.back().size_mm == entry.size_mm &&
                      known.back().minimum_mm == entry.minimum_mm &&
                      known.back().rule == entry.rule && known.back().because == entry.because;
    if (!same) record.add_verdict(entry);
  }
}

}  // namespace scantling
