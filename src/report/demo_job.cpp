#include "report/demo_job.h"

#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>

#include "base/paths.h"
#include "dimension/analysis.h"
#include "record/words.h"

namespace scantling {
namespace fs = std::filesystem;

namespace {

using Json = nlohmann::json;

Json json_of(const fs::path& file) {
  std::ifstream in(file);
  if (!in)
    throw DemoError("The demo's file " + file.string() +
                    " is not there: install Scantling again, or set SCANTLING_ASSETS.");
  return Json::parse(in);
}

SheetScale scale_of(const Json& json) {
  return {json.at("scale_x"), json.at("scale_y"), json.at("standard_uncertainty"),
          json.at("checked")};
}

TrueSizes truth_of(const Json& json) {
  TrueSizes truth{json.at("friction_thickness_mm"), json.at("plate_thickness_mm"), {}};
  for (const Json& s : json.at("stations"))
    truth.friction_stations.push_back({s.at("position_mm"), s.at("friction_thickness_mm")});
  return truth;
}

DemoPart part_of(const Json& json, const Json& truths, const fs::path& folder) {
  DemoPart demo;
  Part& part = demo.part;
  part.kind = kind_from(json.at("kind"));
  part.side = side_from(json.at("side"));
  if (part.kind == PartKind::pad) part.place = place_from(json.at("place"));
  if (!json.at("minimum_mm").is_null()) part.minimum_mm = json.at("minimum_mm").get<double>();
  part.minimum_origin = json.at("minimum_origin");
  demo.view = view_from(json.at("view"));
  const std::string photo = json.at("photo");
  demo.photo = folder / fs::path(photo).filename();
  if (const auto offset = json.find("part_offset"); offset != json.end())
    demo.offset = {offset->at("offset_mm"), offset->at("standard_uncertainty_mm")};
  if (const auto truth = truths.find(photo); truth != truths.end()) demo.truth = truth_of(*truth);
  return demo;
}

}  // namespace

double TrueSizes::friction_at(std::optional<double> position_mm) const {
  if (!position_mm) return friction_mm;
  double nearest_mm = friction_mm, distance = INFINITY;
  for (const Station& s : friction_stations)
    if (std::abs(s.position_mm - *position_mm) < distance) {
      distance = std::abs(s.position_mm - *position_mm);
      nearest_mm = s.value_mm;
    }
  return nearest_mm;
}

fs::path demo_folder() {
  return assets_folder() / "demo";
}

DemoJob read_demo_job(const fs::path& folder) {
  try {
    const Json json = json_of(folder / "job.json");
    const Json truths = json_of(folder / "truth.json");
    DemoJob demo;
    const Json& vehicle = json.at("vehicle");
    demo.vehicle.name = vehicle.at("name");
    demo.vehicle.make_model = vehicle.at("make_model");
    demo.vehicle.registration = vehicle.at("registration");
    demo.vehicle.owner = vehicle.at("owner");
    const Json& job = json.at("job");
    demo.job.date = job.at("date");
    if (!job.at("odometer_km").is_null())
      demo.job.odometer_km = job.at("odometer_km").get<double>();
    demo.job.axle = axle_from(job.at("axle"));
    demo.job.note = job.value("note", "");
    const Json& sheet = json.at("sheet");
    demo.sheet.name = "Demo sheet";
    demo.sheet.scale = scale_of(sheet);
    demo.sheet.how_checked = sheet.value("note", "");
    for (const Json& part : json.at("parts")) demo.parts.push_back(part_of(part, truths, folder));
    return demo;
  } catch (const Json::exception& error) {
    throw DemoError("The demo in " + folder.string() + " cannot be read (" + error.what() +
                    "): install Scantling again.");
  }
}

std::int64_t enter_demo_job(Record& record, const DemoJob& demo) {
  for (const DemoPart& part : demo.parts)
    if (!fs::exists(part.photo))
      throw DemoError("The demo's photo " + part.photo.string() +
                      " is not there: install Scantling again.");
  Job job = demo.job;
  job.vehicle_id = record.add_vehicle(demo.vehicle);
  job.sheet_id = record.add_sheet(demo.sheet);
  const std::int64_t job_id = record.add_job(job);
  for (const DemoPart& d : demo.parts) {
    Part part = d.part;
    part.job_id = job_id;
    const PhotoEntry photo = record.add_photo(record.add_part(part), d.view, d.photo);
    MeasurementEntry entry;
    entry.photo_id = photo.id;
    entry.options.view = d.view;
    entry.options.sheet_scale = demo.sheet.scale;
    entry.options.part_offset = d.offset;
    entry.measurement = Analysis::run(record.photo_path(photo), entry.options).measurement();
    record.add_measurement(entry);
  }
  return job_id;
}

}  // namespace scantling
