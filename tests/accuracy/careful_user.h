#pragma once

#include <optional>
#include <random>
#include <vector>

#include "dimension/analysis.h"
#include "support/drawn_truth.h"

namespace scantling::accuracy {

/// The program calls the faces a and b from one side, the truth from the other: each true line gets
/// the name of the found edge that it lies nearer to.
void name_faces_alike(const Measurement& found, std::vector<drawn::TrueEdge>& truth);

/// Every edge that was found, put on its true line without a hand's error: what is wrong then is
/// not the edges'.
Measurement on_true_lines(const Analysis& photo, const std::vector<drawn::TrueEdge>& truth);

/// How far the edge's middle lies from its true line, in pixels, positive towards greater y (x for
/// a line nearer to upright); nothing where the true line is not known there.
std::optional<double> off_line_px(const MeasuredEdge& found, const std::vector<Point_px>& truth);

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
