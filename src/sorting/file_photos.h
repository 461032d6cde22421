#pragma once

#include <atomic>
#include <cstdint>
#include <filesystem>
#include <functional>
#include <vector>

#include "sorting/photo_place.h"

namespace scantling {

struct PhotoToFile {
  std::filesystem::path file;
  PartSlot slot;
  PhotoKind kind;
};

/// A job that the photos begin; its vehicle is made where its id is 0.
struct NewJob {
  Vehicle vehicle;
  Job job;
};

/// What filing a heap has made, so that it can be taken back.
struct FiledHeap {
  std::int64_t job_id = 0;
  bool new_job = false;
  std::vector<PhotoEntry> photos;   ///< in the order given
  std::vector<std::int64_t> added;  ///< of these, the photos that the job did not have before
};

/// A part of the job that the record does not know yet. Pads of an axle share their minimum, and so
/// do its discs: it is taken over from one that has it.
Part new_part(std::int64_t job_id, const PartSlot& slot, const std::vector<Part>& others);

/// Files the photos into the job, or into a new one of `new_job` where that is given: first all
/// files are copied, then all rows are made as one change, so that the record holds the whole heap
/// or nothing of it. `done`: called with how many files are copied. Where `stop` turns true before
/// the rows are made, nothing is filed and the result is empty.
/// @throws RecordError.
FiledHeap file_photos(Record& record, std::int64_t job_id, const std::vector<PhotoToFile>& photos,
                      const NewJob* new_job = nullptr, const std::atomic<bool>* stop = nullptr,
                      const std::function<void(std::size_t)>& done = {});

}  // namespace scantling
