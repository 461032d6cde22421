#pragma once

#include <optional>
#include <string>
#include <vector>

#include "sorting/doubles.h"
#include "sorting/photo_place.h"
#include "sorting/photo_sight.h"

namespace scantling {

/// A photo that the job has already.
struct FiledPhoto {
  std::string sha256;
  PhotoPlace place;
  std::optional<RoughSize> thickness;  ///< of the whole pad, where it was measured
};

/// What the job holds before the sorting, so that the proposal goes on from there.
struct SortingContext {
  std::vector<FiledPhoto> filed;
  std::optional<PartSlot> start;  ///< the part in front of the user: the first place, if free
};

/// Where one photo should go, and why.
struct PhotoProposal {
  PhotoPlace place;
  double sureness = 0;  ///< 0..1, of view and place together; the user looks below kLookBelow
  std::string why;      ///< why there, in a few words
  int time_group = 0;   ///< from 1; a gap of minutes starts the next; 0 where no time is known
  std::optional<PhotoDouble> repeats;
  bool filed_already = false;  ///< the job has this very photo
};

/// Proposals less sure than this want the user's eye.
inline constexpr double kLookBelow = 0.7;

/// A longer gap between two photos starts a new group.
inline constexpr int kGroupGap_s = 180;

/// The photos in the order in which they were taken; those that do not tell their time come last,
/// by name.
std::vector<std::size_t> order_taken(const std::vector<PhotoSight>& photos);

/// Proposes a place for each photo. Pads go wheel by wheel, the inner one first; a disc's rim comes
/// before its lips, the outboard lip before the inboard one. Photos close together in time whose
/// sizes agree show one part. Photos of planes are told apart by how their card stands on the
/// sheet. `pinned`: places that the user has chosen; the others are proposed in their light. Empty
/// or one a photo.
std::vector<PhotoProposal> propose_places(
    const std::vector<PhotoSight>& photos, const SortingContext& context = {},
    const std::vector<std::optional<PhotoPlace>>& pinned = {});

}  // namespace scantling
