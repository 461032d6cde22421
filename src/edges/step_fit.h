#pragma once

#include <span>
#include <vector>

namespace scantling {

/// Light across one or more neighbouring blurred steps:
/// I(x) = level + slope x + sum_j height_j Phi((x - place_j) / blur), Phi the normal integral.
/// x counts samples. On a single clean step the place's error reaches the Cramer-Rao bound
/// 1.88 sqrt(blur) noise/height samples within a few per cent.
struct StepFit {
  bool converged = false;
  std::vector<double> place;   ///< ascending, samples from the first value
  std::vector<double> height;  ///< signed, in the samples' unit
  double level = 0;
  double slope = 0;
  double blur = 0;              ///< samples
  double noise = 0;             ///< residual standard deviation
  std::vector<double> place_u;  ///< standard uncertainty of each place from the residuals, samples
};

struct StepFitOptions {
  double blur_start = 1.2;
  double blur_least = 0.35;  ///< a pixel's own width blurs by 0.29
  double blur_most = 6.0;
  bool free_blur = true;
  bool free_slope = false;
  double huber = 2.5;  ///< residuals beyond this many robust deviations weigh less
  /// Above zero: the start places are themselves observations with this standard uncertainty
  /// (samples), so that a window without a clear step stays where it was expected.
  double place_prior_u = 0;
  double tolerance = 1e-4;  ///< samples; the iteration ends when no place moves further
};

/// Robust least squares (Levenberg-Marquardt, Huber weights) from the given start places.
/// NaN values are left out. Not converged: too few values, or a place left the window.
StepFit fit_steps(std::span<const float> values, std::span<const double> start_places,
                  const StepFitOptions& options = {});

/// How far `values` lie shifted against an earlier fit's model (samples), its level and gain left
/// free; all steps move together. NaN where the window holds no contrast to judge by.
double fit_shift(std::span<const float> values, const StepFit& model, double most_shift);

}  // namespace scantling
