#include "planes/next_photo.h"

#include <ceres/crs_matrix.h>
#include <ceres/rotation.h>
#include <fmt/format.h>

#include <Eigen/Cholesky>
#include <Eigen/Geometry>
#include <cmath>
#include <limits>

#include "planes/bundle_problem.h"
#include "planes/plane_sizes.h"

namespace scantling {
namespace {

using Eigen::Vector3d;

const Vector3d kUp(0, 0, -1);

Vector3d camera_place(const PlaneBundleState& state, std::size_t photo) {
  const auto& p = state.photos[photo];
  double r[9];
  ceres::AngleAxisToRotationMatrix(p.data(), r);
  return -Eigen::Map<const Eigen::Matrix3d>(r).transpose() *
         Eigen::Map<const Vector3d>(p.data() + 3);
}

Vector3d middle_of(const PlaneBundleState& state, std::size_t block) {
  return Eigen::Map<const Vector3d>(state.pieces[block].data() + 3);
}

Vector3d into(const PlaneBundleState& state, std::size_t block) {
  double r[9];
  ceres::AngleAxisToRotationMatrix(state.pieces[block].data(), r);
  return {r[6], r[7], r[8]};
}

/// One more photo as its information on the shared unknowns.
class Candidate {
 public:
  Candidate(const PlanesSolution& solved, std::size_t like_photo)
      : solved_(solved), like_(like_photo) {}

  /// Nothing where too little of the pieces would be seen.
  std::optional<Eigen::MatrixXd> information(const Vector3d& place, const Vector3d& target,
                                             PlanesView view, std::size_t main_block) const {
    PlaneBundle one = solved_.bundle;
    PlaneBundleState state = solved_.solution.state;
    one.photos = {solved_.bundle.photos[like_]};
    auto& block = state.photos[0];
    state.photos.resize(1);
    block.fill(0);
    const Vector3d forward = (target - place).normalized();
    const Vector3d right = forward.cross(kUp).normalized();
    Eigen::Matrix3d turn;
    turn.row(0) = right;
    turn.row(1) = forward.cross(right);
    turn.row(2) = forward;
    ceres::RotationMatrixToAngleAxis(turn.data(), block.data());
    Eigen::Map<Vector3d>(block.data() + 3) = -turn * place;

    one.sightings.clear();
    add_piece(one, state, PlanePiece::ground, 0, place, view, main_block);
    for (std::size_t i = 0; i < one.blocks.size(); ++i)
      add_piece(one, state, one.blocks[i], i, place, view, main_block);
    bool sheet = false, card = false;
    for (const PlaneBundleSighting& s : one.sightings) {
      sheet = sheet || (s.piece == PlanePiece::ground && s.corners.size() >= 20);
      card = card || (s.piece != PlanePiece::ground && s.block == main_block);
    }
    if (!sheet || !card) return std::nullopt;
    return eliminated(one, state);
  }

 private:
  void add_piece(PlaneBundle& one, const PlaneBundleState& state, PlanePiece piece,
                 std::size_t block, const Vector3d& place, PlanesView view,
                 std::size_t main_block) const {
    const CardDefinition& card = *one.cards[static_cast<std::size_t>(piece)];
    const bool ground = piece == PlanePiece::ground;
    const Vector3d middle = ground ? Vector3d(0, 0, 0) : middle_of(state, block);
    const Vector3d normal = ground ? Vector3d(0, 0, 1) : into(state, block);
    const Vector3d main = middle_of(state, main_block), main_into = into(state, main_block);
    // Seen flatter than 15 degrees, squares are no longer read.
    if ((middle - place).normalized().dot(normal) < 0.26) return;
    PlaneBundleSighting s;
    s.piece = piece;
    s.block = block;
    s.noise_px = solved_.noise_px;
    const double width = 2 * one.photos[0].centre_x_px, height = 2 * one.photos[0].centre_y_px;
    for (const CardCorner& corner : card.corners) {
      PlaneBundleCorner c{corner.id,
                          corner.at.x - card.columns * card.square_mm / 2,
                          corner.at.y - card.rows * card.square_mm / 2,
                          {},
                          true};
      c.photo_px = project_corner(one, state, s, c);
      const bool inside = c.photo_px.x > 0.02 * width && c.photo_px.x < 0.98 * width &&
                          c.photo_px.y > 0.02 * height && c.photo_px.y < 0.98 * height;
      const Vector3d at(c.x_mm, c.y_mm, 0);
      // The disc hides what is behind its face, the pad what is under it.
      const bool hidden = ground && (view == PlanesView::faces ? (at - main).dot(main_into) > 0
                                                               : (at - main).head<2>().norm() < 45);
      if (inside && !hidden) s.corners.push_back(c);
    }
    if (s.corners.size() >= 8) one.sightings.push_back(std::move(s));
  }

  std::optional<Eigen::MatrixXd> eliminated(const PlaneBundle& one, PlaneBundleState& state) const {
    PlaneBundleProblem made = make_problem(one, state, {.surface = solved_.curved});
    ceres::Problem::EvaluateOptions options;
    options.apply_loss_function = false;
    options.parameter_blocks = made.blocks;
    for (std::size_t i = 0; i < made.residuals.size(); ++i)
      if (made.group[i] == RowGroup::sheet_corners || made.group[i] == RowGroup::card_corners ||
          made.group[i] == RowGroup::autofocus)
        options.residual_blocks.push_back(made.residuals[i]);
    ceres::CRSMatrix j;
    if (!made.problem.Evaluate(options, nullptr, nullptr, nullptr, &j)) return std::nullopt;
    Eigen::MatrixXd normal = Eigen::MatrixXd::Zero(j.num_cols, j.num_cols);
    for (std::size_t row = 0; row < static_cast<std::size_t>(j.num_rows); ++row)
      for (int a = j.rows[row]; a < j.rows[row + 1]; ++a)
        for (int b = j.rows[row]; b < j.rows[row + 1]; ++b)
          normal(j.cols[static_cast<std::size_t>(a)], j.cols[static_cast<std::size_t>(b)]) +=
              j.values[static_cast<std::size_t>(a)] * j.values[static_cast<std::size_t>(b)];
    constexpr Eigen::Index kOwn = PlaneBundleState::kPhoto;
    const Eigen::Index shared = normal.cols() - kOwn;
    const Eigen::MatrixXd cross = normal.topRightCorner(kOwn, shared);
    return normal.bottomRightCorner(shared, shared) -
           cross.transpose() * normal.topLeftCorner(kOwn, kOwn).ldlt().solve(cross);
  }

  const PlanesSolution& solved_;
  std::size_t like_;
};

/// Directions from a card to where a camera may stand: in front of its face and above the sheet.
std::vector<Vector3d> directions(const PlaneBundleState& state, std::size_t block,
                                 PlanesView view) {
  const Vector3d out = -into(state, block);
  std::vector<Vector3d> list;
  const bool faces = view == PlanesView::faces;
  const Vector3d level = faces ? Vector3d(out.x(), out.y(), 0).normalized() : Vector3d(0, 1, 0);
  for (int turn = faces ? -60 : 0; turn <= (faces ? 60 : 315); turn += faces ? 20 : 45)
    for (const int rise : {20, 35, 50, 70}) {
      const double a = turn * M_PI / 180, e = rise * M_PI / 180;
      const Vector3d flat = Eigen::AngleAxisd(a, kUp) * level;
      list.push_back(std::cos(e) * flat + std::sin(e) * kUp);
    }
  return list;
}

double rise_deg(const Vector3d& direction) {
  return std::asin(std::clamp(direction.normalized().dot(kUp), -1.0, 1.0)) * 180 / M_PI;
}

/// The sentence: against the photo of this card whose direction is nearest.
std::string words_for(const PlanesSolution& solved, std::size_t block, const Vector3d& direction,
                      double distance_mm, const std::vector<std::string>& names) {
  const PlaneBundleState& state = solved.solution.state;
  const Vector3d middle = middle_of(state, block);
  double nearest = -2;
  std::size_t photo = 0;
  Vector3d seen = Vector3d::Zero();
  for (const PlaneBundleSighting& s : solved.bundle.sightings) {
    if (s.piece == PlanePiece::ground || s.block != block) continue;
    const Vector3d d = (camera_place(state, s.photo) - middle).normalized();
    if (d.dot(direction) > nearest) {
      nearest = d.dot(direction);
      photo = s.photo;
      seen = d;
    }
  }
  // To the right as the one sees it who stands where that photo was taken.
  const Vector3d right = (-seen).cross(kUp).normalized();
  const Vector3d level = Vector3d(seen.x(), seen.y(), 0).normalized();
  const Vector3d flat(direction.x(), direction.y(), 0);
  const double turn = std::atan2(flat.dot(right), flat.dot(level)) * 180 / M_PI;
  std::string sideways =
      std::abs(turn) < 8
          ? "from the same side"
          : fmt::format("about {:.0f} degrees further round to the {}",
                        5 * std::round(std::abs(turn) / 5), turn > 0 ? "right" : "left");
  const double climb = rise_deg(direction) - rise_deg(seen);
  if (std::abs(climb) >= 8)
    sideways += fmt::format(" and {}", climb > 0 ? "higher up" : "lower down");
  return fmt::format(
      "Take one more photo of {}: {} than '{}', looking down at about {:.0f} "
      "degrees, {:.0f} cm away.",
      piece_words(solved.bundle.blocks[block]), sideways, names[photo], rise_deg(direction),
      distance_mm / 10);
}

}  // namespace

std::optional<NextPhoto> next_photo(const PlanesSolution& solved,
                                    const PlaneBundleInformation& information, PlanesView view,
                                    const std::vector<std::string>& names) {
  const PlaneBundleState& state = solved.solution.state;
  const auto size = wanted_size(solved.bundle, information, state, view);
  if (!size) return std::nullopt;
  const Eigen::MatrixXd known = information.shared_information();
  const Eigen::VectorXd gradient = size->gradient.tail(known.rows());
  std::optional<NextPhoto> best;
  for (std::size_t block = 0; block < solved.bundle.blocks.size(); ++block) {
    double distance = 0;
    int photos = 0;
    std::size_t like = 0;
    for (const PlaneBundleSighting& s : solved.bundle.sightings) {
      if (s.piece == PlanePiece::ground || s.block != block) continue;
      distance += (camera_place(state, s.photo) - middle_of(state, block)).norm();
      like = s.photo;
      ++photos;
    }
    distance /= photos;
    const Candidate candidate(solved, like);
    const Vector3d middle = middle_of(state, block);
    const Vector3d target = 0.75 * middle;  // keeps the sheet in the picture
    for (const Vector3d& direction : directions(state, block, view)) {
      const Vector3d place = middle + distance * direction;
      const auto added = candidate.information(place, target, view, block);
      if (!added) continue;
      const Eigen::MatrixXd sum = known + *added;
      const Eigen::VectorXd scale = sum.diagonal().cwiseMax(1e-30).cwiseSqrt().cwiseInverse();
      const Eigen::MatrixXd even = scale.asDiagonal() * sum * scale.asDiagonal();
      const Eigen::VectorXd g = scale.asDiagonal() * gradient;
      const double u = std::sqrt(std::max(0.0, g.dot(even.ldlt().solve(g))));
      if (best && best->standard_uncertainty_mm <= u) continue;
      best = NextPhoto{solved.bundle.blocks[block],
                       {place.x(), place.y(), place.z()},
                       u,
                       words_for(solved, block, direction, distance, names)};
    }
  }
  return best;
}

}  // namespace scantling
