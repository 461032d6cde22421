#pragma once

#include <functional>
#include <memory>
#include <vector>

#include "dimension/lip_model.h"
#include "dimension/plane_scene.h"
#include "uncertainty/size_chain.h"

namespace scantling {

/// The wall's height for a given run, with its budget lines; the run's own is left out of them.
struct HeightBudget {
  static constexpr char kRunSource[] = "run of the lip's wall, assumed";
  static constexpr char kRunAdvice[] = "Take a second photo from a clearly different height.";
  static constexpr char kThicknessSource[] = "card's own thickness under its face";
  static constexpr double kThickness_u_mm = 0.06;

  const PlaneScene& scene;
  const PartReading& reading;
  const MeasureOptions& options;
  LipModel nominal;
  double run_mm;

  HeightBudget(const PlaneScene& scene, const PartReading& reading, const MeasureOptions& options);

  double sensitivity(double step, const std::function<void(LipModel&, double)>& vary) const;
  double run_share() const;
  /// By how much the height changes for each mm by which an edge is misplaced.
  double edge_share(std::size_t edge) const;
  std::vector<BudgetLine> lines() const;
  /// The height, its inputs and sources as a chain that Monte Carlo can run.
  std::shared_ptr<const SizeChain> chain() const;
};

}  // namespace scantling
