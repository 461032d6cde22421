#include "accuracy/accuracy_trial.h"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>

#include "accuracy/careful_user.h"
#include "support/drawn_truth.h"

namespace scantling::accuracy {
namespace {

using Clock = std::chrono::steady_clock;

double ms_since(Clock::time_point start) {
  return std::chrono::duration<double, std::milli>(Clock::now() - start).count();
}

double true_size(const drawn::DrawnPad& pad, const std::string& name, const Dimension* found) {
  const double station = found && !found->stations.empty()
                             ? found->stations[found->stations.size() / 2].position_mm
                             : 0;
  if (name == "plate_thickness") return pad.plate_mm;
  if (name == "friction_thickness") return drawn::true_friction_mm(pad, station);
  if (name == "overall_thickness") return drawn::true_overall_mm(pad, station);
  const double first = found ? found->stations.front().position_mm : -20;
  const double last = found ? found->stations.back().position_mm : 20;
  return drawn::true_friction_mm(pad, last) - drawn::true_friction_mm(pad, first);
}

SizeTrial compare(const drawn::DrawnPad& pad, const char* name, const Measurement& measurement) {
  SizeTrial trial;
  trial.name = name;
  const Dimension* found = measurement.usable() ? measurement.dimension(name) : nullptr;
  trial.truth_mm = true_size(pad, name, found);
  if (!found) return trial;
  trial.found = true;
  trial.value_mm = found->quantity.value_mm;
  trial.standard_uncertainty_mm = found->quantity.standard_uncertainty_mm;
  trial.expanded_95_mm = found->quantity.expanded_95_mm();
  trial.confidence = found->confidence;
  if (!found->quantity.budget.empty()) trial.largest_cause = found->quantity.budget.front().source;
  return trial;
}

/// Signed distance of `p` from the line a-b, positive on the side of `positive`.
double beyond(Point_px p, Point_px a, Point_px b, Point_px positive) {
  const double dx = b.x - a.x, dy = b.y - a.y, length = std::hypot(dx, dy);
  const auto side = [&](Point_px q) { return (dx * (q.y - a.y) - dy * (q.x - a.x)) / length; };
  return side(positive) >= 0 ? side(p) : -side(p);
}

std::vector<EdgeTrial> compare_edges(const drawn::DrawnScene& scene,
                                     const Measurement& measurement) {
  std::vector<EdgeTrial> trials;
  const auto truth = drawn::true_edges(scene);
  const auto middle_of = [](const std::vector<Point_px>& line) { return line[line.size() / 2]; };
  const Point_px low = middle_of(truth[0].outer), high = middle_of(truth[2].outer);
  const double px_per_mm = distance_px(low, high) / drawn::true_overall_mm(scene.pad, 0);
  for (const drawn::TrueEdge& edge : truth) {
    const MeasuredEdge* found = measurement.edge(edge.name);
    if (!found || found->points_px.size() < 2) continue;
    const Point_px a = found->points_px.front(), b = found->points_px.back();
    const Point_px middle{(a.x + b.x) / 2, (a.y + b.y) / 2};
    // A place far out on the side away from the plate.
    const Point_px away{low.x + 50 * (high.x - low.x), low.y + 50 * (high.y - low.y)};
    trials.push_back({edge.name,
                      beyond(middle, edge.outer.front(), edge.outer.back(), away) / px_per_mm,
                      beyond(middle, edge.inner.front(), edge.inner.back(), away) / px_per_mm,
                      found->confidence});
  }
  return trials;
}

}  // namespace

bool Trial::has_check(const std::string& id) const {
  return std::any_of(checks.begin(), checks.end(), [&](const Check& c) { return c.id == id; });
}

MeasureOptions options_for(const drawn::DrawnScene& scene) {
  MeasureOptions options;
  options.view = View::pad;
  options.sheet_scale.x = scene.declared.scale_x;
  options.sheet_scale.y = scene.declared.scale_y;
  options.sheet_scale.standard_uncertainty = scene.declared.scale_u;
  options.sheet_scale.checked = scene.declared.scale_u < 0.009;
  options.part_offset.offset_mm = scene.declared.offset_mm;
  options.part_offset.standard_uncertainty_mm = scene.declared.offset_u;
  return options;
}

Trial run_trial(const drawn::DrawnScene& scene, const Drawings& drawings) {
  Trial trial;
  trial.scene = scene;
  auto start = Clock::now();
  PhotoLoad load;
  load.photo = drawings.photo(
      fmt::format("pad {} {} {}x{}", scene.seed, drawn::difficulty_word(scene.difficulty),
                  scene.camera.width_px, scene.camera.height_px),
      scene.camera, [&] { return drawn::draw(scene); });
  trial.draw_ms = ms_since(start);
  start = Clock::now();
  const Analysis analysis = Analysis::run(std::move(load), options_for(scene));
  const Measurement& measurement = analysis.measurement();
  trial.engine_ms = ms_since(start);
  trial.checks = measurement.checks;
  const Measurement confirmed =
      CarefulUser(scene.seed).measures(analysis, drawn::true_edges(scene));
  for (const char* name :
       {"overall_thickness", "plate_thickness", "friction_thickness", "friction_taper"}) {
    trial.sizes.push_back(compare(scene.pad, name, measurement));
    trial.confirmed.push_back(compare(scene.pad, name, confirmed));
  }
  trial.edges = compare_edges(scene, measurement);
  return trial;
}

}  // namespace scantling::accuracy
