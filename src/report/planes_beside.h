#pragma once

#include <optional>
#include <string>
#include <vector>

#include "report/part_summary.h"

namespace scantling {

/// Stands in a planes photo's newest measurement while it waits to be solved with other settings;
/// nothing counts until then.
inline constexpr char kPlanesUnsolved[] = "planes_unsolved";

/// Whether each of the photos was solved together with all the others and with no further one.
bool solved_together(const std::vector<const PhotoFinding*>& photos);

/// Whether the record holds what all of the part's planes photos say together: one and the same
/// result for each of them, made with one print scale. False without such photos.
bool planes_settled(const PartSummary& summary);

/// A part's size from planes beside the same size from its edges: a disc's worn thickness against
/// rim less lips, a pad's whole thickness against the edge view's.
struct PlanesBeside {
  std::optional<Dimension> planes;  ///< nothing where the photos give no size, or not yet
  std::optional<Dimension> edges;  ///< nothing where an edge wants confirming or a photo is missing
  double difference_mm = 0;        ///< planes less edges, where both are known
  double joint_95_mm = 0;          ///< sqrt(U_planes^2 + U_edges^2)
  /// Difference over the joint expanded uncertainty (E_n, ISO 13528 and EA-2/14). The print scale
  /// that both share is left in: it enters them differently, so it need not cancel.
  std::optional<double> normalised_error;
  bool disagree() const { return normalised_error && !(*normalised_error <= 1); }
  std::string sentence;  ///< what it means and what to do; empty where there is nothing to compare
};

/// Needs `worn` of the summary, where there is one, and its photos' confirmations.
PlanesBeside planes_beside(const PartSummary& summary);

/// Where planes govern, the chance of being below the minimum that a disc's edges may leave by
/// themselves. One in twenty solutions from planes is reckoned to be misled (dirt under a card, a
/// disc that crept), by whatever is worst: with the planes' own one in a hundred that leaves, of
/// discs just below their minimum, 0.05 * 0.15 + 0.95 * 0.01 * 0.15 = 0.9 % called "keep", a little
/// more where edges and planes share a scale's error (simulated in planes_beside_test.cpp).
inline constexpr double kEdgesMayDoubt = 0.15;

/// Lets a disc's size from planes count: beside an agreeing size from edges the surer one governs,
/// beside a disagreeing one the thinner, with a caution. @return why the disc may not be kept all
/// the same, empty where it may: the planes are alone, or the edges leave a larger chance than
/// `kEdgesMayDoubt`, or the planes themselves are not sure beside edges that are.
std::string weigh_planes(PartSummary& summary);

/// Whether the size that counts for a disc is the one from planes.
bool planes_govern(const PartSummary& summary);

}  // namespace scantling
