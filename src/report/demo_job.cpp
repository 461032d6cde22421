#include "report/demo_job.h"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>

#include "base/paths.h"
#include "camera/camera_calibration.h"
#include "camera/camera_shelf.h"
#include "record/words.h"
#include "report/measure_photos.h"
#include "report/planes_beside.h"
#include "report/record_cameras.h"

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

/// What truth.json calls a size, and what a measurement does.
constexpr const char* kTrueSizes[][2] = {
    {"friction_thickness_mm", "friction_thickness"}, {"plate_thickness_mm", "plate_thickness"},
    {"overall_thickness_mm", "overall_thickness"},   {"rim_thickness_mm", "rim_thickness"},
    {"lip_outboard_mm", "lip_height_out"},           {"lip_inboard_mm", "lip_height_in"},
    {"worn_thickness_mm", "worn_thickness"}};

void take_truth(const Json& truths, const std::string& photo, TrueSizes& truth) {
  const auto json = truths.find(photo);
  if (json == truths.end()) return;
  bool any = false;
  for (const auto& [key, dimension] : kTrueSizes)
    if (const auto size = json->find(key); size != json->end()) {
      truth.sizes_mm.emplace(dimension, size->get<double>());
      any = true;
    }
  if (!any)
    throw DemoError("The demo's truth.json knows no size of " + photo +
                    " and cannot be read: install Scantling again.");
  if (!truth.friction_stations.empty()) return;
  for (const Json& s : json->value("stations", Json::array()))
    truth.friction_stations.push_back({s.at("position_mm"), s.at("friction_thickness_mm")});
}

/// Names a file inside the demo's folder, whatever the text says.
fs::path inside(const fs::path& folder, const std::string& name) {
  return folder / fs::path(name).filename();
}

void take_photo(const Json& json, const Json& truths, const fs::path& folder, DemoPart& demo) {
  DemoPhoto photo;
  photo.view = view_from(json.at("view"));
  if (const auto face = json.find("face"); face != json.end()) photo.face = face_from(*face);
  const std::string name = json.at("photo");
  photo.file = inside(folder, name);
  take_truth(truths, name, demo.truth);
  demo.photos.push_back(std::move(photo));
}

DemoPart part_of(const Json& json, const Json& truths, const fs::path& folder) {
  DemoPart demo;
  Part& part = demo.part;
  part.kind = kind_from(json.at("kind"));
  part.side = side_from(json.at("side"));
  if (part.kind == PartKind::pad) part.place = place_from(json.at("place"));
  if (!json.at("minimum_mm").is_null()) part.minimum_mm = json.at("minimum_mm").get<double>();
  part.minimum_origin = json.at("minimum_origin");
  if (const auto diameter = json.find("diameter_mm"); diameter != json.end())
    part.disc_diameter_mm = diameter->get<double>();
  if (const auto offset = json.find("part_offset"); offset != json.end())
    demo.offset = {offset->at("offset_mm"), offset->at("standard_uncertainty_mm")};
  if (const auto photos = json.find("photos"); photos != json.end())
    for (const Json& photo : *photos) take_photo(photo, truths, folder, demo);
  else
    take_photo(json, truths, folder, demo);
  return demo;
}

/// The files that a list names; none where one of them is not there.
std::vector<fs::path> whole_set(const Json& names, const fs::path& folder) {
  std::vector<fs::path> files;
  for (const Json& name : names) files.push_back(inside(folder, name));
  const bool whole = std::all_of(files.begin(), files.end(),
                                 [](const fs::path& file) { return fs::exists(file); });
  return whole ? files : std::vector<fs::path>{};
}

/// A set of photos of one part, solved together from planes: {"kind", "side", "view", "photos"}.
void take_set(const Json& set, const Json& truths, const fs::path& folder,
              std::vector<DemoPart>& parts) {
  const PartKind kind = kind_from(set.at("kind"));
  const Side side = side_from(set.at("side"));
  const auto part = std::find_if(parts.begin(), parts.end(), [&](const DemoPart& p) {
    return p.part.kind == kind && p.part.side == side &&
           (kind == PartKind::disc || p.part.place == place_from(set.at("place")));
  });
  if (part == parts.end())
    throw DemoError("The demo in " + folder.string() +
                    " has photos of a part that it does not name: install Scantling again.");
  if (whole_set(set.at("photos"), folder).empty()) return;
  for (const Json& name : set.at("photos"))
    take_photo({{"view", set.at("view")}, {"photo", name}}, truths, folder, *part);
}

std::vector<const Json*> items_of(const Json& json, const char* list) {
  std::vector<const Json*> items;
  if (const auto found = json.find(list); found != json.end())
    for (const Json& item : *found) items.push_back(&item);
  return items;
}

void take_sheet(const Json& json, DemoJob& demo) {
  demo.sheet.name = "Demo sheet";
  demo.sheet.scale = scale_of(json);
  demo.sheet.how_checked = json.value("note", "");
  if (const auto card = json.find("card_thickness"); card != json.end()) {
    demo.card_thickness = {card->at("thickness_mm"), card->at("standard_uncertainty_mm")};
  }
}

/// A made photo's camera as the sensor has it; truth.json tells it as the upright photo does.
CameraModel camera_of(const Json& json) {
  const SensorFromUpright frame = sensor_from_upright({json.at("width_px"), json.at("height_px")},
                                                      json.at("orientation").get<int>());
  const Point_px centre = frame.to_sensor({json.at("cx"), json.at("cy")});
  return {json.at("f_px"), centre.x, centre.y, json.at("k1"), json.at("k2")};
}

std::optional<CameraModel> mean_camera(const std::vector<fs::path>& photos, const Json& truths) {
  CameraModel mean;
  const auto share = 1.0 / static_cast<double>(photos.size());
  for (const fs::path& photo : photos) {
    const auto truth = truths.find(photo.filename().string());
    if (truth == truths.end()) return std::nullopt;
    const CameraModel one = camera_of(truth->at("camera"));
    mean.focal_px += share * one.focal_px;
    mean.centre_x_px += share * one.centre_x_px;
    mean.centre_y_px += share * one.centre_y_px;
    mean.k1 += share * one.k1;
    mean.k2 += share * one.k2;
  }
  if (photos.empty()) return std::nullopt;
  return mean;
}

/// Holds what its set is to be solved with; nothing counts before that.
MeasurementEntry waiting_for_planes(const PhotoEntry& photo, const DemoJob& demo) {
  MeasurementEntry entry;
  entry.photo_id = photo.id;
  entry.options = demo_planes_options(demo, photo.view);
  entry.measurement.view = photo.view;
  entry.measurement.checks = {
      {kPlanesUnsolved, Severity::info, "This photo waits to be solved together with the others."}};
  return entry;
}

struct DemoMeasurement {
  StoredPhoto stored;
  MeasurementEntry entry;  ///< its photo has no row yet
};

/// A part's photos in the store and measured, those of one lip together; in their order.
std::vector<DemoMeasurement> measured_photos(Record& record, const DemoJob& demo,
                                             const DemoPart& part,
                                             const std::shared_ptr<const CameraShelf>& cameras) {
  std::vector<DemoMeasurement> list;
  std::vector<PhotoToMeasure> photos;
  for (const DemoPhoto& p : part.photos) {
    list.push_back({record.store_photo(p.file), {}});
    PhotoEntry photo;
    photo.id = static_cast<std::int64_t>(list.size());  // only tells them apart here
    photo.view = p.view;
    photo.face = p.face;
    photo.sha256 = list.back().stored.sha256;
    if (from_planes(p.view)) {
      list.back().entry = waiting_for_planes(photo, demo);
      continue;
    }
    MeasureOptions options;
    options.view = p.view;
    options.sheet_scale = demo.sheet.scale;
    if (p.view != View::lip) options.part_offset = part.offset;
    options.disc_diameter_mm = part.part.disc_diameter_mm;
    options.cameras = cameras;
    photos.push_back({photo, record.photo_path(photo), std::move(options)});
  }
  for (const MeasuredPhoto& measured : measure_photos(photos))
    list[static_cast<std::size_t>(measured.photo_id) - 1].entry = entry_of(measured);
  return list;
}

}  // namespace

MeasureOptions demo_planes_options(const DemoJob& demo, View view) {
  MeasureOptions options;
  options.view = view;
  options.sheet_scale = demo.sheet.scale;
  options.part_offset = demo.card_thickness;
  return options;
}

std::optional<double> TrueSizes::of(const std::string& dimension,
                                    std::optional<double> position_mm) const {
  if (dimension == "friction_thickness" && position_mm && !friction_stations.empty())
    return std::min_element(friction_stations.begin(), friction_stations.end(),
                            [&](const Station& a, const Station& b) {
                              return std::abs(a.position_mm - *position_mm) <
                                     std::abs(b.position_mm - *position_mm);
                            })
        ->value_mm;
  const auto known = sizes_mm.find(dimension);
  return known == sizes_mm.end() ? std::nullopt : std::optional(known->second);
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
    take_sheet(json.at("sheet"), demo);
    for (const char* list : {"parts", "discs"})
      for (const Json* part : items_of(json, list))
        demo.parts.push_back(part_of(*part, truths, folder));
    for (const char* list : {"piles", "faces"})
      for (const Json* set : items_of(json, list)) take_set(*set, truths, folder, demo.parts);
    if (const auto names = json.find("camera_photos"); names != json.end())
      demo.camera_photos = whole_set(*names, folder);
    demo.true_camera = mean_camera(demo.camera_photos, truths);
    return demo;
  } catch (const Json::exception& error) {
    throw DemoError("The demo in " + folder.string() + " cannot be read (" + error.what() +
                    "): install Scantling again.");
  }
}

std::shared_ptr<const CameraShelf> demo_cameras(const DemoJob& demo) {
  if (demo.camera_photos.empty()) return nullptr;
  CameraCalibration calibration(demo.job.date);
  for (const fs::path& photo : demo.camera_photos)
    calibration.add(look_at_calibration_photo(load_photo(photo), photo.filename().string()));
  const CalibrationProgress& progress = calibration.progress();
  if (!progress.accepted) return nullptr;
  auto shelf = std::make_shared<CameraShelf>();
  shelf->profiles.push_back(*progress.profile);
  return shelf;
}

std::int64_t enter_demo_job(Record& record, const DemoJob& demo,
                            std::shared_ptr<const CameraShelf> cameras) {
  for (const DemoPart& part : demo.parts)
    for (const DemoPhoto& photo : part.photos)
      if (!fs::exists(photo.file))
        throw DemoError("The demo's photo " + photo.file.string() +
                        " is not there: install Scantling again.");
  // What takes its time comes first, so that the record holds the whole demo or nothing of it.
  std::vector<std::vector<DemoMeasurement>> measured;
  for (const DemoPart& part : demo.parts)
    measured.push_back(measured_photos(record, demo, part, cameras));
  Job job = demo.job;
  record.as_one_change([&] {
    job.vehicle_id = record.add_vehicle(demo.vehicle);
    job.sheet_id = record.add_sheet(demo.sheet);
    job.id = record.add_job(job);
    if (cameras)
      for (const CameraProfile& profile : cameras->profiles) keep_in_record(record, profile);
    for (std::size_t i = 0; i < demo.parts.size(); ++i) {
      Part part = demo.parts[i].part;
      part.job_id = job.id;
      const std::int64_t part_id = record.add_part(part);
      for (std::size_t k = 0; k < measured[i].size(); ++k) {
        const DemoPhoto& photo = demo.parts[i].photos[k];
        DemoMeasurement& one = measured[i][k];
        one.entry.photo_id = record.add_photo(part_id, photo.view, one.stored, photo.face).id;
        record.add_measurement(one.entry);
      }
    }
  });
  return job.id;
}

}  // namespace scantling
