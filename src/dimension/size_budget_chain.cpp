// The budget as a chain for Monte Carlo.
#include <cmath>

#include "dimension/pose_inputs.h"
#include "dimension/size_budget.h"

namespace scantling {
std::shared_ptr<const SizeChain> SizeBudget::chain(
    const Size& size, std::span<const std::size_t> used,
    const std::function<double(const PlacedEdge&)>& placing, const std::vector<BudgetLine>& more,
    double definition_share) const {
  auto chain = std::make_shared<SizeChain>();
  const double value = size(nominal_);
  std::vector<std::size_t> added_mm;  // inputs that are errors of the size itself
  const auto add = [&](const std::string& source, double u, double dof, const std::string& advice) {
    if (u > 1e-6)
      added_mm.push_back(
          chain->add_input(chain->add_source(source, advice, dof), error_of(u, dof)));
  };
  for (const BudgetLine& line : more)
    add(line.source, line.standard_uncertainty_mm, line.degrees_of_freedom, line.advice);

  const BudgetLine scale_words = print_scale_line(options_.sheet_scale, value, 0, 0);
  const SizeChain::Source sheet = chain->add_source(scale_words.source, scale_words.advice);
  const SizeChain::Source corners = chain->add_source(
      kPoseSource, "Show more of the card, sharp, and hold the phone square to it.",
      std::max(1.0, 2.0 * scene_.pose.corners() - CardPose::kParameters));
  const PoseInputs pose(scene_.pose, sheet, corners, *chain);
  const std::size_t scale =
      chain->add_input(sheet, error_of(options_.sheet_scale.standard_uncertainty / std::sqrt(2.0)));

  std::vector<std::pair<std::size_t, std::size_t>> depths;  // edge, input
  for (const std::size_t i : used) {
    const PlacedEdge& edge = reading_.edges[i];
    const std::string words = edge_words(edge.name);
    add("placing the " + words, placing(edge), edge.placing_dof,
        edge.origin == EdgeOrigin::moved ? "Zoom in and let the edge snap."
                                         : "A sharper, closer photo.");
    add("what counts as the " + words + " (chamfer, rounding, rust)",
        definition_share * edge.definition_u_mm, 20,
        "Brush the edge clean; a lamp from the side shows where the flat face ends.");
    add(mistaken_source(edge.name), edge.mistaken_u_mm, 20, kMistakenAdvice);
    const SizeChain::Source depth = chain->add_source("depth of the " + words + " behind the card",
                                                      "Hold the phone level with the part.", 8);
    depths.emplace_back(i, chain->add_input(depth, error_of(edge.depth_u_mm, 8)));
  }
  const std::size_t offset = chain->add_input(
      chain->add_source("part not flush with the card's face", "Push the card against the part."),
      error_of(options_.part_offset.standard_uncertainty_mm));
  add("card not standing square", standing_u_mm(value, used), kUnlimitedDegreesOfFreedom,
      "Use the folded stand, on a level table.");
  add("card flatness", flatness_u_mm(), 12, "Glue the card flat on stiff board.");

  chain->set_model([=, nominal = nominal_](std::span<const double> x) {
    SizeModel drawn = nominal;
    drawn.pose = pose.at(x);
    drawn.frame.depth_mm += x[offset];
    for (const auto& [edge, input] : depths) drawn.edges[edge].depth_mm += x[input];
    double result = size(drawn) * (1 + x[scale]);
    for (const std::size_t input : added_mm) result += x[input];
    return result;
  });
  return chain;
}

}  // namespace scantling
