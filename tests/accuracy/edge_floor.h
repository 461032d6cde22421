#pragma once

#include <iosfwd>
#include <vector>

namespace scantling::accuracy {

/// A straight blurred edge on an 8-bit picture, as the engine meets it.
struct FloorScene {
  double angle_deg = 10;  ///< of the edge against the pixels' rows
  double phase_px = 0;    ///< the edge's shift across itself
  double blur_px = 1;     ///< Gaussian sigma
  double noise_codes = 2;
  double dark = 0.08, bright = 0.45;  ///< linear light
};

/// How well the engine (lanes, candidates, fit) places the edge in its middle, in photo pixels.
struct FloorResult {
  FloorScene scene;
  int trials = 0;
  int found = 0;
  double bias_px = 0;     ///< mean error
  double scatter_px = 0;  ///< standard deviation
  /// The Cramer-Rao bound of an unbiased estimate of the place from the same pixels, with levels,
  /// blur and tilt unknown: the square root of the inverse Fisher matrix's element (S. M. Kay,
  /// Fundamentals of Statistical Signal Processing: Estimation Theory, 1993, section 3.7; from
  /// memory). Noise of each pixel: Gaussian, with the rounding to whole codes.
  double bound_px = 0;

  double over_bound() const { return scatter_px / bound_px; }
};

double edge_bound_px(const FloorScene& scene);
FloorResult run_floor(const FloorScene& scene, int trials, unsigned seed);

/// Bias over all phases and angles; scatter against the bound over blur and noise.
void print_floor_report(std::ostream& out, int trials);

}  // namespace scantling::accuracy
