#include "dimension/lip_sizes.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <functional>

#include "dimension/better_input.h"
#include "dimension/lip_budget.h"
#include "dimension/size_budget.h"
#include "uncertainty/joined_chain.h"

namespace scantling {
namespace {

constexpr char kSharedHalf[] = "what counts as the ";

double sum_of_squares(const std::vector<BudgetLine>& lines,
                      const std::function<double(const BudgetLine&)>& share) {
  double sum = 0;
  for (const BudgetLine& line : lines)
    sum += share(line) * line.standard_uncertainty_mm * line.standard_uncertainty_mm;
  return sum;
}

/// The part of a line's variance that photos of the same lip have in common.
double shared_share(const BudgetLine& line) {
  if (is_print_scale(line)) return 0;  // kept apart
  if (line.source.starts_with("card's own")) return 1;
  // The same fillet and the same rust; seen from elsewhere they look different.
  if (line.source.starts_with(kSharedHalf)) return 0.5;
  return 0;
}

std::string two_decimals(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.2f", value);
  return text;
}

/// Height and run from what each photo says, weighted, and the run that is usual for such a height.
struct LipSolver {
  Eigen::Matrix<double, 2, Eigen::Dynamic> gain;
  double run_u = 1;

  /// `b`: a row a photo, the last one for the run, which is filled in here and may be off by
  /// `run_off_mm`.
  Eigen::Vector2d solve(Eigen::VectorXd b, double height_mm, double run_off_mm = 0) const {
    Eigen::Vector2d x(height_mm, 0);
    for (int i = 0; i < 12; ++i) {
      b[b.size() - 1] = (usual_run_mm(x[0]) + run_off_mm) / run_u;
      x = gain * b;
    }
    return x;
  }
};

/// A lip's height or run (`row` 0 or 1) drawn through each photo's own model: what one photo shows
/// without the wall's run is solved as the photos themselves are. `disagreement_mm`: what they are
/// apart beyond their budgets.
std::shared_ptr<const SizeChain> chain_of_joint(std::span<const Measurement* const> photos,
                                                const Eigen::VectorXd& weights,
                                                const LipSolver& solver, int row,
                                                double disagreement_mm) {
  std::vector<ChainPart> parts;
  std::vector<double> nominal_mm, stated_mm;
  for (const Measurement* photo : photos) {
    const Dimension& height = *photo->dimension("lip_height");
    parts.push_back({height.chain, "photo " + std::to_string(parts.size() + 1)});
    nominal_mm.push_back(height.quantity.value_mm);
    stated_mm.push_back(photo->lip->height_without_run_mm);
  }
  ChainJoint joint;
  joint.shared_share = [](const std::string& source) {
    return source.starts_with(kPrintScaleSource)
               ? 1.0
               : shared_share({source, 0, kUnlimitedDegreesOfFreedom, {}});
  };
  joint.held = [](const std::string& source) { return source == HeightBudget::kRunSource; };
  const double half_width = std::sqrt(3.0) * kUsualRun_u_mm;
  joint.extras.push_back(
      {{HeightBudget::kRunSource, 0, kUnlimitedDegreesOfFreedom, HeightBudget::kRunAdvice},
       Distribution::rectangular(-half_width, half_width)});
  if (disagreement_mm > 0)
    joint.extras.push_back({{"photos that disagree", 0, static_cast<double>(photos.size() - 1),
                             "Look at the edges of each photo."},
                            error_of(disagreement_mm, static_cast<double>(photos.size() - 1))});
  joint.size_mm = [=](std::span<const double> heights, std::span<const double> errors) {
    Eigen::VectorXd b(static_cast<Eigen::Index>(heights.size()) + 1);
    for (std::size_t i = 0; i < heights.size(); ++i)
      b[static_cast<Eigen::Index>(i)] =
          weights[static_cast<Eigen::Index>(i)] * (stated_mm[i] + heights[i] - nominal_mm[i]);
    const Eigen::Vector2d x = solver.solve(b, nominal_mm[0], errors[0]);
    return x[row] + (errors.size() > 1 ? errors[1] : 0);
  };
  return join_chains(parts, joint);
}

double foot_from_card_mm(const PlaneScene& scene, const PartReading& reading) {
  const PartFrame& frame = reading.frame;
  const PlacedEdge& foot = reading.edges[PartReading::wall_foot];
  const Rectangle_mm& s = scene.sighting.card->sheet;
  const Point_mm middle = frame.coordinates({(s.x_min + s.x_max) / 2 * scene.pose.scale_x(),
                                             (s.y_min + s.y_max) / 2 * scene.pose.scale_y()});
  return foot.at(middle.x) - middle.y;
}

}  // namespace

double usual_run_mm(double height_mm) {
  return 0.2 * (1 - std::exp(-std::max(0.0, height_mm) / 0.3));
}

LipFacts lip_facts(const PlaneScene& scene, const PartReading& reading,
                   const MeasureOptions& options) {
  const HeightBudget budget(scene, reading, options);
  LipFacts facts;
  facts.run_share = budget.run_share();
  facts.height_without_run_mm =
      budget.nominal.height_mm(budget.run_mm) + facts.run_share * budget.run_mm;
  facts.elevation_deg = budget.nominal.elevation_deg();
  facts.distance_mm = budget.nominal.camera_distance_mm();
  facts.foot_from_card_mm = foot_from_card_mm(scene, reading);
  const std::vector<BudgetLine> lines = budget.lines();
  facts.shared_u_mm = std::sqrt(sum_of_squares(lines, shared_share));
  facts.scale_u_mm = std::sqrt(
      sum_of_squares(lines, [](const BudgetLine& line) { return is_print_scale(line) ? 1 : 0; }));
  for (const BudgetLine& line : lines)
    if (is_print_scale(line) && line.remedy)
      facts.checked_scale_u_mm = line.remedy->standard_uncertainty_mm;
  facts.own_u_mm = std::sqrt(sum_of_squares(lines, [](const BudgetLine& line) {
    return is_print_scale(line) ? 0 : 1 - shared_share(line);
  }));
  facts.own_dof = 20;
  return facts;
}

std::vector<Dimension> lip_sizes(const PlaneScene& scene, const PartReading& reading,
                                 const MeasureOptions& options) {
  const HeightBudget budget(scene, reading, options);
  Dimension d;
  d.name = "lip_height";
  std::vector<BudgetLine> lines = budget.lines();
  lines.push_back({HeightBudget::kRunSource, budget.run_share() * kUsualRun_u_mm,
                   kUnlimitedDegreesOfFreedom, HeightBudget::kRunAdvice});
  d.chain = budget.chain();
  d.quantity = combine_independent(budget.nominal.height_mm(budget.run_mm), std::move(lines));
  d.confidence = std::min(reading.edges[PartReading::wall_foot].confidence,
                          reading.edges[PartReading::wall_top].confidence);
  for (std::size_t i = 0; i < LipModel::kStations; ++i)
    d.stations.push_back({budget.nominal.along_mm(i), budget.nominal.height_mm(budget.run_mm, i)});
  return {d};
}

Measurement solve_lip_together(std::span<const Measurement> photos) {
  Measurement joint;
  joint.view = View::lip;
  std::vector<const Measurement*> used;
  for (const Measurement& photo : photos) {
    joint.timing_ms.decode += photo.timing_ms.decode;
    joint.timing_ms.card += photo.timing_ms.card;
    joint.timing_ms.edges += photo.timing_ms.edges;
    joint.timing_ms.total += photo.timing_ms.total;
    if (photo.usable() && photo.lip && photo.dimension("lip_height")) used.push_back(&photo);
    for (const Check& check : photo.checks) {
      const bool told = std::any_of(joint.checks.begin(), joint.checks.end(),
                                    [&](const Check& c) { return c.id == check.id; });
      // One bad photo among several is left out, not fatal.
      if (!told && check.severity != Severity::stop) joint.checks.push_back(check);
    }
  }
  if (used.empty()) {
    if (!photos.empty()) joint.checks = photos.front().checks;
    return joint;
  }
  if (used.size() < photos.size())
    joint.checks.push_back({"photo_left_out", Severity::warn,
                            "A photo of this lip could not be used and is left out. Measured "
                            "alone, it says why."});
  joint.card = used.front()->card;
  joint.edges = used.front()->edges;
  joint.lip = used.front()->lip;
  if (used.size() == 1) {
    joint.dimensions = used.front()->dimensions;
    return joint;
  }

  // Unknowns: height and run. The run's usual spread is one more observation.
  const auto n = static_cast<Eigen::Index>(used.size());
  Eigen::MatrixXd a(n + 1, 2);
  Eigen::VectorXd b(n + 1);
  std::optional<double> checked_scale;
  double confidence = 1, shared = 0, scale = 0, single_95 = 1e9, lowest = 90, highest = 0;
  for (Eigen::Index i = 0; i < n; ++i) {
    const LipFacts& lip = *used[static_cast<std::size_t>(i)]->lip;
    const double weight = 1 / std::max(1e-4, lip.own_u_mm);
    a.row(i) << weight, weight * lip.run_share;
    b[i] = weight * lip.height_without_run_mm;
    confidence = std::min(confidence,
                          used[static_cast<std::size_t>(i)]->dimension("lip_height")->confidence);
    shared = std::max(shared, lip.shared_u_mm / std::max(0.1, lip.run_share));
    scale = std::max(scale, lip.scale_u_mm);
    if (lip.checked_scale_u_mm)
      checked_scale = std::max(checked_scale.value_or(0), *lip.checked_scale_u_mm);
    single_95 = std::min(
        single_95,
        used[static_cast<std::size_t>(i)]->dimension("lip_height")->quantity.expanded_95_mm());
    lowest = std::min(lowest, lip.elevation_deg);
    highest = std::max(highest, lip.elevation_deg);
  }
  // What the photos have in common about foot and top shifts them against each other as a run does:
  // it is solved along with the run, and widens what is usual for it.
  const double run_u = std::hypot(kUsualRun_u_mm, shared);
  a.row(n) << 0, 1 / run_u;
  const Eigen::Matrix2d covariance = (a.transpose() * a).inverse();
  const LipSolver solver{covariance * a.transpose(), run_u};
  const Eigen::Vector2d x =
      solver.solve(b, used.front()->dimension("lip_height")->quantity.value_mm);
  b[n] = usual_run_mm(x[0]) / run_u;
  const Eigen::VectorXd residual = a * x - b;
  constexpr double kDisagree = 3;
  const double chi2 = residual.squaredNorm() / static_cast<double>(n - 1);
  if (chi2 > kDisagree)
    joint.checks.push_back({"lip_photos_disagree", Severity::warn,
                            "The photos of this lip disagree by more than their uncertainty: in "
                            "one of them another line may have been taken for the wall's foot or "
                            "top. Look at the edges of each."});
  for (const Measurement* photo : used)
    if (std::abs(photo->lip->foot_from_card_mm - used.front()->lip->foot_from_card_mm) > 0.5) {
      joint.checks.push_back({"lip_photos_differ", Severity::warn,
                              "The wall's foot does not lie at the same place beside the card in "
                              "all photos: the card was moved, or another line was taken for the "
                              "foot. Look at the edges of each photo."});
      break;
    }
  if (highest - lowest < 8)
    joint.checks.push_back({"same_elevation", Severity::info,
                            "The photos were taken from much the same height, so the run of the "
                            "lip's wall stays a guess. Take one more from clearly higher up."});
  // Where they disagree by more than chance, the spread speaks for itself.
  const double widen = chi2 > kDisagree ? chi2 : 1;
  Dimension height;
  height.name = "lip_height";
  height.confidence = chi2 > kDisagree ? std::min(confidence, 0.5) : confidence;
  BudgetLine scale_line{kPrintScaleSource, scale, kUnlimitedDegreesOfFreedom,
                        "Measure the sheet's check bars and enter them."};
  if (checked_scale) scale_line.remedy = {kCheckedScale, *checked_scale};
  height.quantity = combine_independent(
      x[0], {{"the photos' own edges, and the run of the wall solved from them",
              std::sqrt(widen * covariance(0, 0)), 20.0 * static_cast<double>(n),
              "One more photo from another height."},
             std::move(scale_line)});
  joint.checks.push_back(
      {"lip_solved", Severity::info,
       "Height and run of the lip's wall solved from " + std::to_string(used.size()) +
           " photos: the height to +- " + two_decimals(height.quantity.expanded_95_mm()) +
           " mm, where one photo alone gives +- " + two_decimals(single_95) + " mm."});
  for (const Station& s : used.front()->dimension("lip_height")->stations)
    height.stations.push_back(
        {s.position_mm,
         s.value_mm + x[0] - used.front()->dimension("lip_height")->quantity.value_mm});
  Dimension run;
  run.name = "wall_run";
  run.confidence = height.confidence;
  const Eigen::VectorXd weights = a.col(0).head(n);
  const auto chain_of_row = [&](int row, const Quantity& quantity) {
    const double disagreement = std::sqrt((widen - 1) * covariance(row, row));
    auto chain = chain_of_joint(used, weights, solver, row, disagreement);
    return chain ? chain : chain_of(quantity);
  };
  height.chain = chain_of_row(0, height.quantity);
  run.quantity = combine_independent(
      x[1], {{"the photos' edges and the usual run of a wall", std::sqrt(widen * covariance(1, 1)),
              20.0 * static_cast<double>(n), "One more photo from another height."}});
  run.chain = chain_of_row(1, run.quantity);
  joint.dimensions = {height, run};
  return joint;
}

}  // namespace scantling
