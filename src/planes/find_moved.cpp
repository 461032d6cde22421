#include "planes/find_moved.h"

#include <ceres/rotation.h>
#include <fmt/format.h>

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>

#include "planes/bundle_information.h"
#include "planes/plane_sizes.h"

namespace scantling {
namespace {

/// Less than this widens the uncertainty but is no reason to refuse the photos: a lens that bends
/// otherwise than the model does as much.
constexpr double kLeastShift_mm = 0.2;
constexpr double kLeastShift_px = 1.5;
constexpr double kLeastTurn_deg = 0.5;
constexpr double kCardHalf_mm = 20;
/// What a lens's model leaves of its distortion, alike for a card's neighbouring corners: it does
/// not shrink with their number as noise does.
constexpr double kLensModel_px = 0.15;
/// Chi-square for each of six unknowns, far beyond chance.
constexpr double kSignificant = 6;

/// A card's pose by one photo.
struct OwnPose {
  std::size_t photo, block;
  double px_per_mm;
  double noise_share;  ///< of the corners' variance, the lens model's error counted in
};

/// A corner's noise against noise and lens together, as if the latter were independent noise of the
/// same effect on the pose.
double noise_share(const PlaneBundleSighting& s) {
  const double noise = s.noise_px * s.noise_px;
  return noise / (noise + static_cast<double>(s.corners.size()) * kLensModel_px * kLensModel_px);
}

struct Difference {
  double shift_mm = 0, turn_deg = 0, chi_square = 0, px_per_mm = 1;

  bool significant() const {
    const double lens_mm = kLeastShift_px / px_per_mm;
    const double lens_deg = std::atan(lens_mm / kCardHalf_mm) * 180 / M_PI;
    return chi_square / 6 > kSignificant && (shift_mm > std::max(kLeastShift_mm, lens_mm) ||
                                             turn_deg > std::max(kLeastTurn_deg, lens_deg));
  }
};

/// From pose i to pose j: shift in the world and turn in the card's own axes.
double component(const PlaneBundleState& state, std::size_t i, std::size_t j, int which) {
  const auto& p = state.pieces[i];
  const auto& q = state.pieces[j];
  if (which < 3)
    return q[static_cast<std::size_t>(which + 3)] - p[static_cast<std::size_t>(which + 3)];
  double a[9], b[9], c[9], turn[3];
  ceres::AngleAxisToRotationMatrix(p.data(), a);
  ceres::AngleAxisToRotationMatrix(q.data(), b);
  Eigen::Map<Eigen::Matrix3d> from(a), to(b), relative(c);
  relative = from.transpose() * to;
  ceres::RotationMatrixToAngleAxis(c, turn);
  return turn[which - 3];
}

Difference difference(const PlanesSolution& solved, const PlaneBundleInformation& information,
                      std::size_t i, std::size_t j) {
  Eigen::Matrix<double, 6, 1> d;
  Eigen::MatrixXd gradients(information.size(), 6);
  for (int k = 0; k < 6; ++k) {
    const PlaneSize size =
        size_of(information, solved.loose_solution.state,
                [=](const PlaneBundleState& s) { return component(s, i, j, k); });
    d[k] = size.value_mm;
    gradients.col(k) = size.gradient;
  }
  const Eigen::Matrix<double, 6, 6> covariance =
      gradients.transpose() * information.covariance() * gradients;
  Difference result;
  result.shift_mm = d.head<3>().norm();
  result.turn_deg = d.tail<3>().norm() * 180 / M_PI;
  result.chi_square = d.dot(covariance.ldlt().solve(d));
  return result;
}

/// The largest set of poses that agree pairwise, the earliest among equals.
std::vector<std::size_t> largest_agreeing(const std::vector<std::vector<Difference>>& between) {
  std::vector<std::size_t> best;
  for (std::size_t seed = 0; seed < between.size(); ++seed) {
    std::vector<std::size_t> set{seed};
    for (std::size_t i = 0; i < between.size(); ++i) {
      const bool fits = i != seed && std::all_of(set.begin(), set.end(), [&](std::size_t k) {
                          return !between[std::min(i, k)][std::max(i, k)].significant();
                        });
      if (fits) set.push_back(i);
    }
    if (set.size() > best.size()) best = set;
  }
  std::sort(best.begin(), best.end());
  return best;
}

std::string quoted(const std::vector<std::size_t>& photos, const std::vector<std::string>& names) {
  std::string text;
  for (std::size_t i = 0; i < photos.size(); ++i)
    text += fmt::format("{}'{}'",
                        i == 0                  ? ""
                        : i + 1 < photos.size() ? ", "
                                                : " and ",
                        names[photos[i]]);
  return text;
}

std::string amount(const Movement& m) {
  if (m.shift_mm > 0.5 || m.turn_deg < 0.5) return fmt::format("about {:.1f} mm", m.shift_mm);
  return fmt::format("about {:.1f} degrees", m.turn_deg);
}

}  // namespace

std::vector<Movement> find_moved(const PlanesSolution& solved,
                                 const std::vector<std::size_t>& order) {
  std::vector<Movement> movements;
  const PlaneBundleInformation information(solved.loose, solved.loose_solution, true);
  for (const PlanePiece piece : {PlanePiece::card_a, PlanePiece::card_b}) {
    std::vector<OwnPose> poses;
    for (const std::size_t photo : order)
      for (const PlaneBundleSighting& s : solved.loose.sightings)
        if (s.photo == photo && s.piece == piece)
          poses.push_back({photo, s.block, s.px_per_mm, noise_share(s)});
    if (poses.size() < 2) continue;
    std::vector<std::vector<Difference>> between(poses.size(),
                                                 std::vector<Difference>(poses.size()));
    for (std::size_t i = 0; i < poses.size(); ++i)
      for (std::size_t j = i + 1; j < poses.size(); ++j) {
        between[i][j] = difference(solved, information, poses[i].block, poses[j].block);
        between[i][j].px_per_mm = std::min(poses[i].px_per_mm, poses[j].px_per_mm);
        between[i][j].chi_square *= std::min(poses[i].noise_share, poses[j].noise_share);
      }
    const std::vector<std::size_t> agree = largest_agreeing(between);
    if (agree.size() == poses.size()) continue;
    Movement movement;
    movement.piece = piece;
    for (std::size_t i = 0, k = 0; i < poses.size(); ++i) {
      if (k < agree.size() && agree[k] == i) {
        movement.agree.push_back(poses[i].photo);
        ++k;
        continue;
      }
      if (movement.differ.empty()) {
        const Difference& d = between[std::min(i, agree[0])][std::max(i, agree[0])];
        movement.shift_mm = d.shift_mm;
        movement.turn_deg = d.turn_deg;
      }
      movement.differ.push_back(poses[i].photo);
      movement.turned_over = movement.turned_over ||
                             between[std::min(i, agree[0])][std::max(i, agree[0])].turn_deg > 90;
    }
    movements.push_back(std::move(movement));
  }
  return movements;
}

Check moved_check(const std::vector<Movement>& movements, const PlanesSolution& solved,
                  const std::vector<std::size_t>& order, const std::vector<std::string>& names,
                  PlanesView view) {
  const char* part = view == PlanesView::faces ? "disc" : "pad";
  const Movement& first = movements.front();
  if (std::any_of(movements.begin(), movements.end(),
                  [](const Movement& m) { return m.turned_over; }))
    return {"cards_swapped", Severity::stop,
            fmt::format("In {} a card is on the other side than in {}. Keep card A on the outboard "
                        "face and card B on the inboard one, and take the photos again.",
                        quoted(first.differ, names), quoted(first.agree, names))};
  const auto place = [&](std::size_t photo) {
    return std::find(order.begin(), order.end(), photo) - order.begin();
  };
  // Which piece: a card whose neighbour stayed put while it went is alone to blame.
  std::string what = fmt::format("{} or the {}", piece_words(first.piece), part);
  if (movements.size() == 2) {
    what = fmt::format("The {} or the sheet", part);
  } else {
    const PlanePiece other =
        first.piece == PlanePiece::card_a ? PlanePiece::card_b : PlanePiece::card_a;
    bool before = false, after = false;
    for (const PlaneBundleSighting& s : solved.bundle.sightings)
      if (s.piece == other) {
        before = before || place(s.photo) <= place(first.agree.front());
        after = after || place(s.photo) >= place(first.differ.front());
      }
    if (before && after) what = piece_words(first.piece);
  }
  what[0] = static_cast<char>(std::toupper(what[0]));
  if (first.agree.size() == 1 && first.differ.size() == 1)
    return {"moved_between_photos", Severity::stop,
            fmt::format("{} moved by {} between '{}' and '{}'. Steady everything, touch nothing, "
                        "and take the photos again.",
                        what, amount(first), names[first.agree[0]], names[first.differ[0]])};
  if (first.differ.size() == 1)
    return {"moved_between_photos", Severity::stop,
            fmt::format("{} lies elsewhere in '{}', by {}, than in {}. Leave that photo out, or "
                        "take all of them again without touching anything.",
                        what, names[first.differ[0]], amount(first), quoted(first.agree, names))};
  return {
      "moved_between_photos", Severity::stop,
      fmt::format("{} moved by {}: {} show it in one place, {} elsewhere. Steady everything, "
                  "touch nothing, and take the photos again.",
                  what, amount(first), quoted(first.agree, names), quoted(first.differ, names))};
}

}  // namespace scantling
