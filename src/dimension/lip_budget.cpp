#include "dimension/lip_budget.h"

#include <algorithm>
#include <cmath>

#include "dimension/lip_sizes.h"
#include "dimension/pose_inputs.h"
#include "dimension/size_budget.h"

namespace scantling {
namespace {

/// The run that is usual for the height that the photo then shows.
double assumed_run_mm(const LipModel& model) {
  double run = 0.15;
  for (int i = 0; i < 12; ++i) run = usual_run_mm(model.height_mm(run));
  return run;
}

}  // namespace

HeightBudget::HeightBudget(const PlaneScene& s, const PartReading& r, const MeasureOptions& o)
    : scene(s), reading(r), options(o), nominal(s.pose, r), run_mm(assumed_run_mm(nominal)) {}

double HeightBudget::sensitivity(double step,
                                 const std::function<void(LipModel&, double)>& vary) const {
  LipModel up = nominal, down = nominal;
  vary(up, step);
  vary(down, -step);
  return (up.height_mm(run_mm) - down.height_mm(run_mm)) / (2 * step);
}

double HeightBudget::run_share() const {
  return (nominal.height_mm(run_mm - 0.02) - nominal.height_mm(run_mm + 0.02)) / 0.04;
}

double HeightBudget::edge_share(std::size_t edge) const {
  return std::abs(sensitivity(0.02, [edge](LipModel& m, double d) {
    (edge == PartReading::wall_foot ? m.foot_shift_mm : m.top_shift_mm) += d;
  }));
}

std::vector<BudgetLine> HeightBudget::lines() const {
  std::vector<BudgetLine> lines;
  const auto add_line = [&](BudgetLine line) {
    line.standard_uncertainty_mm = std::abs(line.standard_uncertainty_mm);
    if (line.standard_uncertainty_mm > 1e-6) lines.push_back(std::move(line));
  };
  const auto add = [&](std::string source, double u, double dof, std::string advice) {
    add_line({std::move(source), u, dof, std::move(advice)});
  };
  const PoseShares pose =
      pose_shares(scene.pose, scene.camera, options.sheet_scale.standard_uncertainty,
                  [&](const CardPose& varied) {
                    LipModel model = nominal;
                    model.pose = varied;
                    return model.height_mm(run_mm);
                  });
  const double value = nominal.height_mm(run_mm);
  add_line(print_scale_line(options.sheet_scale, std::max(0.1, std::abs(value)), pose.now.aspect_mm,
                            pose.scale_checked.aspect_mm));
  add_line(pose_line(scene, pose, "Show the whole card, sharp."));

  for (const std::size_t i : {PartReading::wall_foot, PartReading::wall_top}) {
    const PlacedEdge& edge = reading.edges[i];
    const double share = edge_share(i);
    const std::string words = edge_words(edge.name);
    add("placing the " + words, share * edge.placing_u_mm, edge.placing_dof,
        edge.origin == EdgeOrigin::moved ? "Zoom in and let the edge snap."
                                         : "Go closer: 140 to 220 mm from the lip.");
    add("what counts as the " + words + " (fillet, rounding, rust)", share * edge.definition_u_mm,
        20, "Brush the lip and the track beside it clean.");
  }
  add(kThicknessSource,
      sensitivity(0.05, [](LipModel& m, double d) { m.frame.depth_mm += d; }) * kThickness_u_mm,
      kUnlimitedDegreesOfFreedom, "Measure the card's thickness.");
  // A card that rocks on a burr or grit tilts the plane on which the wall stands.
  constexpr double kRock = 0.006;
  const double e = nominal.elevation_deg() * M_PI / 180;
  add("card not lying flat on the track",
      std::max(0.1, std::abs(value)) * kRock / (std::sin(e) * std::cos(e)), 12,
      "Wipe the track, press the card down, hold it with a magnet or tape.");
  return lines;
}

}  // namespace scantling
