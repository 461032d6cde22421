#pragma once

#include <string>
#include <vector>

#include "record/record.h"

namespace scantling {

/// A photo that another one may be laid beside.
struct CompareChoice {
  PhotoEntry photo;
  Part part;
  Job job;
  bool other_job = false;  ///< the same part and view, from another job of the axle
};

/// What the shown photo of a job may be compared with: first the same part and view (for a lip, the
/// same face) from the axle's other jobs, earlier ones before later ones and the nearest in time
/// first; then the other photos of the job: of the same part, then of others, each with the same
/// view before the rest.
/// Photos that are only solved together, from planes, are left out.
std::vector<CompareChoice> photos_to_compare(const Record& record, const Job& job,
                                             const PhotoEntry& shown);

/// "25 November 2025, 71 250 km" for another job's photo, "Front left, outer pad" for this job's.
std::string choice_title(const CompareChoice& choice);

/// Why there is nothing to compare with, and what to do about it.
std::string nothing_to_compare();

}  // namespace scantling
