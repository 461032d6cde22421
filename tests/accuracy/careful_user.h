#pragma once

#include <random>
#include <vector>

#include "dimension/analysis.h"
#include "support/drawn_truth.h"

namespace scantling::accuracy {

/// A user who looks closely: drags both handles of every edge that was found to its true line, give
/// or take one pixel, at fourfold zoom, and lets go, so that the edge snaps to a real one within
/// 3.5 px where there is one.
class CarefulUser {
 public:
  explicit CarefulUser(unsigned seed) : random_(seed) {}
  Measurement measures(const Analysis& photo, const std::vector<drawn::TrueEdge>& truth);

 private:
  std::mt19937 random_;
};

}  // namespace scantling::accuracy
