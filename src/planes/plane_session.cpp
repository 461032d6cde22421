#include "planes/plane_session.h"

#include <ceres/rotation.h>
#include <fmt/format.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <chrono>
#include <cmath>
#include <numeric>
#include <set>

#include "planes/find_moved.h"
#include "planes/next_photo.h"
#include "planes/plane_checks.h"
#include "planes/plane_sizes.h"
#include "planes/planes_solution.h"
#include "planes/solved_scene.h"

namespace scantling {
namespace {

/// The bundle's photos by the time the camera wrote, or as they were given where it did not.
std::vector<std::size_t> order_of(const std::vector<PlanePhoto>& photos,
                                  const std::vector<std::size_t>& source) {
  std::vector<std::size_t> order(source.size());
  std::iota(order.begin(), order.end(), 0u);
  std::set<std::string> times;
  for (const std::size_t i : source) times.insert(photos[i].tags.taken_at);
  if (times.size() == source.size() && !times.contains(""))
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
      return photos[source[a]].tags.taken_at < photos[source[b]].tags.taken_at;
    });
  return order;
}

/// Cards that cannot be on two faces of one disc.
std::optional<Check> check_sides(const PlaneBundleState& state, std::size_t a, std::size_t b) {
  double ra[9], rb[9];
  ceres::AngleAxisToRotationMatrix(state.pieces[a].data(), ra);
  ceres::AngleAxisToRotationMatrix(state.pieces[b].data(), rb);
  const Eigen::Vector3d into_a(ra[6], ra[7], ra[8]), into_b(rb[6], rb[7], rb[8]);
  if (into_a.dot(into_b) > 0)
    return Check{"cards_same_side", Severity::stop,
                 "Both cards are on the same side of the disc. Put card A on the outboard face and "
                 "card B on the inboard one, and take the photos again."};
  if (faces_distance_mm(state, a, b) < 0)
    return Check{"cards_face_each_other", Severity::stop,
                 "The cards' printed sides look towards each other, as if they lay on two parts. "
                 "Put one on each outer face of the same disc and take the photos again."};
  return std::nullopt;
}

class Solver {
 public:
  Solver(const std::vector<PlanePhoto>& photos, const PlanesOptions& options)
      : photos_(photos), options_(options) {}

  PlanesResult solve() {
    const auto start = std::chrono::steady_clock::now();
    result_.view = options_.view;
    for (const PlanePhoto& photo : photos_) {
      // A photo that can't be used is left out; whether enough are left is another check's matter.
      for (Check check : photo.checks) {
        if (check.severity == Severity::stop) check.severity = Severity::warn;
        result_.checks.push_back(std::move(check));
      }
      result_.timing_ms.decode += photo.decode_ms;
      result_.timing_ms.card += photo.search_ms;
    }
    add(checks_before(photos_, options_));
    const MadeBundle made = make_bundle(photos_, options_);
    solve(made);
    if (any_stop(result_.checks)) result_.dimensions.clear();
    result_.timing_ms.edges =
        std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count();
    result_.timing_ms.total =
        result_.timing_ms.decode + result_.timing_ms.card + result_.timing_ms.edges;
    return std::move(result_);
  }

 private:
  void add(std::vector<Check> checks) {
    result_.checks.insert(result_.checks.end(), checks.begin(), checks.end());
  }

  void solve(const MadeBundle& made) {
    std::optional<PlanesSolution> solved;
    if (!made.bundle.photos.empty()) solved = solve_planes(made.bundle);
    const bool usable = solved && solved->held_together;
    describe_photos(photos_, made, usable ? &*solved : nullptr, result_);
    if (!usable) {
      if (made.bundle.photos.empty()) return;  // the checks say why
      if (!solved || !say_what_moved(*solved, order_of(photos_, made.source), names_of(made)))
        result_.checks.push_back(
            {"photos_unsolved", Severity::stop,
             "The photos cannot be brought together. Take them again with the ground sheet and the "
             "card flat, sharp and whole in each."});
      return;
    }
    const bool curved = solved->curved;
    const PlaneBundleInformation information(solved->bundle, solved->solution, curved);
    describe_pieces(*solved, information, result_);
    describe_fit(*solved, result_);
    measure(*solved, information, order_of(photos_, made.source), names_of(made));
  }

  bool say_what_moved(const PlanesSolution& solved, const std::vector<std::size_t>& order,
                      const std::vector<std::string>& names) {
    if (solved.misfit() <= 1) return false;
    const std::vector<Movement> movements = find_moved(solved, order);
    if (movements.empty()) return false;
    result_.checks.push_back(moved_check(movements, solved, order, names, options_.view));
    return true;
  }

  std::vector<std::string> names_of(const MadeBundle& made) const {
    std::vector<std::string> names;
    for (const std::size_t i : made.source) names.push_back(photos_[i].name);
    return names;
  }

  void measure(const PlanesSolution& solved, const PlaneBundleInformation& information,
               const std::vector<std::size_t>& order, const std::vector<std::string>& names) {
    const PlaneBundle& bundle = solved.bundle;
    const PlaneBundleState& state = solved.solution.state;
    const auto a = block_of(bundle, PlanePiece::card_a), b = block_of(bundle, PlanePiece::card_b);
    PlaneEvidence evidence;
    const bool faces = options_.view == PlanesView::faces;
    if (faces && a && b) evidence.angle = faces_angle(information, state, *a, *b);
    if (!faces && (a || b)) evidence.angle = tilt_to_sheet(bundle, information, state, a ? *a : *b);
    if (faces ? (a && b) : (a || b)) {
      result_.angle_deg = evidence.angle.angle_deg;
      result_.angle_u_deg = evidence.angle.u_deg;
    }
    const SheetUnevenness uneven = sheet_unevenness(bundle, solved.solution);
    evidence.unevenness_mm = uneven.rms_mm;
    evidence.range_mm = result_.sheet.range_mm;
    evidence.seen_again = first_side_seen_again(solved, order);
    result_.next_photo = next_photo(solved, information, options_.view, names);

    bool said = say_what_moved(solved, order, names);
    if (faces && a && b && !said)
      if (const auto check = check_sides(state, *a, *b)) {
        result_.checks.push_back(*check);
        said = true;
      }
    if (!said) add(checks_after(result_, solved, options_, uneven, evidence.angle.chi_square));
    if (any_stop(result_.checks)) return;
    if (faces && !evidence.seen_again)
      result_.checks.push_back(
          {"first_side_not_seen_again", Severity::info,
           "All photos of one side come before those of the other, so a disc that moved in between "
           "would not show. End with one more photo of the side you began with."});
    const PlaneBundleInformation with_surface(bundle, solved.solution, true);
    result_.dimensions = plane_sizes(solved, information, with_surface, options_, evidence);
    for (const Dimension& d : result_.dimensions)
      if (!d.name.starts_with("friction_taper") &&
          !(d.quantity.value_mm > 0.5 && d.quantity.value_mm < 100))
        result_.checks.push_back(
            {"size_implausible", Severity::stop,
             fmt::format("The photos give {:.2f} mm, which is no thickness of a brake part. Check "
                         "that each card lies on the part and the part on the ground sheet.",
                         d.quantity.value_mm)});
  }

  const std::vector<PlanePhoto>& photos_;
  const PlanesOptions& options_;
  PlanesResult result_;
};

}  // namespace

PlaneSession::PlaneSession(PlanesOptions options) : options_(std::move(options)) {
  solve();
}

void PlaneSession::set_options(PlanesOptions options) {
  options_ = std::move(options);
  solve();
}

void PlaneSession::take(PlanePhoto photo) {
  const auto same = std::find_if(photos_.begin(), photos_.end(),
                                 [&](const PlanePhoto& p) { return p.name == photo.name; });
  if (same != photos_.end())
    *same = std::move(photo);
  else
    photos_.push_back(std::move(photo));
}

void PlaneSession::add(PlanePhoto photo) {
  take(std::move(photo));
  solve();
}

void PlaneSession::add(std::vector<PlanePhoto> photos) {
  for (PlanePhoto& photo : photos) take(std::move(photo));
  solve();
}

bool PlaneSession::remove(const std::string& name) {
  const auto removed =
      std::erase_if(photos_, [&](const PlanePhoto& photo) { return photo.name == name; });
  if (removed > 0) solve();
  return removed > 0;
}

void PlaneSession::solve() {
  result_ = Solver(photos_, options_).solve();
}

}  // namespace scantling
