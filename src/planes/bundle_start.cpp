#include "planes/bundle_start.h"

#include <ceres/rotation.h>

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <opencv2/calib3d.hpp>

#include "camera/card_pose.h"

namespace scantling {
namespace {

/// Upright from the sensor's own orientation, by the EXIF tag (TIFF 6.0, tag 274).
std::array<double, 4> turn_of(int exif_orientation) {
  switch (exif_orientation) {
    case 2:
      return {-1, 0, 0, 1};
    case 3:
      return {-1, 0, 0, -1};
    case 4:
      return {1, 0, 0, -1};
    case 5:
      return {0, 1, 1, 0};
    case 6:
      return {0, -1, 1, 0};
    case 7:
      return {0, -1, -1, 0};
    case 8:
      return {0, 1, -1, 0};
    default:
      return {1, 0, 0, 1};
  }
}

/// A page's scale uncertainty as what both directions share, and what turns one against the other.
struct ScaleParts {
  double shared_u = 0;
  double own_u = 0;
};

ScaleParts parts_of(const SheetScale& scale) {
  const double u = scale.standard_uncertainty;
  const double own = std::min(0.6 * u, 0.003);
  return {std::sqrt(u * u - own * own), own};
}

void set_scales(const PlanesOptions& options, PlaneBundlePriors& priors) {
  const SheetScale& sheet = options.sheet_scale;
  priors.sheet_scale_x = sheet.x;
  priors.sheet_scale_y = sheet.y;
  priors.same_print = !options.card_scale.has_value();
  const ScaleParts sheet_parts = parts_of(sheet);
  priors.scales_u[0] = sheet_parts.shared_u;
  priors.scales_u[2] = priors.scales_u[3] = sheet_parts.own_u;
  if (options.card_scale) {
    const SheetScale& cards = *options.card_scale;
    priors.card_scale_x = cards.x;
    priors.card_scale_y = cards.y;
    const ScaleParts parts = parts_of(cards);
    priors.scales_u[1] = parts.shared_u;
    priors.scales_u[4] = priors.scales_u[5] = parts.own_u;
    return;
  }
  // The sheet's page lies on its side, so its x may be the cards' y: they get the mean.
  priors.card_scale_x = priors.card_scale_y = (sheet.x + sheet.y) / 2;
  priors.scales_u[1] = 0.0007;  // from page to page (common practice, order of magnitude)
  priors.scales_u[4] = priors.scales_u[5] = std::hypot(sheet_parts.own_u, (sheet.x - sheet.y) / 2);
}

}  // namespace

std::array<double, PlaneBundleState::kScales> scale_uncertainties(const PlanesOptions& options) {
  PlaneBundlePriors priors;
  set_scales(options, priors);
  return priors.scales_u;
}

namespace {

PlaneBundleSighting sighting_of(const CardSighting& found, PlanePiece piece, std::size_t photo) {
  PlaneBundleSighting s;
  s.photo = photo;
  s.piece = piece;
  s.px_per_mm = found.px_per_mm;
  const CardDefinition& card = *found.card;
  for (const SightedCorner& c : found.corners)
    s.corners.push_back({c.id, c.card_mm.x - card.columns * card.square_mm / 2,
                         c.card_mm.y - card.rows * card.square_mm / 2, c.photo_px, true});
  return s;
}

double median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

using PieceBlock = std::array<double, PlaneBundleState::kPiece>;

/// The card's pose in the world by one photo: usually two, one of them the plane's mirrored pose.
std::vector<PieceBlock> poses_by_one_photo(const PlaneBundle& bundle, const PlaneBundleState& state,
                                           const PlaneBundleSighting& s) {
  const auto& photo = state.photos[s.photo];
  const auto& camera = state.cameras[bundle.photos[s.photo].camera];
  CameraModel lens = bundle.cameras[bundle.photos[s.photo].camera].model;
  lens.focal_px *= 1 + camera[0];
  lens.centre_x_px = bundle.photos[s.photo].centre_x_px;
  lens.centre_y_px = bundle.photos[s.photo].centre_y_px;
  lens.k1 += camera[3];
  lens.k2 += camera[4];
  std::vector<cv::Point3d> object;
  std::vector<cv::Point2d> image;
  for (const PlaneBundleCorner& c : s.corners) {
    object.emplace_back(c.x_mm * bundle.priors.card_scale_x, c.y_mm * bundle.priors.card_scale_y,
                        0);
    double u = 0, v = 0;
    lens.direction(c.photo_px, u, v);
    image.emplace_back(u, v);
  }
  std::vector<cv::Mat> rotations, translations;
  cv::solvePnPGeneric(object, image, cv::Matx33d::eye(), cv::noArray(), rotations, translations,
                      false, cv::SOLVEPNP_IPPE);
  // On exact points the planar solver may answer with NaN.
  const auto unusable = [&](std::size_t i) {
    return !(cv::checkRange(rotations[i]) && cv::checkRange(translations[i]) &&
             translations[i].at<double>(2) > 0);
  };
  if (rotations.empty() || unusable(0)) {
    rotations.assign(1, {});
    translations.assign(1, {});
    cv::solvePnP(object, image, cv::Matx33d::eye(), cv::noArray(), rotations[0], translations[0],
                 false, cv::SOLVEPNP_ITERATIVE);
  }
  std::vector<PieceBlock> poses;
  for (std::size_t i = 0; i < rotations.size(); ++i) {
    if (unusable(i)) continue;
    double camera_from_world[9], camera_from_card[9], world_from_card[9];
    ceres::AngleAxisToRotationMatrix(photo.data(), camera_from_world);
    ceres::AngleAxisToRotationMatrix(rotations[i].ptr<double>(), camera_from_card);
    Eigen::Map<Eigen::Matrix3d> w(camera_from_world), c(camera_from_card), out(world_from_card);
    out = w.transpose() * c;
    const Eigen::Vector3d t(translations[i].at<double>(0), translations[i].at<double>(1),
                            translations[i].at<double>(2));
    const Eigen::Vector3d place =
        w.transpose() * (t - Eigen::Map<const Eigen::Vector3d>(photo.data() + 3));
    PieceBlock block{};
    ceres::RotationMatrixToAngleAxis(world_from_card, block.data());
    Eigen::Map<Eigen::Vector3d>(block.data() + 3) = place;
    poses.push_back(block);
  }
  return poses;
}

/// Mean distance of a sighting's corners with this pose; every corner's is cut at 60 px, so that
/// one moved photo does not decide.
double misfit_px(const PlaneBundle& bundle, PlaneBundleState& state, const PlaneBundleSighting& s,
                 const PieceBlock& pose) {
  state.pieces[s.block] = pose;
  double sum = 0;
  for (const PlaneBundleCorner& c : s.corners) {
    const Point_px p = project_corner(bundle, state, s, c);
    const double off = distance_px(p, c.photo_px);
    sum += off < 60 ? off : 60;  // NaN counts as far off
  }
  return sum / static_cast<double>(s.corners.size());
}

void start_photos(const PlaneBundle& bundle, PlaneBundleState& state) {
  std::vector<std::vector<double>> focal(bundle.cameras.size()), k1(focal), k2(focal);
  std::vector<double> ratio(bundle.photos.size(), 1);
  for (const PlaneBundleSighting& s : bundle.sightings) {
    if (s.piece != PlanePiece::ground) continue;
    const PlaneBundlePhoto& photo = bundle.photos[s.photo];
    const CardDefinition& sheet = *bundle.cards[0];
    CardSighting sighting;
    sighting.card = &sheet;
    const double half_x = bundle.half_x_mm(s.piece), half_y = bundle.half_y_mm(s.piece);
    for (const PlaneBundleCorner& c : s.corners)
      sighting.corners.push_back({c.id, {c.x_mm + half_x, c.y_mm + half_y}, c.photo_px});
    CameraPrior prior = bundle.cameras[photo.camera];
    prior.model.centre_x_px = photo.centre_x_px;
    prior.model.centre_y_px = photo.centre_y_px;
    const PoseSolution solution = solve_card_pose(
        sighting, prior, {bundle.priors.sheet_scale_x, bundle.priors.sheet_scale_y, 0.001});
    if (!solution.pose) continue;
    const CardPose::Vector& p = solution.pose->parameters();
    double rotation[9];
    ceres::AngleAxisToRotationMatrix(p.data(), rotation);
    const Eigen::Vector3d middle(half_x * bundle.priors.sheet_scale_x,
                                 half_y * bundle.priors.sheet_scale_y, 0);
    const Eigen::Vector3d t =
        Eigen::Map<const Eigen::Matrix3d>(rotation) * middle + p.segment<3>(3);
    auto& block = state.photos[s.photo];
    for (int i = 0; i < 3; ++i) {
      block[static_cast<std::size_t>(i)] = p[i];
      block[static_cast<std::size_t>(i + 3)] = t[i];
    }
    ratio[s.photo] = p[6] / prior.model.focal_px;
    focal[photo.camera].push_back(ratio[s.photo]);
    k1[photo.camera].push_back(p[9] - prior.model.k1);
    k2[photo.camera].push_back(p[10] - prior.model.k2);
  }
  for (std::size_t i = 0; i < bundle.cameras.size(); ++i) {
    if (focal[i].empty()) continue;
    state.cameras[i] = {median(focal[i]) - 1, 0, 0, median(k1[i]), median(k2[i])};
  }
  // With the shared focal length the photo's own distance goes along.
  for (std::size_t i = 0; i < bundle.photos.size(); ++i)
    state.photos[i][5] *= (1 + state.cameras[bundle.photos[i].camera][0]) / ratio[i];
}

}  // namespace

MadeBundle make_bundle(const std::vector<PlanePhoto>& photos, const PlanesOptions& options) {
  MadeBundle made;
  PlaneBundle& bundle = made.bundle;
  bundle.cards = options.pieces;
  set_scales(options, bundle.priors);
  std::map<std::string, std::size_t> cameras;
  std::array<std::size_t, kPlanePieces> block{};
  std::array<bool, kPlanePieces> has_block{};
  for (std::size_t i = 0; i < photos.size(); ++i) {
    const PlanePhoto& photo = photos[i];
    const bool doubled = std::any_of(photos.begin(), photos.begin() + static_cast<long>(i),
                                     [&](const PlanePhoto& p) { return same_picture(p, photo); });
    if (!photo.piece(options.pieces[0]) || doubled) {
      made.left_out.push_back(i);
      continue;
    }
    const auto [camera, is_new] = cameras.try_emplace(photo.camera_key, bundle.cameras.size());
    if (is_new) {
      bundle.cameras.push_back(photo.prior);
      bundle.diagonal_px.push_back(std::hypot(photo.width_px, photo.height_px));
    }
    const std::size_t index = bundle.photos.size();
    bundle.photos.push_back({camera->second, photo.prior.model.centre_x_px,
                             photo.prior.model.centre_y_px, turn_of(photo.exif_orientation)});
    made.source.push_back(i);
    for (std::size_t k = 0; k < kPlanePieces; ++k) {
      const CardSighting* found = photo.piece(options.pieces[k]);
      if (!found) continue;
      PlaneBundleSighting s = sighting_of(*found, static_cast<PlanePiece>(k), index);
      if (k > 0) {
        if (!has_block[k]) {
          has_block[k] = true;
          block[k] = bundle.blocks.size();
          bundle.blocks.push_back(s.piece);
        }
        s.block = block[k];
      }
      bundle.sightings.push_back(std::move(s));
    }
  }
  return made;
}

PlaneBundle loosened(const PlaneBundle& bundle) {
  PlaneBundle loose = bundle;
  loose.blocks.clear();
  for (PlaneBundleSighting& s : loose.sightings) {
    if (s.piece == PlanePiece::ground) continue;
    s.block = loose.blocks.size();
    loose.blocks.push_back(s.piece);
  }
  return loose;
}

PlaneBundleState start_state(const PlaneBundle& bundle) {
  PlaneBundleState state;
  state.photos.resize(bundle.photos.size());
  state.cameras.resize(bundle.cameras.size());
  state.pieces.resize(bundle.blocks.size());
  start_photos(bundle, state);
  for (PlanePiece card : {PlanePiece::card_a, PlanePiece::card_b}) {
    std::vector<const PlaneBundleSighting*> seen;
    for (const PlaneBundleSighting& s : bundle.sightings)
      if (s.piece == card) seen.push_back(&s);
    std::vector<std::vector<PieceBlock>> poses;
    for (const PlaneBundleSighting* s : seen)
      poses.push_back(poses_by_one_photo(bundle, state, *s));
    PieceBlock best{};
    double least = std::numeric_limits<double>::infinity();
    for (const auto& of_photo : poses)
      for (const PieceBlock& pose : of_photo) {
        double sum = 0;
        for (const PlaneBundleSighting* s : seen) sum += misfit_px(bundle, state, *s, pose);
        if (sum < least) {
          least = sum;
          best = pose;
        }
      }
    for (std::size_t i = 0; i < seen.size(); ++i) {
      PieceBlock own = best;
      const bool shared = seen[i]->block == seen[0]->block;
      // A card that moved is not where the others have it: then its own photo knows better.
      if (!shared && misfit_px(bundle, state, *seen[i], best) > 20) {
        double own_least = std::numeric_limits<double>::infinity();
        for (const PieceBlock& pose : poses[i])
          if (const double off = misfit_px(bundle, state, *seen[i], pose); off < own_least) {
            own_least = off;
            own = pose;
          }
      }
      state.pieces[seen[i]->block] = own;
    }
  }
  return state;
}

PlaneBundleState shared_start(const PlaneBundle& bundle, const PlaneBundle& loose,
                              const PlaneBundleState& solved) {
  PlaneBundleState state = solved;
  state.pieces.assign(bundle.blocks.size(), {});
  for (std::size_t block = 0; block < bundle.blocks.size(); ++block) {
    PieceBlock best{};
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < loose.blocks.size(); ++i) {
      if (loose.blocks[i] != bundle.blocks[block]) continue;
      double sum = 0;
      for (const PlaneBundleSighting& s : bundle.sightings)
        if (s.piece == bundle.blocks[block]) sum += misfit_px(bundle, state, s, solved.pieces[i]);
      if (sum < least) {
        least = sum;
        best = solved.pieces[i];
      }
    }
    state.pieces[block] = best;
  }
  return state;
}

}  // namespace scantling
