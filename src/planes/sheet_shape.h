#pragma once

#include "planes/bundle.h"

namespace scantling {

/// Between the sheet's highest and lowest place by the surface model, a tilted plane taken out.
double sheet_range_mm(const PlaneBundle& bundle, const PlaneBundleState& state);

/// What the corners of the sheet, taken one by one, say of its height beyond the model: the rms
/// that is more than their noise explains.
struct SheetUnevenness {
  double rms_mm = 0;
  double largest_mm = 0;  ///< of a corner that at least two photos place surely
  int corners = 0;
};

SheetUnevenness sheet_unevenness(const PlaneBundle& bundle, const PlaneBundleSolution& solution);

}  // namespace scantling
