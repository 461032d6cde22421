#include "camera/camera_calibration.h"

#include <ceres/rotation.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <ctime>
#include <map>

#include "camera/bundle_adjustment.h"
#include "camera/camera_prior.h"
#include "camera/card_pose.h"
#include "camera/lens_pattern.h"

namespace scantling {
namespace {

constexpr std::size_t kFewestToSolve = 3;
constexpr double kWantedFocal_u = 0.005;
constexpr double kWantedCentre_u = 0.003;  // of the diagonal

double diagonal_px(PictureSize size) {
  return std::hypot(size.width_px, size.height_px);
}

/// One calibration from the photos as they are.
class Solving {
 public:
  Solving(const std::vector<PlacedPhoto>& photos, const std::string& today)
      : photos_(photos), today_(today) {}

  CalibrationProgress run() {
    for (const auto& [photo, corners, pose, focal_px] : photos_) {
      CalibrationPhotoState state;
      state.name = photo.name;
      state.used = photo.unusable.empty();
      state.why = photo.unusable;
      if (photo.sighting) state.corners = static_cast<int>(photo.sighting->corners.size());
      progress_.photos.push_back(std::move(state));
    }
    leave_out_others();
    leave_out_doubles();
    leave_out_blurred();
    if (place_views()) solve();
    finish();
    return std::move(progress_);
  }

 private:
  void leave_out(std::size_t index, std::string why) {
    progress_.photos[index].used = false;
    progress_.photos[index].why = std::move(why);
  }

  std::vector<std::size_t> used() const {
    std::vector<std::size_t> list;
    for (std::size_t i = 0; i < photos_.size(); ++i)
      if (progress_.photos[i].used) list.push_back(i);
    return list;
  }

  /// The camera, size and sheet that most photos share; the first of equals.
  void leave_out_others() {
    const std::vector<std::size_t> all = used();
    std::size_t most = 0;
    for (const std::size_t i : all) {
      const auto alike = static_cast<std::size_t>(std::count_if(
          all.begin(), all.end(), [&](std::size_t k) { return belongs(i, k).empty(); }));
      if (alike > most) {
        most = alike;
        first_ = i;
      }
    }
    for (const std::size_t i : all)
      if (const std::string why = belongs(first_, i); !why.empty()) leave_out(i, why);
  }

  std::string belongs(std::size_t known, std::size_t other) const {
    const CalibrationPhoto &a = photos_[known].photo, &b = photos_[other].photo;
    const std::string why = difference_between(a.camera, b.camera, "the other photos");
    if (!why.empty()) return "It doesn't belong: " + why + ".";
    if (a.camera.sensor != b.camera.sensor)
      return "It doesn't belong: a program turned it without saying so. Use the original file.";
    if (a.sighting->card != b.sighting->card)
      return "It doesn't belong: it shows another card than the other photos.";
    return {};
  }

  void leave_out_doubles() {
    const std::vector<std::size_t> all = used();
    for (std::size_t i = 0; i < all.size(); ++i)
      for (std::size_t k = 0; k < i; ++k)
        if (same_picture(*photos_[all[i]].photo.sighting, *photos_[all[k]].photo.sighting)) {
          leave_out(all[i], fmt::format("It is the same photo as {}.", photos_[all[k]].photo.name));
          break;
        }
  }

  static bool same_picture(const CardSighting& a, const CardSighting& b) {
    if (a.corners.size() != b.corners.size()) return false;
    for (std::size_t i = 0; i < a.corners.size(); ++i)
      if (a.corners[i].id != b.corners[i].id ||
          distance_px(a.corners[i].photo_px, b.corners[i].photo_px) > 1e-3)
        return false;
    return true;
  }

  void leave_out_blurred() {
    std::vector<double> blurs;
    for (const std::size_t i : used()) blurs.push_back(photos_[i].photo.blur_px);
    if (blurs.empty()) return;
    const auto middle = blurs.begin() + static_cast<long>(blurs.size() / 2);
    std::nth_element(blurs.begin(), middle, blurs.end());
    const double usual = *middle;
    for (const std::size_t i : used())
      if (photos_[i].photo.blur_px > std::max(2.0, 2.2 * usual))
        leave_out(i,
                  "It is blurred. Hold the phone still, tap the sheet to focus, and take it "
                  "again.");
  }

  /// Where the bundle starts: each photo's pose by itself, at the usual focal length.
  bool place_views() {
    std::vector<double> focal;
    for (const std::size_t i : used()) focal.push_back(photos_[i].focal_px);
    if (focal.empty()) return false;
    const auto middle = focal.begin() + static_cast<long>(focal.size() / 2);
    std::nth_element(focal.begin(), middle, focal.end());
    for (const std::size_t i : used()) {
      views_.push_back({photos_[i].corners, photos_[i].pose});
      views_.back().start[5] *= *middle / photos_[i].focal_px;
      index_.push_back(i);
    }
    const PictureSize sensor = photos_[first_].photo.camera.sensor;
    beliefs_.start = {*middle, (sensor.width_px - 1) / 2.0, (sensor.height_px - 1) / 2.0, 0, 0};
    beliefs_.diagonal_px = diagonal_px(sensor);
    return true;
  }

  void solve() {
    for (int round = 0; round < 4 && views_.size() >= kFewestToSolve; ++round) {
      solution_ = adjust_bundle(views_, *photos_[first_].photo.sighting->card, beliefs_);
      if (!solution_ || !leave_out_strangers()) return;
    }
    if (views_.size() < kFewestToSolve) solution_.reset();
  }

  /// A photo whose corners lie clearly further off than those of the others.
  bool leave_out_strangers() {
    std::vector<double> residuals;
    for (const BundleViewResult& view : solution_->views) residuals.push_back(view.residual_px);
    const auto middle = residuals.begin() + static_cast<long>(residuals.size() / 2);
    std::nth_element(residuals.begin(), middle, residuals.end());
    const double usual = std::max(*middle, 0.03);
    bool any = false;
    for (std::size_t v = views_.size(); v-- > 0;) {
      const BundleViewResult& view = solution_->views[v];
      const bool strange =
          view.residual_px > 2.5 * usual || view.outliers.size() > views_[v].corners.size() / 4;
      if (!strange) continue;
      any = true;
      leave_out(index_[v], fmt::format("It disagrees with the other photos ({:.1f} px, the others "
                                       "{:.1f} px): the sheet or the phone moved, or the sheet "
                                       "lay differently.",
                                       view.residual_px, usual));
      views_.erase(views_.begin() + static_cast<long>(v));
      index_.erase(index_.begin() + static_cast<long>(v));
      solution_->views.erase(solution_->views.begin() + static_cast<long>(v));
    }
    return any;
  }

  int usual_orientation() const {
    std::map<int, int> count;
    for (const std::size_t i : index_) ++count[photos_[i].photo.orientation];
    int usual = 1, most = 0;
    for (const auto& [orientation, number] : count)
      if (number > most) {
        usual = orientation;
        most = number;
      }
    return usual;
  }

  void finish() {
    progress_.used = static_cast<int>(index_.size());
    if (index_.empty()) {
      progress_.missing.push_back(
          fmt::format("Take {} or more photos of the printed ground sheet from different sides.",
                      kWantedPhotos));
      return;
    }
    CoverageGatherer gatherer(photos_[first_].photo.camera.sensor, usual_orientation());
    double distance = 0;
    for (std::size_t v = 0; v < views_.size(); ++v) {
      for (const SightedCorner& c : views_[v].corners) gatherer.add_corner(c.photo_px);
      distance += describe(v, gatherer) / static_cast<double>(views_.size());
    }
    progress_.coverage = gatherer.coverage();
    if (progress_.used < kWantedPhotos) {
      const int more = kWantedPhotos - progress_.used;
      progress_.missing.push_back(more == 1 ? std::string("One more photo is wanted.")
                                            : fmt::format("{} more photos are wanted.", more));
    }
    for (std::string& text : missing_coverage(progress_.coverage))
      progress_.missing.push_back(std::move(text));
    if (solution_) make_profile(distance);
    progress_.accepted = progress_.profile && progress_.missing.empty();
  }

  /// Slant and distance of one photo; returns the distance.
  double describe(std::size_t v, CoverageGatherer& gatherer) {
    const auto& pose = solution_ ? solution_->views[v].pose : views_[v].start;
    double r[9];
    ceres::AngleAxisToRotationMatrix(pose.data(), r);  // column-major
    const Eigen::Vector3d into_card(r[6], r[7], r[8]);
    gatherer.add_slant(-into_card);
    const CardDefinition& card = *photos_[first_].photo.sighting->card;
    const double middle[3] = {card.columns * card.square_mm / 2, card.rows * card.square_mm / 2, 0};
    double place[3];
    ceres::AngleAxisRotatePoint(pose.data(), middle, place);
    const double distance = std::hypot(place[0] + pose[3], place[1] + pose[4], place[2] + pose[5]);
    CalibrationPhotoState& state = progress_.photos[index_[v]];
    state.slant_deg = std::acos(std::min(1.0, std::abs(into_card.z()))) * 180 / M_PI;
    state.distance_mm = distance;
    if (solution_) state.residual_px = solution_->views[v].residual_px;
    return distance;
  }

  void make_profile(double distance_mm) {
    CameraProfile profile;
    profile.camera = photos_[first_].photo.camera;
    profile.model = solution_->model;
    profile.residual_px = solution_->residual_px;
    profile.photos = progress_.used;
    profile.corners = solution_->corners;
    profile.distance_mm = distance_mm;
    const CalibrationCoverage& c = progress_.coverage;
    profile.coverage = {c.picture_share, c.left_deg, c.right_deg, c.far_deg, c.near_deg};
    profile.made_on = today_;

    const LensPattern pattern = find_lens_pattern(views_, *solution_, profile.camera.sensor);
    profile.covariance = solution_->covariance * pattern.variance_factor;
    if (pattern.significant)
      progress_.checks.push_back(
          {"lens_pattern", Severity::warn,
           fmt::format(
               "The lens bends the picture in a way that the model does not cover, by {:.1f} "
               "px near {}. The profile is the less sure for it.",
               pattern.worst_px, pattern.where)});
    double curl_mm = 0;
    for (const double mm : solution_->sheet_mm) curl_mm = std::max(curl_mm, std::abs(mm));
    if (curl_mm > 1)
      progress_.checks.push_back(
          {"sheet_not_flat", Severity::warn,
           fmt::format("The sheet seems curled by {:.1f} mm. Glue or tape it flat on a board for a "
                       "surer profile.",
                       curl_mm)});
    judge(profile);
    progress_.profile = std::move(profile);
  }

  void judge(const CameraProfile& profile) {
    const auto u = profile.standard_deviations();
    const double diagonal = diagonal_px(profile.camera.sensor);
    if (!(u[0] < kWantedFocal_u * profile.model.focal_px))
      progress_.missing.push_back(
          fmt::format("The focal length is still unsure by {:.1f} %, wanted {:.1f} %. Add photos "
                      "taken more from the side, 30 to 40 degrees.",
                      100 * u[0] / profile.model.focal_px, 100 * kWantedFocal_u));
    if (!(std::max(u[1], u[2]) < kWantedCentre_u * diagonal))
      progress_.missing.push_back(
          "The lens's centre is still unsure. Add photos with the phone turned a quarter.");
    if (!(profile.residual_px < std::max(0.5, 2e-4 * diagonal)))
      progress_.missing.push_back(
          fmt::format("The corners do not fit together, by {:.1f} px. Tape the sheet flat on a "
                      "board, keep it and the phone still, and take the photos again.",
                      profile.residual_px));
  }

  const std::vector<PlacedPhoto>& photos_;
  const std::string& today_;
  CalibrationProgress progress_;
  std::size_t first_ = 0;  ///< a photo that stands for the camera
  std::vector<BundleView> views_;
  std::vector<std::size_t> index_;  ///< of each view's photo
  BundleBeliefs beliefs_;
  std::optional<BundleSolution> solution_;
};

PlacedPhoto placed(CalibrationPhoto photo) {
  PlacedPhoto result;
  if (photo.unusable.empty()) {
    CardSighting sighting = *photo.sighting;
    const SensorFromUpright frame = sensor_from_upright(photo.upright, photo.orientation);
    for (SightedCorner& c : sighting.corners) c.photo_px = frame.to_sensor(c.photo_px);
    CameraPrior prior =
        camera_prior(photo.tags, photo.camera.sensor.width_px, photo.camera.sensor.height_px);
    prior.k1_u = 0.2;
    prior.k2_u = 0.1;
    const PoseSolution solution = solve_card_pose(sighting, prior, PrintScale{1, 1, 0.01});
    if (solution.pose) {
      result.corners = std::move(sighting.corners);
      result.pose = solution.pose->parameters().head<6>();
      result.focal_px = solution.pose->camera().focal_px;
    } else {
      photo.unusable = "The sheet's position could not be worked out from it.";
    }
  }
  result.photo = std::move(photo);
  return result;
}

}  // namespace

void CameraCalibration::add(CalibrationPhoto photo) {
  if (photo.unusable.empty() && (!photo.sighting || photo.sighting->corners.size() < 8))
    photo.unusable = "Too little of the sheet can be read.";
  photos_.push_back(placed(std::move(photo)));
  progress_.reset();
}

void CameraCalibration::remove(std::size_t index) {
  if (index >= photos_.size()) return;
  photos_.erase(photos_.begin() + static_cast<long>(index));
  progress_.reset();
}

void CameraCalibration::clear() {
  photos_.clear();
  progress_.reset();
}

const CalibrationProgress& CameraCalibration::progress() {
  if (!progress_) progress_ = Solving(photos_, today_).run();
  return *progress_;
}

std::string calendar_date() {
  const std::time_t now = std::time(nullptr);
  std::tm utc{};
  gmtime_r(&now, &utc);
  return fmt::format("{:04}-{:02}-{:02}", utc.tm_year + 1900, utc.tm_mon + 1, utc.tm_mday);
}

}  // namespace scantling
