// Writes jobs for job_import_fuzz to begin with: job.json as an export has it, its photos named as
// the fuzzer's stand-ins, a whole zip file and a list of names. Usage: job_import_seeds FOLDER

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "exchange/job_file.h"
#include "report/summary.h"
#include "unit/report/sample_report.h"

namespace {

using namespace scantling;
namespace fs = std::filesystem;
using Json = nlohmann::ordered_json;

/// SHA-256 of "a", one of the stand-ins.
constexpr const char* kPhoto = "ca978112ca1bbdcafac231b39a23dc4da786eff8147c4e72b9807785afee48bb";

void add_disc(Record& record, std::int64_t job, const TemporaryFolder& folder) {
  Part part;
  part.job_id = job;
  part.kind = PartKind::disc;
  part.minimum_mm = 22;
  part.minimum_origin = "cast into the hub";
  part.disc_diameter_mm = 284;
  part.id = record.add_part(part);
  const PhotoEntry photo = record.add_photo(
      part.id, View::lip, folder.file("lip.png", sample_photo_png() + "lip"), DiscFace::outboard);
  MeasurementEntry entry;
  entry.photo_id = photo.id;
  entry.options.view = entry.measurement.view = View::lip;
  entry.options.disc_diameter_mm = 284;
  entry.measurement.dimensions = {sample_dimension("lip_height", 0.62, 0.02)};
  entry.measurement.edges = {sample_edge("wall_foot", 300, 0.9), sample_edge("wall_top", 280, 0.9)};
  entry.moved_edges = {{"wall_top", {{10, 280}, {600, 281}}}};
  record.add_measurement(entry);
  record.set_photo_camera(photo.id, record.keep_camera({0, "Fable", "F-5", ""}));
  record.set_confirmations(photo.id, {{photo.id, "wall_foot", "Ása", ""}});
  HandReadingEntry reading;
  reading.part_id = part.id;
  reading.as_typed = "22,41";
  reading.value_mm = 22.39;
  reading.standard_uncertainty_mm = 0.01;
  reading.instrument = "micrometer";
  reading.clock = 3;
  reading.zero_as_typed = "0.02";
  reading.zero_error_mm = 0.02;
  reading.resolution_mm = 0.01;
  record.add_hand_reading(reading);
}

WorkDone work() {
  WorkDone work;
  work.date = "2026-11-22";
  work.odometer_km = 81260;
  FittedPart disc;
  disc.kind = PartKind::disc;
  disc.maker = "Hallow";
  disc.new_size_mm = 24;
  disc.minimum_mm = 22;
  work.parts = {disc};
  work.fasteners = {{"bracket bolts", 4, true, tightening_from_text("100 N m + 90°").tightening}};
  work.fluid_looked_at = true;
  work.bedding_in_km = 300;
  work.next_check_date = "2027-11-22";
  return work;
}

void write(const fs::path& file, const std::string& bytes) {
  std::ofstream(file, std::ios::binary) << bytes;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) {
    std::fprintf(stderr, "job_import_seeds FOLDER\n");
    return 2;
  }
  const fs::path out = argv[1];
  fs::create_directories(out);
  const TemporaryFolder folder;
  Record record(folder / "record.sqlite");
  const std::int64_t job = add_sample_axle(record, folder);
  Sheet sheet;
  sheet.name = "A4";
  sheet.scale = {0.9975, 1.0015, 0.0004, true};
  Job changed = record.job(job).value();
  changed.sheet_id = record.add_sheet(sheet);
  record.update_job(changed);
  add_disc(record, job, folder);
  record.set_work(job, work());
  keep_verdicts(record, summarise_job(record, job).value());
  export_job(record, job, out / "whole.zip");
  Json json = job_to_json(record, job);
  for (Json& part : json["parts"])
    for (Json& photo : part["photos"]) {
      photo["sha256"] = kPhoto;
      for (Json& measurement : photo["measurements"]) measurement["card_definition"] = nullptr;
    }
  Json pad = json, disc = json;
  pad["parts"] = Json::array({json["parts"][3]});
  pad["work"] = nullptr;
  disc["parts"] = Json::array({json["parts"][4]});
  write(out / "pad.json", pad.dump());
  write(out / "disc_closed.json", disc.dump());
  write(out / "names.txt", "job.json\nphotos/" + std::string(kPhoto) + "\n../evil\nreport.pdf\n");
  return 0;
}
