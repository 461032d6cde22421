// A lip's height as a chain for Monte Carlo: the same inputs as its budget.
#include <algorithm>
#include <cmath>

#include "dimension/lip_budget.h"
#include "dimension/lip_sizes.h"
#include "dimension/pose_inputs.h"
#include "dimension/size_budget.h"

namespace scantling {

std::shared_ptr<const SizeChain> HeightBudget::chain() const {
  auto chain = std::make_shared<SizeChain>();
  const double value = nominal.height_mm(run_mm);
  std::vector<std::size_t> added_mm;  // inputs that are errors of the height itself
  std::vector<std::size_t> foot, top;
  std::optional<std::size_t> thickness;
  for (const BudgetLine& line : lines()) {
    const bool is_foot = line.source.find(edge_words("wall_foot")) != std::string::npos;
    const bool is_top = line.source.find(edge_words("wall_top")) != std::string::npos;
    const bool is_pose = line.source == kPoseSource || is_print_scale(line);
    if (is_pose) continue;
    const SizeChain::Source source =
        chain->add_source(line.source, line.advice, line.degrees_of_freedom);
    if (is_foot || is_top) {
      // The line tells of the height; the model wants the edge's own shift.
      const double share =
          std::max(1e-6, edge_share(is_foot ? PartReading::wall_foot : PartReading::wall_top));
      const std::size_t input = chain->add_input(
          source, error_of(line.standard_uncertainty_mm / share, line.degrees_of_freedom));
      (is_foot ? foot : top).push_back(input);
    } else if (line.source == kThicknessSource) {
      thickness = chain->add_input(source, error_of(kThickness_u_mm));
    } else {
      added_mm.push_back(chain->add_input(
          source, error_of(line.standard_uncertainty_mm, line.degrees_of_freedom)));
    }
  }
  const BudgetLine words = print_scale_line(options.sheet_scale, value, 0, 0);
  const SizeChain::Source sheet = chain->add_source(words.source, words.advice);
  const SizeChain::Source corners =
      chain->add_source(kPoseSource, "Show the whole card, sharp.",
                        std::max(1.0, 2.0 * scene.pose.corners() - CardPose::kParameters));
  const PoseInputs pose(scene.pose, sheet, corners, *chain);
  const std::size_t scale =
      chain->add_input(sheet, error_of(options.sheet_scale.standard_uncertainty / std::sqrt(2.0)));
  // Evenly spread over what walls run, about what is usual for this height.
  const std::size_t run = chain->add_input(
      chain->add_source(kRunSource, kRunAdvice),
      Distribution::rectangular(-std::sqrt(3.0) * kUsualRun_u_mm, std::sqrt(3.0) * kUsualRun_u_mm));
  chain->set_model([=, nominal = nominal, run_mm = run_mm](std::span<const double> x) {
    LipModel drawn = nominal;
    drawn.pose = pose.at(x);
    for (const std::size_t input : foot) drawn.foot_shift_mm += x[input];
    for (const std::size_t input : top) drawn.top_shift_mm += x[input];
    if (thickness) drawn.frame.depth_mm += x[*thickness];
    double height = drawn.height_mm(run_mm + x[run]) * (1 + x[scale]);
    for (const std::size_t input : added_mm) height += x[input];
    return height;
  });
  return chain;
}

}  // namespace scantling
