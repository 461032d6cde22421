#include "exchange/job_file.h"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>

#include "base/version.h"
#include "dimension/measurement_json.h"
#include "exchange/zip_file.h"
#include "record/options_json.h"
#include "record/record_error.h"
#include "record/words.h"
#include "report/html_report.h"
#include "report/report.h"

namespace scantling {

extern const char* const kJobSchemaJson;

namespace {

using Json = nlohmann::ordered_json;

template <class T>
Json or_null(const std::optional<T>& value) {
  return value ? Json(*value) : Json(nullptr);
}

Json parsed_or_null(const std::string& text) {
  return text.empty() ? Json(nullptr) : Json::parse(text);
}

/// Sheets and cameras that the job's photos need, each once, named by their
/// place in the list.
class Shelf {
 public:
  explicit Shelf(const Record& record) : record_(record) {}

  Json sheet(std::optional<std::int64_t> id) {
    return place(id, sheet_ids_, [&](std::int64_t wanted) {
      const Sheet s = record_.sheet(wanted).value();
      sheets.push_back({{"name", s.name},
                        {"x", s.scale.x},
                        {"y", s.scale.y},
                        {"standard_uncertainty", s.scale.standard_uncertainty},
                        {"checked", s.scale.checked},
                        {"how_checked", s.how_checked},
                        {"checked_at", s.checked_at}});
    });
  }
  Json camera(std::optional<std::int64_t> id) {
    return place(id, camera_ids_, [&](std::int64_t wanted) {
      const Camera c = record_.camera(wanted).value();
      cameras.push_back(
          {{"make", c.make}, {"model", c.model}, {"profile", parsed_or_null(c.profile)}});
    });
  }

  Json sheets = Json::array();
  Json cameras = Json::array();

 private:
  template <class Add>
  static Json place(std::optional<std::int64_t> id, std::vector<std::int64_t>& ids, Add add) {
    if (!id) return nullptr;
    const auto found = std::find(ids.begin(), ids.end(), *id);
    if (found != ids.end()) return found - ids.begin();
    add(*id);
    ids.push_back(*id);
    return ids.size() - 1;
  }

  const Record& record_;
  std::vector<std::int64_t> sheet_ids_, camera_ids_;
};

Json measurements_json(const Record& record, const PhotoEntry& photo) {
  Json list = Json::array();
  for (const MeasurementEntry& m : record.measurements(photo.id))
    list.push_back({{"measurement", measurement_to_json(m.measurement)},
                    {"options", Json::parse(options_to_text(m.options, m.read_with))},
                    {"moved_edges", Json::parse(moved_edges_to_text(m.moved_edges))},
                    {"engine_version", m.engine_version},
                    {"made_at", m.made_at},
                    {"camera_profile", parsed_or_null(m.camera_profile)},
                    {"card_definition", parsed_or_null(m.card_definition)}});
  return list;
}

Json photo_json(const Record& record, const PhotoEntry& photo, Shelf& shelf) {
  Json confirmations = Json::array();
  for (const EdgeConfirmation& c : record.confirmations(photo.id))
    confirmations.push_back(
        {{"edge", c.edge}, {"confirmed_by", c.confirmed_by}, {"confirmed_at", c.confirmed_at}});
  return {{"view", view_word(photo.view)},
          {"face", photo.face ? Json(face_word(*photo.face)) : Json(nullptr)},
          {"sha256", photo.sha256},
          {"original_name", photo.original_name},
          {"added_at", photo.added_at},
          {"sheet", shelf.sheet(photo.sheet_id)},
          {"camera", shelf.camera(photo.camera_id)},
          {"confirmations", std::move(confirmations)},
          {"measurements", measurements_json(record, photo)}};
}

Json reading_json(const HandReadingEntry& r) {
  return {{"as_typed", r.as_typed},
          {"value_mm", r.value_mm},
          {"standard_uncertainty_mm", r.standard_uncertainty_mm},
          {"instrument", r.instrument},
          {"read_at", r.read_at},
          {"clock", or_null(r.clock)},
          {"zero_as_typed", r.zero_as_typed},
          {"zero_error_mm", r.zero_error_mm},
          {"resolution_mm", or_null(r.resolution_mm)},
          {"permissible_error_mm", or_null(r.permissible_error_mm)}};
}

Json verdict_json(const VerdictEntry& v) {
  return {{"state", v.state},
          {"probability_below", or_null(v.probability_below)},
          {"size_mm", or_null(v.size_mm)},
          {"standard_uncertainty_mm", or_null(v.standard_uncertainty_mm)},
          {"degrees_of_freedom", or_null(v.degrees_of_freedom)},
          {"minimum_mm", v.minimum_mm},
          {"minimum_origin", v.minimum_origin},
          {"because", v.because},
          {"rule", v.rule},
          {"engine_version", v.engine_version},
          {"made_at", v.made_at}};
}

Json part_json(const Record& record, const Part& part, Shelf& shelf) {
  Json photos = Json::array(), readings = Json::array(), verdicts = Json::array();
  for (const PhotoEntry& photo : record.photos(part.id))
    photos.push_back(photo_json(record, photo, shelf));
  for (const HandReadingEntry& r : record.hand_readings(part.id))
    readings.push_back(reading_json(r));
  for (const VerdictEntry& v : record.verdicts(part.id)) verdicts.push_back(verdict_json(v));
  return {{"kind", kind_word(part.kind)},
          {"side", side_word(part.side)},
          {"place", part.kind == PartKind::pad ? Json(place_word(part.place)) : Json(nullptr)},
          {"minimum_mm", or_null(part.minimum_mm)},
          {"minimum_origin", part.minimum_origin},
          {"disc_diameter_mm", or_null(part.disc_diameter_mm)},
          {"photos", std::move(photos)},
          {"hand_readings", std::move(readings)},
          {"verdicts", std::move(verdicts)}};
}

Job existing_job(const Record& record, std::int64_t job_id) {
  const auto job = record.job(job_id);
  if (!job) throw RecordError("There is no such job in the record: scantling jobs lists them.");
  return *job;
}

}  // namespace

std::string_view job_schema_text() {
  return kJobSchemaJson;
}

Json job_to_json(const Record& record, std::int64_t job_id) {
  const Job job = existing_job(record, job_id);
  const Vehicle v = record.vehicle(job.vehicle_id).value_or(Vehicle{});
  Shelf shelf(record);
  const Json jobs_sheet = shelf.sheet(job.sheet_id);
  Json parts = Json::array();
  for (const Part& part : record.parts(job_id)) parts.push_back(part_json(record, part, shelf));
  const auto work = record.work(job_id);
  return {{"format", "scantling-job"},
          {"format_version", 1},
          {"program", kVersion},
          {"exported_at", time_now_text()},
          {"vehicle",
           {{"name", v.name},
            {"registration", v.registration},
            {"make_model", v.make_model},
            {"owner", v.owner}}},
          {"sheets", shelf.sheets},
          {"cameras", shelf.cameras},
          {"job",
           {{"date", job.date},
            {"odometer_km", or_null(job.odometer_km)},
            {"axle", axle_word(job.axle)},
            {"note", job.note},
            {"sheet", jobs_sheet},
            {"next_check_km", or_null(job.next_check_km)},
            {"next_check_date", job.next_check_date}}},
          {"work", work ? Json::parse(work_to_text(*work)) : Json(nullptr)},
          {"parts", std::move(parts)}};
}

void export_job(const Record& record, std::int64_t job_id, const std::filesystem::path& path) {
  const Json json = job_to_json(record, job_id);
  const JobSummary summary = summarise_job(record, job_id).value();
  ZipWriter zip(path);
  zip.add("job.json", json.dump(1, ' ', false, Json::error_handler_t::replace));
  zip.add("job.schema.json", std::string(job_schema_text()));
  std::set<std::string> stored;
  for (const Part& part : record.parts(job_id))
    for (const PhotoEntry& photo : record.photos(part.id)) {
      if (!stored.insert(photo.sha256).second) continue;
      if (!record.photo_intact(photo))
        throw ExchangeError("The stored photo " + photo.original_name +
                            " is missing or was altered: add it again, or "
                            "remove it from the job, "
                            "then export.");
      zip.add_file("photos/" + photo.sha256, record.photo_path(photo));
    }
  zip.add("report.pdf", make_report(record, summary, kA4).pdf());
  zip.add("report.html", html_report(record, summary));
  zip.finish();
}

}  // namespace scantling
