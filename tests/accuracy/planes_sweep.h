#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "planes/planes_result.h"

namespace scantling::drawn {

/// One way of taking the photos, and what nature may do to them. Everything that the adjustment
/// has a prior for is drawn from that prior; the written focal length is off by up to 5 %.
struct PlanesSweepRow {
  PlanesView view = PlanesView::faces;
  double noise_px = 0.1;
  double distance_mm = 330;
  double spread_deg = 50;     ///< between the directions that are furthest apart
  int photos = 2;             ///< a side
  double focal_error = 0.05;  ///< half width
  bool distorted = true;
  double sheet_scale_u = 0.001;

  std::string words() const;
};

/// What came of many drawings of a row.
struct PlanesSweepResult {
  int trials = 0;
  int failed = 0;         ///< not solved
  double mean_mm = 0;     ///< error
  double rms_mm = 0;      ///< error
  double claimed_mm = 0;  ///< rms of the standard uncertainties by the solver's covariance
  double ratio = 0;       ///< rms of error over its own claimed uncertainty
  double square_sum = 0;  ///< of error over claimed uncertainty
  double within_95 = 0;   ///< share inside 1.96 u
  double seconds = 0;
};

/// The rows of the table: noise, distance, directions and number of photos, one at a time.
std::vector<PlanesSweepRow> planes_sweep_rows();

PlanesSweepResult run_planes_row(const PlanesSweepRow& row, int trials, std::uint32_t seed);

}  // namespace scantling::drawn
