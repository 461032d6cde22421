#include "accuracy/planes_sweep.h"

#include <fmt/format.h>

#include <chrono>
#include <cmath>
#include <opencv2/core.hpp>

#include "planes/bundle_start.h"
#include "planes/plane_sizes.h"
#include "planes/planes_solution.h"
#include "support/drawn_planes.h"

namespace scantling::drawn {
namespace {

struct Phone {
  double focal_px, f35_factor, centre_dx, centre_dy, k1, k2;
};

constexpr double kDiagonal_px = 5000;

/// A photo by this phone: refocused and stabilised a little differently each time.
void taken_by(const Phone& phone, const PlaneBundlePriors& priors, Random& random,
              PlaneCamera& camera) {
  const double wander = priors.centre_shift_u * kDiagonal_px;
  // The tag tells the lens, not how it was focused.
  const double focus = 1 + priors.autofocus_u * random.normal();
  camera.focal_px = phone.focal_px * focus;
  camera.f35_factor = phone.f35_factor / focus;
  camera.centre_dx_px = phone.centre_dx + wander * random.normal();
  camera.centre_dy_px = phone.centre_dy + wander * random.normal();
  camera.k1 = phone.k1;
  camera.k2 = phone.k2;
}

std::vector<PlaneCamera> cameras_of(const PlanesSweepRow& row, Random& random) {
  std::vector<PlaneCamera> cameras;
  const double half = row.spread_deg / 2;
  const double step = row.photos > 1 ? row.spread_deg / (row.photos - 1) : 0;
  if (row.view == PlanesView::faces) {
    for (const PlanePiece side : {PlanePiece::card_a, PlanePiece::card_b})
      for (int i = 0; i < row.photos; ++i)
        cameras.push_back(faces_camera(side, -half + step * i + random.between(-3, 3),
                                       random.between(28, 45),
                                       row.distance_mm * random.between(0.95, 1.05)));
  } else {
    for (int i = 0; i < row.photos; ++i)
      cameras.push_back(pile_camera(-half + step * i + random.between(-5, 5),
                                    random.between(35, 60),
                                    row.distance_mm * random.between(0.95, 1.05)));
  }
  for (std::size_t i = 0; i < cameras.size(); ++i) {
    cameras[i].name = std::to_string(i + 1);
    cameras[i].roll_deg = random.between(-8, 8);
  }
  return cameras;
}

/// The print as it really is, within what is believed of it.
void print_scene(const PlaneBundlePriors& priors, Random& random, PlanesScene& scene) {
  std::array<double, PlaneBundleState::kScales> error{};
  for (std::size_t i = 0; i < error.size(); ++i) error[i] = priors.scales_u[i] * random.normal();
  scene.sheet.scale_x = 1 + error[0] + error[2];
  scene.sheet.scale_y = 1 + error[0] + error[3];
  for (PlacedPiece& card : scene.cards) {
    card.scale_x = 1 + error[0] + error[1] + error[4];
    card.scale_y = 1 + error[0] + error[1] + error[5];
    card.bend_mm = priors.bend_u_mm * random.normal();
  }
}

}  // namespace

std::string PlanesSweepRow::words() const {
  return fmt::format("{:5} {} photos, noise {:.2f} px, {:3.0f} mm, {:3.0f} deg apart",
                     planes_view_word(view), photos, noise_px, distance_mm, spread_deg);
}

std::vector<PlanesSweepRow> planes_sweep_rows() {
  std::vector<PlanesSweepRow> rows;
  for (const PlanesView view : {PlanesView::faces, PlanesView::pile}) {
    PlanesSweepRow usual;
    usual.view = view;
    usual.spread_deg = view == PlanesView::faces ? 50 : 150;
    usual.photos = 3;
    const auto add = [&](auto change) {
      PlanesSweepRow row = usual;
      change(row);
      rows.push_back(row);
    };
    for (const double noise : {0.05, 0.1, 0.2, 0.4})
      add([&](PlanesSweepRow& r) { r.noise_px = noise; });
    for (const int photos : {2, 4, 6}) add([&](PlanesSweepRow& r) { r.photos = photos; });
    for (const double distance : {230.0, 450.0})
      add([&](PlanesSweepRow& r) { r.distance_mm = distance; });
    for (const double spread : {15.0, 90.0}) add([&](PlanesSweepRow& r) { r.spread_deg = spread; });
  }
  return rows;
}

PlanesSweepResult run_planes_row(const PlanesSweepRow& row, int trials, std::uint32_t seed) {
  const auto start = std::chrono::steady_clock::now();
  PlanesOptions options;
  options.view = row.view;
  options.sheet_scale = {1, 1, row.sheet_scale_u, true};
  struct Trial {
    double error = NAN, u = NAN;
  };
  std::vector<Trial> all(static_cast<std::size_t>(trials));
  cv::parallel_for_({0, trials}, [&](const cv::Range& range) {
    for (int i = range.start; i < range.end; ++i) {
      // Drawn twice, as neighbouring seeds give one sequence shifted by a place.
      Random random(Random(seed * 100003ull + static_cast<std::uint64_t>(i)).next());
      const bool faces = row.view == PlanesView::faces;
      const double thickness = faces ? random.between(9, 30) : random.between(7, 18);
      const double card_mm = options.card_thickness.thickness_mm;
      PlanesScene scene =
          faces ? faces_scene(thickness, card_mm) : pile_scene(thickness, false, 0, card_mm);
      const PlaneBundlePriors priors = make_bundle({}, options).bundle.priors;
      print_scene(priors, random, scene);
      Phone phone{};
      phone.focal_px = random.between(2700, 3300);
      phone.f35_factor = 1 / (1 + random.between(-row.focal_error, row.focal_error));
      phone.centre_dx = 0.006 * kDiagonal_px * random.normal();
      phone.centre_dy = 0.006 * kDiagonal_px * random.normal();
      phone.k1 = row.distorted ? 0.04 * random.normal() : 0;
      phone.k2 = row.distorted ? 0.02 * random.normal() : 0;
      std::vector<PlanePhoto> photos;
      for (PlaneCamera& camera : cameras_of(row, random)) {
        taken_by(phone, priors, random, camera);
        photos.push_back(sighted(scene, camera, row.noise_px, random));
      }
      const auto solved = solve_planes(make_bundle(photos, options).bundle);
      if (!solved) continue;
      const PlaneBundleInformation information(solved->bundle, solved->solution, solved->curved);
      const auto size =
          wanted_size(solved->bundle, information, solved->solution.state, options.view);
      if (!size) continue;
      const double cards = faces ? 2 : 1;
      all[static_cast<std::size_t>(i)] = {size->value_mm - cards * card_mm - thickness,
                                          std::sqrt(information.variance(size->gradient))};
    }
  });
  PlanesSweepResult result;
  int inside = 0;
  for (const Trial& t : all) {
    if (!std::isfinite(t.error)) {
      ++result.failed;
      continue;
    }
    ++result.trials;
    result.mean_mm += t.error;
    result.rms_mm += t.error * t.error;
    result.claimed_mm += t.u * t.u;
    result.square_sum += t.error * t.error / (t.u * t.u);
    inside += std::abs(t.error) < 1.96 * t.u;
  }
  const double n = std::max(1, result.trials);
  result.mean_mm /= n;
  result.rms_mm = std::sqrt(result.rms_mm / n);
  result.claimed_mm = std::sqrt(result.claimed_mm / n);
  result.ratio = std::sqrt(result.square_sum / n);
  result.within_95 = inside / n;
  result.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  return result;
}

}  // namespace scantling::drawn
