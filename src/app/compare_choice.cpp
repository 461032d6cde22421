#include "app/compare_choice.h"

#include <algorithm>

#include "report/wording.h"

namespace scantling {

namespace {

bool same_place(const Part& a, const Part& b) {
  return a.kind == b.kind && a.side == b.side && (a.kind == PartKind::disc || a.place == b.place);
}

bool same_view(const PhotoEntry& a, const PhotoEntry& b) {
  return a.view == b.view && (a.view != View::lip || a.face == b.face);
}

}  // namespace

std::vector<CompareChoice> photos_to_compare(const Record& record, const Job& job,
                                             const PhotoEntry& shown) {
  std::vector<CompareChoice> choices;
  const auto part = record.part(shown.part_id);
  if (!part) return choices;
  const auto add_job = [&](const Job& other) {
    for (const Part& theirs : record.parts(other.id)) {
      if (!same_place(theirs, *part)) continue;
      for (const PhotoEntry& photo : record.photos(theirs.id))
        if (same_view(photo, shown)) choices.push_back({photo, theirs, other, true});
    }
  };
  const std::vector<Job> jobs = record.jobs_of_axle(job.vehicle_id, job.axle);
  const auto here =
      std::find_if(jobs.begin(), jobs.end(), [&](const Job& other) { return other.id == job.id; });
  for (auto earlier = here; earlier != jobs.begin();) add_job(*--earlier);
  if (here != jobs.end())
    for (auto later = here + 1; later != jobs.end(); ++later) add_job(*later);

  std::vector<CompareChoice> mine;
  for (const Part& other : record.parts(job.id))
    for (const PhotoEntry& photo : record.photos(other.id))
      if (photo.id != shown.id && !from_planes(photo.view))
        mine.push_back({photo, other, job, false});
  const auto rank = [&](const CompareChoice& choice) {
    return (choice.part.id == part->id ? 0 : 2) + (same_view(choice.photo, shown) ? 0 : 1);
  };
  std::stable_sort(mine.begin(), mine.end(), [&](const CompareChoice& a, const CompareChoice& b) {
    return rank(a) < rank(b);
  });
  choices.insert(choices.end(), mine.begin(), mine.end());
  return choices;
}

std::string choice_title(const CompareChoice& choice) {
  if (!choice.other_job) return part_title(choice.part, choice.job.axle);
  std::string title = date_title(choice.job.date);
  if (choice.job.odometer_km) title += ", " + distance_title(*choice.job.odometer_km);
  return title;
}

std::string nothing_to_compare() {
  return "There is nothing to compare this photo with yet. Add another photo to this job, or "
         "measure this part again in the axle's next job: then and now lie side by side here.";
}

}  // namespace scantling
