#pragma once

#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "camera/camera_model.h"
#include "record/record.h"

namespace scantling {

struct CameraShelf;

/// The demo's files are missing or damaged; what() is a sentence for the user.
class DemoError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// True sizes of a part in made pictures, by the names of its dimensions ("friction_thickness",
/// "rim_thickness", "lip_height_out", "worn_thickness", ...); position 0 is the notch's middle.
struct TrueSizes {
  std::map<std::string, double> sizes_mm;
  std::vector<Station> friction_stations;

  /// Nothing where it is not known. The friction material may be asked for at a place: the nearest
  /// station's counts.
  std::optional<double> of(const std::string& dimension,
                           std::optional<double> position_mm = std::nullopt) const;
};

struct DemoPhoto {
  View view = View::pad;
  std::optional<DiscFace> face;
  std::filesystem::path file;
};

struct DemoPart {
  Part part;
  PartOffset offset;
  std::vector<DemoPhoto> photos;
  TrueSizes truth;
};

/// The demo: an invented car and owner, photos that are made pictures with known sizes.
struct DemoJob {
  Vehicle vehicle;
  Sheet sheet;
  Job job;
  std::vector<DemoPart> parts;
  /// Photos of the bare ground sheet for the phone's profile; empty where they are not there.
  std::vector<std::filesystem::path> camera_photos;
  /// The camera of those photos on the mean, as focus and stabiliser moved a little between them;
  /// in the sensor's frame. Nothing where truth.json does not tell it of each.
  std::optional<CameraModel> true_camera;
  PartOffset card_thickness{0.25, 0.05};  ///< of the cut-out cards; as here: not measured
};

/// Where the demo lies among the assets.
std::filesystem::path demo_folder();

/// Reads job.json and truth.json of a demo folder. Sets of photos that are solved from planes, and
/// the one for the phone's profile, are extras: a set is left out where one of its photos is not
/// there. @throws DemoError.
DemoJob read_demo_job(const std::filesystem::path& folder);

/// What the photos of a planes view are solved with.
MeasureOptions demo_planes_options(const DemoJob& demo, View view);

/// The phone's profile from the demo's own photos of the sheet; null where they give none.
std::shared_ptr<const CameraShelf> demo_cameras(const DemoJob& demo);

/// Enters the job into the record, copies its photos in, measures each afresh, those of one lip
/// together, and keeps what was found; nothing is confirmed. The record holds all of it in the end,
/// or nothing. It keeps the profiles of `cameras`. Photos of planes are filed with their part and
/// wait to be solved. Returns the job's id; its parts are in the demo's order.
/// @throws DemoError, RecordError.
std::int64_t enter_demo_job(Record& record, const DemoJob& demo,
                            std::shared_ptr<const CameraShelf> cameras = nullptr);

}  // namespace scantling
