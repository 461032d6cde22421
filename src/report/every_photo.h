#pragma once

#include <string>

#include "report/part_summary.h"

namespace scantling {

/// A disc's worn thickness by one rim photo, less the lips as all their settled photos together
/// give them.
WornThickness worn_by(const PartSummary& summary, const Measurement& rim);

/// "Keep" asks that every settled photo alone says it; the surest one does not speak for the rest.
/// @return a sentence that names the photo that leaves the largest chance of being below the
/// minimum, where that is more than "keep" allows, and says what to do; empty where none does. For
/// a disc each rim photo is tried, less both lips (the photos of one lip are one measurement: a
/// single one cannot tell height from slope). Where planes govern a disc, its edges may leave the
/// chance that `weigh_planes` allows them.
std::string photo_that_objects(const PartSummary& summary);

/// The agreement that holds for the worn thickness from a disc's edges: all rim and lip photos that
/// it rests on share camera and sheet. Null where they do not, or where there is none. And the
/// photo whose key stands for all of them; null where they differ.
const Agreement* agreement_of_edges(const PartSummary& summary);
const PhotoFinding* edges_speaker(const PartSummary& summary);
/// The same for the photos that were solved together for a disc's planes.
const PhotoFinding* planes_speaker(const PartSummary& summary);

}  // namespace scantling
