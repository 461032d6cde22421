#pragma once

#include <atomic>
#include <cstdint>
#include <filesystem>
#include <functional>
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

/// What may be measured apart from the rest, on another thread: each photo by itself, those of one
/// lip together; in the order of their first photos. Those that are solved from planes are left
/// out.
std::vector<std::vector<PhotoToMeasure>> measured_together(
    const std::vector<PhotoToMeasure>& photos);

/// Measures many photos on `threads` threads and gives what the record keeps of them, in the
/// photos' order: the same, however many threads there are. No picture is held longer than its own
/// measuring takes. `done`: called now and then, from any thread, with how many photos are ready.
/// Where `stop` turns true, photos not begun are left out.
std::vector<MeasurementEntry> measure_many(const std::vector<PhotoToMeasure>& photos,
                                           unsigned threads,
                                           const std::atomic<bool>* stop = nullptr,
                                           const std::function<void(std::size_t)>& done = {});

/// What the record keeps of it, with some edges moved by hand.
MeasurementEntry entry_of(const MeasuredPhoto& measured, std::vector<MovedEdge> moved = {});

/// The camera profile that a recorded measurement was made with, as a shelf for
/// MeasureOptions::cameras; null where it was made without.
/// @throws RecordError where the stored profile cannot be read.
std::shared_ptr<const CameraShelf> cameras_as_recorded(const MeasurementEntry& entry);

}  // namespace scantling
