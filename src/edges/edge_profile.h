#pragma once

#include <span>
#include <vector>

#include "edges/step_fit.h"

namespace scantling {

struct LaneProfiles;
struct LineCandidate;

/// The light across a line, averaged along it, and the blurred steps that explain it. Distances are
/// in samples (photo pixels) from the line, positive towards greater `across`.
struct EdgeProfile {
  std::vector<double> offset_px;  ///< one sample apart
  std::vector<double> light;      ///< mean linear light 0..1; NaN outside the photo
  std::vector<double> scatter;    ///< standard deviation of the lanes about that mean

  bool fitted = false;  ///< the rest means nothing where not
  double first_px = 0;  ///< the window that was fitted
  double last_px = 0;
  double place_px = 0;                ///< of the step that is the edge
  double place_u_px = 0;              ///< its standard uncertainty, from the fit's residuals
  double blur_px = 0;                 ///< sigma of the blur
  double step_light = 0;              ///< signed change of linear light
  std::vector<double> neighbours_px;  ///< other steps within the window, fitted along
  StepFit fit;                        ///< counts its samples from `first_px`

  /// What the fitted steps say the light is at a distance from the line.
  double model(double offset) const;
};

/// The profile about `line`, `reach_px` to each side. Fitted is the candidate that the line lies
/// on, or the strongest one nearby, as fit_edge fits the mean of all lanes: with its neighbours as
/// one model, else alone in a window that ends before them.
EdgeProfile profile_across(const LaneProfiles& lanes, const LineCandidate& line,
                           std::span<const LineCandidate> candidates, double reach_px,
                           double blur_start_px);

}  // namespace scantling
