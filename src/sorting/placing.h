#pragma once

// Between the files that propose places; nobody else's business.

#include <optional>
#include <string>
#include <vector>

#include "sorting/place_photos.h"

namespace scantling {

/// All that the steps of the placing share.
struct Placing {
  const std::vector<PhotoSight>& photos;
  const SortingContext& context;
  const std::vector<std::optional<PhotoPlace>>& pinned;
  std::vector<std::size_t> order;  ///< of those to place, as taken
  std::vector<PhotoProposal>& proposals;

  const std::optional<PhotoPlace>& pin(std::size_t photo) const { return pinned[photo]; }
  /// As the user says, else as recognised.
  std::optional<View> view_of(std::size_t photo) const;
  void propose(std::size_t photo, PhotoPlace place, double place_sureness, std::string why) const;
  /// How many photos of this place the job holds.
  std::size_t filed(const PhotoPlace& place) const;
};

/// One disc's photos with the notch and track cards.
struct DiscVisit {
  Side side = Side::left;
  std::vector<std::size_t> rims;
  std::vector<std::size_t> lips;
  std::optional<std::int64_t> begun_s;
  double sureness = 1;
};

/// One pad's photos with the notch card.
struct PadVisit {
  PartSlot slot;
  std::vector<std::size_t> photos;
};

struct EdgePlaces {
  std::vector<DiscVisit> discs;
  std::vector<PadVisit> pads;
};

/// Walks through the photos as taken and places pads, rims and lips.
EdgePlaces place_by_edges(const Placing& placing);

/// Which face each lip photo of one disc shows.
void place_lips(const Placing& placing, const DiscVisit& disc);

/// Places what was taken with the ground sheet, set-up by set-up.
void place_by_planes(const Placing& placing, const EdgePlaces& edges);

/// Seconds from one photo to another; nothing where either does not tell its time.
std::optional<std::int64_t> seconds_between(const PhotoSight& a, const PhotoSight& b);

}  // namespace scantling
