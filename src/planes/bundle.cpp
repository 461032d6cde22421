#include "planes/bundle.h"

#include <ceres/ceres.h>

#include <cmath>

#include "planes/bundle_problem.h"
#include "planes/bundle_residuals.h"

namespace scantling {
namespace {

using State = PlaneBundleState;

CornerCamera corner_camera(const PlaneBundle& bundle, std::size_t photo) {
  const PlaneBundlePhoto& p = bundle.photos[photo];
  const CameraModel& m = bundle.cameras[p.camera].model;
  return {m.focal_px, p.centre_x_px, p.centre_y_px, m.k1, m.k2, p.turn};
}

SheetCornerResidual sheet_residual(const PlaneBundle& b, const PlaneBundleSighting& s,
                                   const PlaneBundleCorner& c) {
  return {corner_camera(b, s.photo),
          c.x_mm * b.priors.sheet_scale_x,
          c.y_mm * b.priors.sheet_scale_y,
          c.x_mm / b.half_x_mm(PlanePiece::ground),
          c.y_mm / b.half_y_mm(PlanePiece::ground),
          c.photo_px,
          1 / s.noise_px};
}

CardCornerResidual card_residual(const PlaneBundle& b, const PlaneBundleSighting& s,
                                 const PlaneBundleCorner& c) {
  return {corner_camera(b, s.photo),
          c.x_mm * b.priors.card_scale_x,
          c.y_mm * b.priors.card_scale_y,
          c.x_mm / b.half_x_mm(s.piece),
          b.priors.same_print ? 1.0 : 0.0,
          c.photo_px,
          1 / s.noise_px};
}

template <class Prior, int kRows, int kBlock>
ceres::CostFunction* prior_cost(Prior prior) {
  return new ceres::AutoDiffCostFunction<Prior, kRows, kBlock>(new Prior(prior));
}

/// Adds blocks and keeps the order in which they came.
class Builder {
 public:
  Builder(const PlaneBundle& bundle, State& state, const PlaneBundleWish& wish)
      : bundle_(bundle), state_(state), robust_(wish.robust) {
    made_.surface = wish.surface;
  }

  PlaneBundleProblem build() {
    add_blocks();
    for (const PlaneBundleSighting& sighting : bundle_.sightings) add_corners(sighting);
    add_priors();
    if (!made_.surface) {
      made_.problem.AddParameterBlock(state_.surface.data(), State::kSurface);
      made_.problem.SetParameterBlockConstant(state_.surface.data());
    }
    return std::move(made_);
  }

 private:
  void add_blocks() {
    const auto add = [&](auto& block) {
      made_.problem.AddParameterBlock(block.data(), static_cast<int>(block.size()));
      made_.blocks.push_back(block.data());
    };
    for (auto& p : state_.photos) add(p);
    for (auto& c : state_.cameras) add(c);
    add(state_.scales);
    for (auto& p : state_.pieces) add(p);
    if (made_.surface) add(state_.surface);
  }

  void keep(ceres::ResidualBlockId id, RowGroup group, int rows) {
    made_.residuals.push_back(id);
    made_.group.push_back(group);
    made_.rows.push_back(rows);
  }

  void add_corners(const PlaneBundleSighting& s) {
    double* photo = state_.photos[s.photo].data();
    double* camera = state_.cameras[bundle_.photos[s.photo].camera].data();
    for (const PlaneBundleCorner& c : s.corners) {
      if (!c.used) continue;
      ceres::LossFunction* loss =
          robust_ ? static_cast<ceres::LossFunction*>(new ceres::CauchyLoss(2.0))
                  : new ceres::HuberLoss(3.5);
      if (s.piece == PlanePiece::ground) {
        using Cost = ceres::AutoDiffCostFunction<SheetCornerResidual, 2, State::kPhoto,
                                                 State::kCamera, State::kScales, State::kSurface>;
        keep(made_.problem.AddResidualBlock(
                 new Cost(new SheetCornerResidual(sheet_residual(bundle_, s, c))), loss, photo,
                 camera, state_.scales.data(), state_.surface.data()),
             RowGroup::sheet_corners, 2);
      } else {
        using Cost = ceres::AutoDiffCostFunction<CardCornerResidual, 2, State::kPhoto,
                                                 State::kCamera, State::kScales, State::kPiece>;
        keep(made_.problem.AddResidualBlock(
                 new Cost(new CardCornerResidual(card_residual(bundle_, s, c))), loss, photo,
                 camera, state_.scales.data(), state_.pieces[s.block].data()),
             RowGroup::card_corners, 2);
      }
    }
  }

  void add_priors() {
    const PlaneBundlePriors& priors = bundle_.priors;
    const auto add = [&](ceres::CostFunction* cost, double* block, RowGroup group) {
      keep(made_.problem.AddResidualBlock(cost, nullptr, block), group, cost->num_residuals());
    };
    for (std::size_t i = 0; i < state_.photos.size(); ++i) {
      const double shift_u = priors.centre_shift_u * bundle_.diagonal_px[bundle_.photos[i].camera];
      add(prior_cost<ZeroPrior<State::kPhoto, 6, 3>, 3, State::kPhoto>(
              {{priors.autofocus_u, shift_u, shift_u}}),
          state_.photos[i].data(), RowGroup::autofocus);
    }
    for (std::size_t i = 0; i < state_.cameras.size(); ++i) {
      const CameraPrior& p = bundle_.cameras[i];
      add(prior_cost<ZeroPrior<State::kCamera, 0, 5>, 5, State::kCamera>(
              {{p.focal_relative_u, p.centre_u_px, p.centre_u_px, p.k1_u, p.k2_u}}),
          state_.cameras[i].data(), RowGroup::lens);
    }
    const auto& u = priors.scales_u;
    add(prior_cost<ZeroPrior<State::kScales, 0, 1>, 1, State::kScales>({{u[0]}}),
        state_.scales.data(), RowGroup::sheet_scale);
    add(prior_cost<ZeroPrior<State::kScales, 1, 1>, 1, State::kScales>({{u[1]}}),
        state_.scales.data(), RowGroup::card_scale);
    add(prior_cost<ZeroPrior<State::kScales, 2, 2>, 2, State::kScales>({{u[2], u[3]}}),
        state_.scales.data(), RowGroup::sheet_scale);
    add(prior_cost<ZeroPrior<State::kScales, 4, 2>, 2, State::kScales>({{u[4], u[5]}}),
        state_.scales.data(), RowGroup::card_scale);
    for (auto& piece : state_.pieces)
      add(prior_cost<ZeroPrior<State::kPiece, 6, 1>, 1, State::kPiece>({{priors.bend_u_mm}}),
          piece.data(), RowGroup::bend);
    if (made_.surface) {
      std::array<double, State::kSurface> surface_u{};
      surface_u.fill(priors.surface_u_mm);
      add(prior_cost<ZeroPrior<State::kSurface, 0, State::kSurface>, State::kSurface,
                     State::kSurface>({surface_u}),
          state_.surface.data(), RowGroup::surface);
    }
  }

  const PlaneBundle& bundle_;
  State& state_;
  bool robust_;
  PlaneBundleProblem made_;
};

}  // namespace

double PlaneBundle::half_x_mm(PlanePiece piece) const {
  const CardDefinition& card = *cards[static_cast<std::size_t>(piece)];
  return card.columns * card.square_mm / 2;
}

double PlaneBundle::half_y_mm(PlanePiece piece) const {
  const CardDefinition& card = *cards[static_cast<std::size_t>(piece)];
  return card.rows * card.square_mm / 2;
}

PlaneBundleProblem make_problem(const PlaneBundle& bundle, PlaneBundleState& state,
                                const PlaneBundleWish& wish) {
  return Builder(bundle, state, wish).build();
}

Point_px project_corner(const PlaneBundle& bundle, const PlaneBundleState& state,
                        const PlaneBundleSighting& s, const PlaneBundleCorner& corner) {
  const double* photo = state.photos[s.photo].data();
  const double* camera = state.cameras[bundle.photos[s.photo].camera].data();
  double off[2] = {NAN, NAN};
  if (s.piece == PlanePiece::ground) {
    SheetCornerResidual residual = sheet_residual(bundle, s, corner);
    residual.weight = 1;
    residual(photo, camera, state.scales.data(), state.surface.data(), off);
  } else {
    CardCornerResidual residual = card_residual(bundle, s, corner);
    residual.weight = 1;
    residual(photo, camera, state.scales.data(), state.pieces[s.block].data(), off);
  }
  return {corner.photo_px.x + off[0], corner.photo_px.y + off[1]};
}

double surface_mm(const PlaneBundle& bundle, const PlaneBundleState& state, double x_mm,
                  double y_mm) {
  return surface_depth(state.surface.data(), x_mm / bundle.half_x_mm(PlanePiece::ground),
                       y_mm / bundle.half_y_mm(PlanePiece::ground));
}

PlaneBundleSolution solve_bundle(const PlaneBundle& bundle, PlaneBundleState start,
                                 const PlaneBundleWish& wish) {
  PlaneBundleSolution solution;
  solution.state = std::move(start);
  if (!wish.surface) solution.state.surface.fill(0);
  PlaneBundleProblem made = make_problem(bundle, solution.state, wish);
  ceres::Solver::Options options;
  options.linear_solver_type = ceres::DENSE_SCHUR;
  auto ordering = std::make_shared<ceres::ParameterBlockOrdering>();
  for (std::size_t i = 0; i < made.blocks.size(); ++i)
    ordering->AddElementToGroup(made.blocks[i], i < solution.state.photos.size() ? 0 : 1);
  if (!made.surface) ordering->AddElementToGroup(solution.state.surface.data(), 1);
  options.linear_solver_ordering = ordering;
  options.max_num_iterations = wish.iterations;
  options.function_tolerance = 1e-9;
  options.parameter_tolerance = 1e-10;
  options.num_threads = 1;  // the same photos give the same digits, to nine places
  options.logging_type = ceres::SILENT;
  ceres::Solver::Summary summary;
  ceres::Solve(options, &made.problem, &summary);
  solution.converged = summary.IsSolutionUsable();

  for (const PlaneBundleSighting& s : bundle.sightings) {
    std::vector<Residual_px> off;
    for (const PlaneBundleCorner& c : s.corners) {
      const Point_px seen = project_corner(bundle, solution.state, s, c);
      off.push_back({c.photo_px.x - seen.x, c.photo_px.y - seen.y});
      if (!std::isfinite(seen.x) || !std::isfinite(seen.y)) solution.converged = false;
      if (c.used)
        solution.chi_square +=
            (std::pow(off.back().x, 2) + std::pow(off.back().y, 2)) / (s.noise_px * s.noise_px);
    }
    solution.residuals.push_back(std::move(off));
  }
  for (std::size_t i = 0; i < made.residuals.size(); ++i) {
    solution.rows += made.rows[i];
    if (made.group[i] == RowGroup::sheet_corners || made.group[i] == RowGroup::card_corners)
      continue;
    double cost = 0;
    made.problem.EvaluateResidualBlock(made.residuals[i], false, &cost, nullptr, nullptr);
    solution.prior_square += 2 * cost;
  }
  for (const double* block : made.blocks)
    solution.parameters += made.problem.ParameterBlockSize(block);
  return solution;
}

}  // namespace scantling
