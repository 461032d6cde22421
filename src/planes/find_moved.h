#pragma once

#include <string>
#include <vector>

#include "planes/planes_result.h"
#include "planes/planes_solution.h"

namespace scantling {

/// A card that is not in one place in all its photos.
struct Movement {
  PlanePiece piece = PlanePiece::card_a;
  std::vector<std::size_t> agree;   ///< bundle photos that have it in one place, in order of time
  std::vector<std::size_t> differ;  ///< those that have it elsewhere
  double shift_mm = 0;              ///< of its middle, first that differs against the others
  double turn_deg = 0;
  bool turned_over = false;  ///< faces the other way: it changed sides
};

/// Compares the pose that each photo alone gives a card with those of the others, covariances
/// included. Only asked when one pose a card does not hold; may still find nothing that matters: a
/// movement counts from 0.2 mm and 1.5 px, or 0.5 degrees on. `order`: the bundle's photos by time.
std::vector<Movement> find_moved(const PlanesSolution& solved,
                                 const std::vector<std::size_t>& order);

/// The sentence about all movements: which photo, or which card between which photos.
Check moved_check(const std::vector<Movement>& movements, const PlanesSolution& solved,
                  const std::vector<std::size_t>& order, const std::vector<std::string>& names,
                  PlanesView view);

}  // namespace scantling
