#pragma once

#include <cstdint>
#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "planes/plane_session.h"
#include "record/record.h"

namespace scantling {

struct CameraShelf;

/// A photo as the solving takes it. Names are unique within a task.
struct PlanesSource {
  std::int64_t photo_id = 0;
  std::string name;
  std::filesystem::path file;
  std::string sha256 = {};
};

/// What is to be solved together, in the order the photos were added.
struct PlanesTask {
  MeasureOptions options;  ///< as the record keeps them
  std::vector<PlanesSource> photos;
  std::shared_ptr<const CameraShelf> cameras;
};

/// The same options as the solving knows them.
PlanesOptions planes_options_of(const MeasureOptions& options);
/// What a card's stated uncertainty says: finer than the assumed one means that it was measured.
CardThickness card_thickness_of(const PartOffset& offset);
bool same_planes_options(const MeasureOptions& a, const MeasureOptions& b);

/// What was known of the size when a photo had been taken in.
struct PlanesStep {
  std::size_t photos = 0;
  std::optional<double> value_mm;  ///< nothing: no size yet
  double expanded_95_mm = 0;
};

/// Where the solving stands.
struct PlanesOutcome {
  MeasureOptions options;
  std::vector<std::int64_t> photo_ids;  ///< taken in, in order; `result.photos` runs beside it
  std::vector<std::string> sha256;      ///< of their files
  PlanesResult result;
  std::vector<PlanesStep> steps;  ///< one a photo
  /// Whether all that `task` asks for is in it.
  bool complete(const PlanesTask& task) const;
  /// Whether it is a stage on the way there: the same options, the first photos.
  bool part_of(const PlanesTask& task) const;
};

/// Photos with one name are told apart by a number.
std::vector<PlanesSource> planes_sources(const Record& record,
                                         const std::vector<PhotoEntry>& photos);

/// What the record keeps of an outcome: the joint result, once a photo.
std::vector<MeasurementEntry> planes_entries(const PlanesOutcome& outcome);

/// Works on the worker's thread, a bounded step at a time, so that the window shows each photo as
/// it comes: what it is asked for may change between two steps. Photos are searched once only.
class PlanesSolver {
 public:
  /// Takes in the photos already searched and at most one new one. The result does not depend on
  /// the way there.
  PlanesOutcome advance(const PlanesTask& task);

 private:
  void keep_first(std::size_t count);
  void take_in(const PlanesTask& task, const PlanesSource& source);

  std::shared_ptr<const CameraShelf> cameras_;
  std::map<std::int64_t, PlanePhoto> sightings_;
  std::optional<PlaneSession> session_;
  PlanesOutcome outcome_;
};

}  // namespace scantling
