#include "app/measuring_log.h"

#include <algorithm>

namespace scantling {

namespace {

constexpr int kMostOvertaken = 8;  ///< in a row: nobody moves edges that fast for that long

}  // namespace

bool MeasuringLog::tried_already(const Session::WantedPhoto& photo) const {
  const auto known = tried_.find(photo.photo_id);
  return known != tried_.end() && !known->second.again &&
         same_options(known->second.options, photo.options);
}

MeasuringLog::Wanted MeasuringLog::to_begin(const Wanted& wanted) {
  Wanted photos;
  for (const Session::WantedPhoto& photo : wanted) {
    if (on_its_way(photo.photo_id)) continue;
    if (!photo.due)
      tried_.erase(photo.photo_id);
    else if (!tried_already(photo))
      photos.push_back(photo);
  }
  return photos;
}

std::size_t MeasuringLog::left(const Wanted& wanted) const {
  return static_cast<std::size_t>(
      std::count_if(wanted.begin(), wanted.end(), [&](const Session::WantedPhoto& photo) {
        return photo.due && !on_its_way(photo.photo_id) && tried_already(photo);
      }));
}

void MeasuringLog::begun(std::int64_t photo_id, const MeasureOptions& options) {
  tried(photo_id, options);
  on_its_way_.insert(photo_id);
}

void MeasuringLog::tried(std::int64_t photo_id, const MeasureOptions& options) {
  Tried& known = tried_[photo_id];
  if (!same_options(known.options, options)) known.overtaken = 0;
  known.options = options;
  known.again = false;
}

void MeasuringLog::overtaken(std::int64_t photo_id) {
  ended(photo_id);
  if (const auto known = tried_.find(photo_id); known != tried_.end())
    known->second.again = ++known->second.overtaken <= kMostOvertaken;
}

void MeasuringLog::go_on() {
  for (auto& [id, known] : tried_) known = {known.options, 0, true};
}

}  // namespace scantling
