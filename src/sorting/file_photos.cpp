#include "sorting/file_photos.h"

#include <algorithm>

namespace scantling {

Part new_part(std::int64_t job_id, const PartSlot& slot, const std::vector<Part>& others) {
  Part made;
  made.job_id = job_id;
  made.kind = slot.kind;
  made.side = slot.side;
  made.place = slot.place;
  for (const Part& other : others)
    if (other.kind == slot.kind && other.minimum_mm) {
      made.minimum_mm = other.minimum_mm;
      made.minimum_origin = other.minimum_origin;
      made.disc_diameter_mm = other.disc_diameter_mm;
    }
  return made;
}

namespace {

std::int64_t job_of(Record& record, const NewJob& wanted) {
  Job job = wanted.job;
  job.vehicle_id = wanted.vehicle.id != 0 ? wanted.vehicle.id : record.add_vehicle(wanted.vehicle);
  return record.add_job(job);
}

std::int64_t part_of_slot(Record& record, std::int64_t job_id, const PartSlot& slot) {
  const std::vector<Part> parts = record.parts(job_id);
  for (const Part& part : parts)
    if (slot_of(part) == slot) return part.id;
  return record.add_part(new_part(job_id, slot, parts));
}

}  // namespace

FiledHeap file_photos(Record& record, std::int64_t job_id, const std::vector<PhotoToFile>& photos,
                      const NewJob* new_job, const std::atomic<bool>* stop,
                      const std::function<void(std::size_t)>& done) {
  // What takes the disk its time is done before the rows, so that nobody waits for the record.
  std::vector<StoredPhoto> stored;
  for (const PhotoToFile& photo : photos) {
    if (stop && *stop) return {};
    stored.push_back(record.store_photo(photo.file));
    if (done) done(stored.size());
  }
  if (stop && *stop) return {};
  FiledHeap heap;
  record.as_one_change([&] {
    heap.new_job = new_job != nullptr;
    heap.job_id = new_job ? job_of(record, *new_job) : job_id;
    for (std::size_t i = 0; i < photos.size(); ++i) {
      const std::int64_t part = part_of_slot(record, heap.job_id, photos[i].slot);
      const std::vector<PhotoEntry> before = record.photos(part);
      heap.photos.push_back(
          record.add_photo(part, photos[i].kind.view, stored[i], photos[i].kind.face));
      const std::int64_t id = heap.photos.back().id;
      if (std::none_of(before.begin(), before.end(),
                       [&](const PhotoEntry& photo) { return photo.id == id; }))
        heap.added.push_back(id);
    }
  });
  return heap;
}

}  // namespace scantling
