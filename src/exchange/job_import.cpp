#include "exchange/job_import.h"

#include <fmt/format.h>
#include <stdlib.h>

#include <algorithm>
#include <fstream>
#include <nlohmann/json.hpp>
#include <set>

#include "dimension/measurement_json.h"
#include "exchange/job_file.h"
#include "exchange/json_schema.h"
#include "exchange/zip_file.h"
#include "record/disk.h"
#include "record/options_json.h"
#include "record/record_error.h"
#include "record/words.h"
#include "report/wording.h"

namespace scantling {
namespace fs = std::filesystem;

namespace {

using Json = nlohmann::ordered_json;

constexpr std::uint64_t kLargestJson_bytes = 64u << 20;
constexpr std::uint64_t kLargestPhoto_bytes = 256u << 20;
constexpr int kDeepestJson = 40;

[[noreturn]] void refuse(const std::string& why) {
  throw ExchangeError(why + " Nothing was taken in.");
}

/// Brackets inside texts count too, which errs on the safe side only where a
/// text has dozens.
bool nested_too_deeply(const std::string& text) {
  int depth = 0;
  bool quoted = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (quoted) {
      if (c == '\\') ++i;
      if (c == '"') quoted = false;
    } else if (c == '"') {
      quoted = true;
    } else if (c == '{' || c == '[') {
      if (++depth > kDeepestJson) return true;
    } else if (c == '}' || c == ']') {
      --depth;
    }
  }
  return false;
}

Json parsed(const std::string& text) {
  if (nested_too_deeply(text)) refuse("The file's job.json is nested beyond all reason.");
  try {
    return Json::parse(text);
  } catch (const Json::exception&) {
    refuse("The file's job.json is broken: have it sent or copied again.");
  }
}

bool is_photo_name(const std::string& name) {
  constexpr std::string_view kFolder = "photos/";
  return name.starts_with(kFolder) && name.size() == kFolder.size() + 64 &&
         name.find_first_not_of("0123456789abcdef", kFolder.size()) == std::string::npos;
}

bool belongs(const std::string& name) {
  static const std::set<std::string> kKnown{"job.json", "job.schema.json", "report.pdf",
                                            "report.html"};
  return kKnown.count(name) > 0 || is_photo_name(name);
}

std::optional<double> number_or_none(const Json& json, const char* field) {
  const auto found = json.find(field);
  if (found == json.end() || found->is_null()) return std::nullopt;
  return found->get<double>();
}

std::string text_of(const Json& json) {
  return json.is_null() ? std::string() : json.dump();
}

/// A folder for unpacked photos, gone when this ends.
class PassingFolder {
 public:
  PassingFolder() {
    std::string name = (fs::temp_directory_path() / "scantling-import-XXXXXX").string();
    if (!::mkdtemp(name.data()))
      throw ExchangeError("No room for unpacking in " + fs::temp_directory_path().string() +
                          ": free some space there.");
    path_ = name;
  }
  ~PassingFolder() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
  }
  PassingFolder(const PassingFolder&) = delete;
  PassingFolder& operator=(const PassingFolder&) = delete;

  fs::path write(const std::string& name, const std::string& bytes) const {
    const fs::path file = path_ / name;
    std::ofstream out(file, std::ios::binary);
    out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    out.close();
    if (!out)
      throw ExchangeError(
          "The disk is full while unpacking: free some space. "
          "Nothing was taken in.");
    return file;
  }

 private:
  fs::path path_;
};

Vehicle vehicle_of(const Json& json) {
  Vehicle v;
  v.name = json.at("name");
  v.registration = json.at("registration");
  v.make_model = json.at("make_model");
  v.owner = json.at("owner");
  return v;
}

Job job_of(const Json& json) {
  Job job;
  job.date = json.at("date");
  job.odometer_km = number_or_none(json, "odometer_km");
  job.axle = axle_from(json.at("axle"));
  job.note = json.at("note");
  job.next_check_km = number_or_none(json, "next_check_km");
  job.next_check_date = json.at("next_check_date");
  return job;
}

Part part_of(const Json& json) {
  Part part;
  part.kind = kind_from(json.at("kind"));
  part.side = side_from(json.at("side"));
  if (part.kind == PartKind::pad) {
    if (json.at("place").is_null()) refuse("A pad in the file is neither inner nor outer.");
    part.place = place_from(json.at("place"));
  }
  part.minimum_mm = number_or_none(json, "minimum_mm");
  part.minimum_origin = json.at("minimum_origin");
  part.disc_diameter_mm = number_or_none(json, "disc_diameter_mm");
  return part;
}

HandReadingEntry reading_of(const Json& json) {
  HandReadingEntry r;
  r.as_typed = json.at("as_typed");
  r.value_mm = json.at("value_mm");
  r.standard_uncertainty_mm = json.at("standard_uncertainty_mm");
  r.instrument = json.at("instrument");
  r.read_at = json.at("read_at");
  r.clock = number_or_none(json, "clock");
  r.zero_as_typed = json.value("zero_as_typed", "");
  r.zero_error_mm = json.value("zero_error_mm", 0.0);
  r.resolution_mm = number_or_none(json, "resolution_mm");
  r.permissible_error_mm = number_or_none(json, "permissible_error_mm");
  return r;
}

VerdictEntry verdict_of(const Json& json) {
  VerdictEntry v;
  v.state = json.at("state");
  v.probability_below = number_or_none(json, "probability_below");
  v.size_mm = number_or_none(json, "size_mm");
  v.standard_uncertainty_mm = number_or_none(json, "standard_uncertainty_mm");
  v.degrees_of_freedom = number_or_none(json, "degrees_of_freedom");
  v.minimum_mm = json.at("minimum_mm");
  v.minimum_origin = json.at("minimum_origin");
  v.because = json.at("because").get<std::vector<std::string>>();
  v.rule = json.at("rule");
  v.engine_version = json.at("engine_version");
  v.made_at = json.at("made_at");
  return v;
}

MeasurementEntry measurement_of(const Json& json) {
  MeasurementEntry m;
  m.measurement = measurement_from_json(json.at("measurement"));
  const std::string options = json.at("options").dump();
  m.options = options_from_text(options);
  m.read_with = read_with_from_text(options);
  m.moved_edges = moved_edges_from_text(json.at("moved_edges").dump());
  m.engine_version = json.at("engine_version");
  m.made_at = json.at("made_at");
  m.camera_profile = text_of(json.at("camera_profile"));
  m.card_definition = text_of(json.at("card_definition"));
  return m;
}

Sheet sheet_of(const Json& json) {
  Sheet sheet;
  sheet.name = json.at("name");
  sheet.scale = {json.at("x"), json.at("y"), json.at("standard_uncertainty"), json.at("checked")};
  sheet.how_checked = json.at("how_checked");
  sheet.checked_at = json.at("checked_at");
  return sheet;
}

bool same(const Sheet& a, const Sheet& b) {
  return a.name == b.name && a.scale == b.scale;
}

}  // namespace

struct JobImport::State {
  ZipReader zip;
  Json json;

  std::optional<Vehicle> known_vehicle(const Record& record) const {
    const Vehicle theirs = vehicle_of(json.at("vehicle"));
    std::optional<Vehicle> known;
    for (const Vehicle& mine : record.vehicles()) {
      const bool same = theirs.registration.empty()
                            ? mine.registration.empty() && mine.name == theirs.name
                            : mine.registration == theirs.registration;
      if (!same) continue;
      // Where a car is there twice, the one that has this job already is meant.
      if (known_job(record, mine)) return mine;
      if (!known) known = mine;
    }
    return known;
  }

  /// The same vehicle's job of the same day and axle.
  std::optional<Job> known_job(const Record& record, const Vehicle& vehicle) const {
    const Job theirs = job_of(json.at("job"));
    for (const Job& mine : record.jobs_of_axle(vehicle.id, theirs.axle))
      if (mine.date == theirs.date) return mine;
    return std::nullopt;
  }

  void add_photo(Record& record, const Json& photo, std::int64_t part_id,
                 const std::vector<std::int64_t>& sheets, const std::vector<std::int64_t>& cameras,
                 const PassingFolder& folder) const;
};

JobImport::JobImport(const fs::path& path) : state_(new State{ZipReader(path), {}}) {
  for (const std::string& name : state_->zip.names())
    if (!belongs(name))
      refuse(
          fmt::format("{} holds \"{}\", which belongs to no job: it was not "
                      "made by Scantling.",
                      path.string(), name.substr(0, 60)));
  state_->json = parsed(state_->zip.bytes("job.json", kLargestJson_bytes));
  const Json& json = state_->json;
  const auto version = json.is_object() ? json.find("format_version") : json.end();
  if (json.is_object() && version != json.end() && version->is_number_integer() &&
      version->get<int>() > 1)
    refuse("The file was written by a newer Scantling: install the newest one.");
  if (const auto fault = schema_fault(json, Json::parse(job_schema_text())))
    refuse(fmt::format("The file's job.json cannot be used: {}", *fault));
  for (const Json& part : json.at("parts"))
    for (const Json& photo : part.at("photos"))
      if (!state_->zip.has("photos/" + photo.at("sha256").get<std::string>()))
        refuse(
            "A photo that the job names is not in the file: have it "
            "exported again.");
  const auto require_index = [&](const Json& index, const char* list) {
    if (!index.is_null() && index.get<std::size_t>() >= json.at(list).size())
      refuse(fmt::format("The file names one of its {} that is not there.", list));
  };
  require_index(json.at("job").at("sheet"), "sheets");
  for (const Json& part : json.at("parts"))
    for (const Json& photo : part.at("photos")) {
      require_index(photo.at("sheet"), "sheets");
      require_index(photo.at("camera"), "cameras");
    }
}

JobImport::~JobImport() = default;
JobImport::JobImport(JobImport&&) noexcept = default;

std::vector<ImportConflict> JobImport::conflicts(const Record& record) const {
  std::vector<ImportConflict> list;
  const auto vehicle = state_->known_vehicle(record);
  if (!vehicle) return list;
  const Vehicle theirs = vehicle_of(state_->json.at("vehicle"));
  const auto compare = [&](const char* what, const std::string& mine, const std::string& other) {
    if (mine != other) list.push_back({what, mine, other});
  };
  compare("the vehicle's name", vehicle->name, theirs.name);
  compare("the vehicle's make and model", vehicle->make_model, theirs.make_model);
  compare("the vehicle's owner", vehicle->owner, theirs.owner);
  if (const auto mine = state_->known_job(record, *vehicle)) {
    const Job job = job_of(state_->json.at("job"));
    list.push_back(
        {fmt::format("a job of the {} on {}", axle_title(job.axle), date_title(job.date)),
         fmt::format("job {} with {} parts", mine->id, record.parts(mine->id).size()),
         fmt::format("a job with {} parts", state_->json.at("parts").size())});
    if (mine->odometer_km != job.odometer_km)
      list.push_back({"its odometer reading",
                      mine->odometer_km ? distance_title(*mine->odometer_km) : "none",
                      job.odometer_km ? distance_title(*job.odometer_km) : "none"});
  }
  return list;
}

void JobImport::State::add_photo(Record& record, const Json& photo, std::int64_t part_id,
                                 const std::vector<std::int64_t>& sheets,
                                 const std::vector<std::int64_t>& cameras,
                                 const PassingFolder& folder) const {
  const std::string sha256 = photo.at("sha256");
  const fs::path file = folder.write(sha256, zip.bytes("photos/" + sha256, kLargestPhoto_bytes));
  if (sha256_of_file(file) != sha256)
    refuse(
        "A photo in the file is not the one that the job names: have it "
        "exported again.");
  std::optional<DiscFace> face;
  if (const Json& shown = photo.at("face"); !shown.is_null()) face = face_from(shown);
  const PhotoEntry entry = record.add_photo(part_id, view_from(photo.at("view")), file, face,
                                            photo.at("original_name").get<std::string>());
  if (!photo.at("sheet").is_null())
    record.set_photo_sheet(entry.id, sheets.at(photo.at("sheet").get<std::size_t>()));
  if (!photo.at("camera").is_null())
    record.set_photo_camera(entry.id, cameras.at(photo.at("camera").get<std::size_t>()));
  for (const Json& m : photo.at("measurements")) {
    MeasurementEntry measurement = measurement_of(m);
    measurement.photo_id = entry.id;
    record.add_measurement(measurement);
  }
  std::vector<EdgeConfirmation> confirmations;
  for (const Json& c : photo.at("confirmations"))
    confirmations.push_back({entry.id, c.at("edge"), c.at("confirmed_by"), c.at("confirmed_at")});
  if (!confirmations.empty()) record.set_confirmations(entry.id, confirmations);
  std::error_code ignored;
  fs::remove(file, ignored);
}

std::int64_t JobImport::into(Record& record, ImportChoice choice) const {
  const std::vector<ImportConflict> against = conflicts(record);
  if (choice == ImportChoice::none && !against.empty())
    refuse(fmt::format("The record says otherwise of {}: choose whose word counts.",
                       against.front().what));
  const Json& json = state_->json;
  std::optional<Vehicle> vehicle;
  if (choice != ImportChoice::both) vehicle = state_->known_vehicle(record);
  std::optional<Job> there;
  if (vehicle) there = state_->known_job(record, *vehicle);
  if (there && choice == ImportChoice::mine) return there->id;

  const PassingFolder folder;
  std::int64_t job_id = 0;
  try {
    record.as_one_change([&] {
      if (there) record.remove_job(there->id);
      Vehicle theirs = vehicle_of(json.at("vehicle"));
      if (!vehicle) {
        theirs.id = record.add_vehicle(theirs);
      } else {
        theirs.id = vehicle->id;
        if (choice == ImportChoice::theirs) record.update_vehicle(theirs);
      }
      std::vector<std::int64_t> sheets, cameras;
      const std::vector<Sheet> known = record.sheets();
      for (const Json& s : json.at("sheets")) {
        const Sheet sheet = sheet_of(s);
        const auto mine = std::find_if(known.begin(), known.end(),
                                       [&](const Sheet& other) { return same(other, sheet); });
        sheets.push_back(mine != known.end() ? mine->id : record.add_sheet(sheet));
      }
      for (const Json& c : json.at("cameras"))
        cameras.push_back(record.keep_camera({0, c.at("make"), c.at("model"), ""}));
      Job job = job_of(json.at("job"));
      job.vehicle_id = theirs.id;
      const Json& jobs_sheet = json.at("job").at("sheet");
      if (!jobs_sheet.is_null()) job.sheet_id = sheets.at(jobs_sheet.get<std::size_t>());
      job_id = record.add_job(job);
      for (const Json& p : json.at("parts")) {
        Part part = part_of(p);
        part.job_id = job_id;
        part.id = record.add_part(part);
        for (const Json& photo : p.at("photos"))
          state_->add_photo(record, photo, part.id, sheets, cameras, folder);
        for (const Json& r : p.at("hand_readings")) {
          HandReadingEntry reading = reading_of(r);
          reading.part_id = part.id;
          record.add_hand_reading(reading);
        }
        for (const Json& v : p.at("verdicts")) {
          VerdictEntry verdict = verdict_of(v);
          verdict.part_id = part.id;
          record.add_verdict(verdict);
        }
      }
      if (!json.at("work").is_null())
        record.set_work(job_id, work_from_text(json.at("work").dump()));
    });
  } catch (const Json::exception& error) {
    refuse(fmt::format("The file's job.json cannot be used ({}).", error.what()));
  } catch (const std::runtime_error& error) {
    // A measurement that says nothing sensible; the record's own sentences come
    // through as they are.
    if (dynamic_cast<const RecordError*>(&error) || dynamic_cast<const ExchangeError*>(&error))
      throw;
    refuse(fmt::format("The file's job.json cannot be used: {}", error.what()));
  }
  return job_id;
}

}  // namespace scantling
