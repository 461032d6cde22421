#pragma once

namespace scantling {

/// Degrees of freedom as the t table is entered with: truncated to the next lower integer
/// (GUM G.4.1 note 1); below one they are kept as they are, for the wider tail.
double truncated_degrees_of_freedom(double degrees_of_freedom);

/// Quantile of Student's t for truncated degrees of freedom, of the normal distribution where they
/// are unlimited. `probability` in (0, 1), one-sided. Error below 1e-9.
/// @throws std::invalid_argument for other probabilities, or degrees of freedom not above zero.
double t_quantile(double probability, double degrees_of_freedom);

/// Distribution function of the same: chance that a t variable is below `t`.
double t_probability_below(double t, double degrees_of_freedom);

/// Coverage factor of the symmetric interval, t_p(nu) in GUM G.3.2 and Table G.2.
double coverage_factor(double coverage, double degrees_of_freedom);

/// Coverage factor where two rectangular contributions dominate: the sum has a trapezoid of edge
/// parameter beta = |a1 - a2| / (a1 + a2), 0 (triangle) to 1 (rectangle) (EA-4/02 S10.13).
/// Covers the rectangle too, where the sides of the trapezoid are too steep to hold the tails.
/// @throws std::invalid_argument outside 0 <= beta <= 1 or 0 < coverage < 1.
double trapezoid_coverage_factor(double coverage, double beta);

/// Degrees of freedom of a judged (Type B) standard uncertainty from its own relative doubt
/// (GUM G.4.2, eq. G.3); a doubt of 0 gives unlimited ones.
double degrees_of_freedom_of_doubt(double relative_doubt);

}  // namespace scantling
