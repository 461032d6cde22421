#include "planes/solved_scene.h"

#include <ceres/rotation.h>
#include <fmt/format.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "planes/sheet_shape.h"

namespace scantling {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;

World3 world3(const Vector3d& v) {
  return {v.x(), v.y(), v.z()};
}

struct Pose {
  Matrix3d turn;
  Vector3d shift;
};

template <std::size_t N>
Pose pose_of(const std::array<double, N>& block) {
  double r[9];
  ceres::AngleAxisToRotationMatrix(block.data(), r);
  return {Eigen::Map<const Matrix3d>(r), Eigen::Map<const Vector3d>(block.data() + 3)};
}

Vector3d camera_place(const PlaneBundleState& state, std::size_t photo) {
  const Pose p = pose_of(state.photos[photo]);
  return -p.turn.transpose() * p.shift;
}

std::string camera_words(const CameraTags& tags) {
  if (tags.make.empty() && tags.model.empty()) return "unknown camera";
  // Models often repeat the maker's name.
  if (tags.make.empty() || tags.model.starts_with(tags.make)) return tags.model;
  return tags.make + " " + tags.model;
}

void describe_solved(const PlanesSolution& solved, std::size_t photo, SolvedPhoto& out) {
  const PlaneBundleState& state = solved.solution.state;
  const Pose pose = pose_of(state.photos[photo]);
  const std::size_t camera = solved.bundle.photos[photo].camera;
  out.solved = true;
  out.place = world3(camera_place(state, photo));
  for (int i = 0; i < 3; ++i)
    out.axes[static_cast<std::size_t>(i)] = world3(pose.turn.row(i).transpose());
  out.focal_px = solved.bundle.cameras[camera].model.focal_px * (1 + state.cameras[camera][0]) *
                 (1 + state.photos[photo][6]);
  double square = 0;
  int used = 0;
  for (std::size_t i = 0; i < solved.bundle.sightings.size(); ++i) {
    const PlaneBundleSighting& s = solved.bundle.sightings[i];
    if (s.photo != photo) continue;
    for (std::size_t k = 0; k < s.corners.size(); ++k) {
      const PlaneBundleCorner& c = s.corners[k];
      const Residual_px& r = solved.solution.residuals[i][k];
      out.corners.push_back({s.piece, c.id, c.photo_px, r.x, r.y, c.used});
      if (!c.used) continue;
      square += r.x * r.x + r.y * r.y;
      used += 2;
    }
  }
  out.residual_px = std::sqrt(square / std::max(1, used));
}

}  // namespace

void describe_photos(const std::vector<PlanePhoto>& photos, const MadeBundle& made,
                     const PlanesSolution* solved, PlanesResult& result) {
  for (const PlanePhoto& photo : photos) {
    SolvedPhoto out;
    out.name = photo.name;
    out.camera = camera_words(photo.tags);
    out.width_px = photo.width_px;
    out.height_px = photo.height_px;
    for (std::size_t k = 0; k < kPlanePieces; ++k)
      if (photo.piece(made.bundle.cards[k])) out.shows.push_back(static_cast<PlanePiece>(k));
    result.photos.push_back(std::move(out));
  }
  if (!solved) return;
  for (std::size_t i = 0; i < made.source.size(); ++i)
    describe_solved(*solved, i, result.photos[made.source[i]]);
}

void describe_pieces(const PlanesSolution& solved, const PlaneBundleInformation& information,
                     PlanesResult& result) {
  const PlaneBundle& bundle = solved.bundle;
  const PlaneBundleState& state = solved.solution.state;
  const auto describe = [&](PlanePiece piece, std::size_t block) {
    SolvedPiece out;
    out.piece = piece;
    const bool ground = piece == PlanePiece::ground;
    const Pose pose =
        ground ? Pose{Matrix3d::Identity(), Vector3d::Zero()} : pose_of(state.pieces[block]);
    out.middle = world3(pose.shift);
    for (int i = 0; i < 3; ++i) out.axes[static_cast<std::size_t>(i)] = world3(pose.turn.col(i));
    const CardDefinition& card = *bundle.cards[static_cast<std::size_t>(piece)];
    const double half_x = bundle.half_x_mm(piece), half_y = bundle.half_y_mm(piece);
    const double x[4] = {card.sheet.x_min, card.sheet.x_max, card.sheet.x_max, card.sheet.x_min};
    const double y[4] = {card.sheet.y_min, card.sheet.y_min, card.sheet.y_max, card.sheet.y_max};
    for (std::size_t i = 0; i < 4; ++i)
      out.outline[i] = world3(pose.turn * Vector3d(x[i] - half_x, y[i] - half_y, 0) + pose.shift);
    std::vector<Vector3d> seen_from;
    double square = 0, tilt = 0;
    int used = 0;
    for (std::size_t i = 0; i < bundle.sightings.size(); ++i) {
      const PlaneBundleSighting& s = bundle.sightings[i];
      if (s.piece != piece) continue;
      ++out.photos;
      const Vector3d from = camera_place(state, s.photo) - pose.shift;
      const Vector3d forward = pose_of(state.photos[s.photo]).turn.row(2).transpose();
      seen_from.push_back(from.normalized());
      out.distance_mm += from.norm();
      out.px_per_mm += s.px_per_mm;
      tilt += std::acos(std::min(1.0, std::abs(forward.dot(pose.turn.col(2))))) * 180 / M_PI;
      for (std::size_t k = 0; k < s.corners.size(); ++k) {
        if (!s.corners[k].used) {
          ++out.left_out;
          continue;
        }
        const Residual_px& r = solved.solution.residuals[i][k];
        square += r.x * r.x + r.y * r.y;
        ++used;
      }
    }
    const double n = std::max(1, out.photos);
    out.distance_mm /= n;
    out.px_per_mm /= n;
    out.tilt_deg = tilt / n;
    out.corners = used;
    out.residual_px = std::sqrt(square / std::max(1, 2 * used));
    for (std::size_t i = 0; i < seen_from.size(); ++i)
      for (std::size_t k = 0; k < i; ++k)
        out.largest_angle_deg =
            std::max(out.largest_angle_deg,
                     std::acos(std::clamp(seen_from[i].dot(seen_from[k]), -1.0, 1.0)) * 180 / M_PI);
    if (!ground) {
      const Eigen::Index column = information.piece(block) + 3;
      const Matrix3d covariance = information.covariance().block<3, 3>(column, column);
      const Vector3d normal = pose.turn.col(2);
      out.depth_u_mm = std::sqrt(std::max(0.0, normal.dot(covariance * normal)));
      // The ends lie 2/3 of the unknown behind the mean plane, the middle 1/3 before it.
      out.bend_mm = state.pieces[block][6];
    }
    result.pieces.push_back(out);
  };
  describe(PlanePiece::ground, 0);
  for (std::size_t i = 0; i < bundle.blocks.size(); ++i) describe(bundle.blocks[i], i);
  result.sheet.curved = solved.curved;
  if (solved.curved) {
    result.sheet.coefficients_mm = state.surface;
    result.sheet.range_mm = sheet_range_mm(bundle, state);
  }
}

void describe_fit(const PlanesSolution& solved, PlanesResult& result) {
  PlanesFit fit;
  fit.noise_px = solved.noise_px;
  fit.degrees_of_freedom = solved.solution.rows - solved.solution.parameters;
  fit.reduced_chi_square =
      (solved.solution.chi_square + solved.solution.prior_square) / fit.degrees_of_freedom;
  fit.moved_chi_square = solved.moved_unknowns > 0 ? solved.moved_chi_square : 1;
  fit.left_out = solved.left_out;
  const char* verdict =
      solved.misfit() > 10 ? "They contradict each other: something moved or is not flat."
      : solved.strained()
          ? "They fit together less well than single photos do, so the uncertainty was widened."
      : solved.misfit() > 1
          ? "They fit together nearly as well as single photos do: nothing moved that they could "
            "show, and the uncertainty allows for the rest."
          : "They fit together as well as single photos do: nothing moved that they could show.";
  fit.words = fmt::format(
      "Corners scatter by {:.2f} px. {:.0f} more observations than unknowns; misfit {:.2f} where 1 "
      "is "
      "expected. {}{}",
      fit.noise_px, fit.degrees_of_freedom, fit.reduced_chi_square, verdict,
      solved.curved ? " The sheet is not flat; its shape was solved with the rest." : "");
  result.fit = fit;
}

}  // namespace scantling
