#pragma once

#include <filesystem>
#include <optional>
#include <stdexcept>
#include <vector>

#include "record/record.h"

namespace scantling {

/// The demo's files are missing or damaged; what() is a sentence for the user.
class DemoError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// True sizes of a made picture; position 0 is the middle of the notch.
struct TrueSizes {
  double friction_mm = 0;
  double plate_mm = 0;
  std::vector<Station> friction_stations;

  /// The friction material at the nearest station; without a place, its size in the middle.
  double friction_at(std::optional<double> position_mm) const;
};

struct DemoPart {
  Part part;
  View view = View::pad;
  std::filesystem::path photo;
  PartOffset offset;
  std::optional<TrueSizes> truth;
};

/// The demo: an invented car and owner, photos that are made pictures with known sizes.
struct DemoJob {
  Vehicle vehicle;
  Sheet sheet;
  Job job;
  std::vector<DemoPart> parts;
};

/// Where the demo lies among the assets.
std::filesystem::path demo_folder();

/// Reads job.json and truth.json of a demo folder. @throws DemoError.
DemoJob read_demo_job(const std::filesystem::path& folder);

/// Enters the job into the record, copies its photos in, measures each afresh and keeps what was
/// found; nothing is confirmed. Returns the job's id; its parts are in the demo's order.
/// @throws DemoError, RecordError.
std::int64_t enter_demo_job(Record& record, const DemoJob& demo);

}  // namespace scantling
