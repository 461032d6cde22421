#pragma once

#include <atomic>
#include <cstdint>
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "dimension/analysis.h"
#include "record/record.h"

namespace scantling {

/// A photo of the record that is about to be measured.
struct PhotoToMeasure {
  PhotoEntry photo;
  std::filesystem::path path;
  MeasureOptions options;
};

struct MeasuredPhoto {
  std::int64_t photo_id = 0;
  Analysis analysis;
  std::vector<std::string> read_with;  ///< see MeasurementEntry::read_with
};

/// Measures photos. Several of one lip (same part, same face) are read together, since a second
/// one tells height and slope apart. Those that are solved from planes are left out. Where `stop`
/// turns true the result is empty.
std::vector<MeasuredPhoto> measure_photos(const std::vector<PhotoToMeasure>& photos,
                                          const std::atomic<bool>* stop = nullptr);

/// What the record keeps of it, with some edges moved by hand.
MeasurementEntry entry_of(const MeasuredPhoto& measured, std::vector<MovedEdge> moved = {});

/// The camera profile that a recorded measurement was made with, as a shelf for
/// MeasureOptions::cameras; null where it was made without.
/// @throws RecordError where the stored profile cannot be read.
std::shared_ptr<const CameraShelf> cameras_as_recorded(const MeasurementEntry& entry);

}  // namespace scantling
