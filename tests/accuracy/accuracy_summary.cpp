#include "accuracy/accuracy_summary.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>
#include <ostream>

namespace scantling::accuracy {
namespace {

using Json = nlohmann::ordered_json;

const SizeTrial* size_of(const Trial& trial, const std::string& name) {
  for (const SizeTrial& size : trial.sizes)
    if (size.name == name) return &size;
  return nullptr;
}

double quantile(std::vector<double> sorted, double share) {
  if (sorted.empty()) return 0;
  std::sort(sorted.begin(), sorted.end());
  const double place = share * static_cast<double>(sorted.size() - 1);
  const auto i = static_cast<std::size_t>(place);
  const double next = sorted[std::min(i + 1, sorted.size() - 1)];
  return sorted[i] + (place - std::floor(place)) * (next - sorted[i]);
}

constexpr const char* kNames[] = {"overall_thickness", "plate_thickness", "friction_thickness",
                                  "friction_taper"};

constexpr const char* kHead =
    "  size                 found  median    95 %   worst  signed  in 95 %  +-95 %  error/u\n";

void print_row(std::ostream& out, const SizeSummary& s, int name_width) {
  out << fmt::format(
      "  {:<{}} {:>5.0f}%  {:6.3f}  {:6.3f}  {:6.3f}  {:+6.3f}   {:5.1f}%  {:6.3f}   {:6.2f}\n",
      s.name, name_width, 100.0 * s.found / std::max(1, s.photos), s.median_error_mm, s.error_95_mm,
      s.worst_error_mm, s.mean_error_mm, 100 * s.inside_95_share, s.mean_half_width_mm,
      s.rms_error_over_u);
}

void print_table(std::ostream& out, const std::string& title,
                 const std::vector<const Trial*>& trials) {
  if (trials.empty()) return;
  out << fmt::format("{} ({} photos)\n", title, trials.size());
  out << kHead;
  for (const char* name : kNames) print_row(out, summarise(trials, name), 19);
  out << '\n';
}

/// The largest error among the thicknesses, in mm; those not found count as nothing.
double worst_of(const Trial& trial) {
  double worst = 0;
  for (const SizeTrial& size : trial.sizes)
    if (size.found) worst = std::max(worst, std::abs(size.error_mm()));
  return worst;
}

std::string scene_words(const drawn::DrawnScene& s) {
  return fmt::format(
      "{}, {}, {:.0f} mm, elevation {:.1f}, azimuth {:.1f}, blur {:.2f} px; plate {:.2f} edge "
      "{:.2f} "
      "{}, friction {:.2f} edge {:.2f} {}, setback {:.2f}, step {:+.0f}, texture {:.0f} %, waves "
      "{:.3f}, chips {:.3f}, offset {:.2f} (told {:.2f}), yaw {:.1f}, lean {:.1f}{}{}{}{}",
      drawn::difficulty_word(s.difficulty), drawn::pose_word(s.pad.pose), s.camera.distance_mm,
      s.camera.elevation_deg, s.camera.azimuth_deg, s.camera.blur_px, s.pad.plate_mm,
      s.pad.plate_edge_mm, s.pad.plate_edge_round ? "round" : "cut", s.pad.friction_mm,
      s.pad.friction_edge_mm, s.pad.friction_edge_round ? "round" : "cut", s.pad.setback_mm,
      s.pad.top_step, 100 * s.pad.texture, s.pad.waviness_mm, s.pad.chips_mm, s.pad.offset_mm,
      s.declared.offset_mm, s.pad.yaw_deg, s.card.lean_deg, s.pad.slot_mm > 0 ? ", slot" : "",
      s.pad.layer_mm > 0 ? ", bonding layer" : "", s.card.finger ? ", finger" : "",
      s.pad.plan_radius_mm > 0 ? ", curved in plan" : "");
}

void print_trial(std::ostream& out, const Trial& trial) {
  out << fmt::format("seed {}: {}\n", trial.scene.seed, scene_words(trial.scene));
  for (const SizeTrial& size : trial.sizes)
    if (size.found)
      out << fmt::format(
          "    {:<19} {:7.3f}, true {:7.3f}: {:+.3f} (u {:.3f}, confidence {:.2f}, {})\n",
          size.name, size.value_mm, size.truth_mm, size.error_mm(), size.standard_uncertainty_mm,
          size.confidence, size.largest_cause);
  for (const EdgeTrial& edge : trial.edges)
    out << fmt::format(
        "    {:<19} {:+.3f} mm from the outer line, {:+.3f} from the inner one, "
        "confidence {:.2f}\n",
        edge.name, edge.from_outer_mm, edge.from_inner_mm, edge.confidence);
  for (const Check& check : trial.checks)
    out << fmt::format("    {}: {}\n", severity_word(check.severity), check.id);
}

}  // namespace

SizeSummary summarise(const std::vector<const Trial*>& trials, const std::string& name) {
  std::vector<const SizeTrial*> sizes;
  for (const Trial* trial : trials)
    if (const SizeTrial* size = size_of(*trial, name)) sizes.push_back(size);
  return summarise(name, sizes);
}

SizeSummary summarise(const std::string& name, const std::vector<const SizeTrial*>& sizes) {
  SizeSummary summary;
  summary.name = name;
  std::vector<double> errors;
  double inside = 0, width = 0, ratio = 0, sum = 0;
  for (const SizeTrial* size : sizes) {
    ++summary.photos;
    if (!size->found) continue;
    ++summary.found;
    const double error = size->error_mm();
    errors.push_back(std::abs(error));
    sum += error;
    inside += std::abs(error) <= size->expanded_95_mm;
    width += size->expanded_95_mm;
    ratio += error * error / (size->standard_uncertainty_mm * size->standard_uncertainty_mm);
  }
  if (summary.found == 0) return summary;
  const double n = summary.found;
  summary.median_error_mm = quantile(errors, 0.5);
  summary.error_95_mm = quantile(errors, 0.95);
  summary.worst_error_mm = quantile(errors, 1);
  summary.mean_error_mm = sum / n;
  summary.inside_95_share = inside / n;
  summary.mean_half_width_mm = width / n;
  summary.rms_error_over_u = std::sqrt(ratio / n);
  return summary;
}

void print_report(std::ostream& out, const std::vector<Trial>& trials, int worst) {
  const auto pick = [&](auto&& wanted) {
    std::vector<const Trial*> picked;
    for (const Trial& trial : trials)
      if (wanted(trial)) picked.push_back(&trial);
    return picked;
  };
  for (const drawn::Difficulty d :
       {drawn::Difficulty::easy, drawn::Difficulty::normal, drawn::Difficulty::hard})
    print_table(out, drawn::difficulty_word(d),
                pick([&](const Trial& t) { return t.scene.difficulty == d; }));
  for (const drawn::PadPose p :
       {drawn::PadPose::friction_up, drawn::PadPose::friction_down, drawn::PadPose::on_end})
    print_table(out, drawn::pose_word(p),
                pick([&](const Trial& t) { return t.scene.pad.pose == p; }));
  print_table(out, "found without asking to confirm an edge",
              pick([](const Trial& t) { return !t.stopped() && !t.flagged(); }));
  print_table(out, "asking to confirm an edge",
              pick([](const Trial& t) { return !t.stopped() && t.flagged(); }));
  print_table(out, "all", pick([](const Trial&) { return true; }));
  out << "every edge placed by a careful user: true line, 1 px noise, snapped\n" << kHead;
  for (std::size_t k = 0; k < std::size(kNames); ++k) {
    std::vector<const SizeTrial*> sizes;
    for (const Trial& trial : trials) sizes.push_back(&trial.confirmed[k]);
    print_row(out, summarise(kNames[k], sizes), 19);
  }
  out << '\n';

  std::map<std::string, int> ids;
  double draw_ms = 0, engine_ms = 0;
  for (const Trial& trial : trials) {
    for (const Check& check : trial.checks)
      ++ids[fmt::format("{} ({})", check.id, severity_word(check.severity))];
    draw_ms += trial.draw_ms;
    engine_ms += trial.engine_ms;
  }
  out << "checks:";
  for (const auto& [id, count] : ids) out << fmt::format(" {} {},", id, count);
  const double n = static_cast<double>(std::max<std::size_t>(1, trials.size()));
  out << fmt::format("\nmean time: {:.0f} ms drawing, {:.0f} ms measuring\n\n", draw_ms / n,
                     engine_ms / n);

  std::vector<const Trial*> order = pick([](const Trial& t) { return worst_of(t) > 0; });
  std::sort(order.begin(), order.end(),
            [](const Trial* a, const Trial* b) { return worst_of(*a) > worst_of(*b); });
  out << "worst photos\n";
  for (std::size_t i = 0; i < order.size() && i < static_cast<std::size_t>(worst); ++i)
    print_trial(out, *order[i]);
  const auto stopped = pick([](const Trial& t) { return t.stopped(); });
  if (!stopped.empty()) out << "\nnot measured\n";
  for (const Trial* trial : stopped) print_trial(out, *trial);
}

Json report_json(const std::vector<Trial>& trials) {
  std::vector<const Trial*> all;
  for (const Trial& trial : trials) all.push_back(&trial);
  Json json{{"photos", trials.size()}, {"sizes", Json::array()}, {"trials", Json::array()}};
  for (const char* name : kNames) {
    const SizeSummary s = summarise(all, name);
    json["sizes"].push_back({{"name", s.name},
                             {"found", s.found},
                             {"median_error_mm", s.median_error_mm},
                             {"error_95_mm", s.error_95_mm},
                             {"worst_error_mm", s.worst_error_mm},
                             {"mean_error_mm", s.mean_error_mm},
                             {"inside_95_share", s.inside_95_share},
                             {"mean_half_width_mm", s.mean_half_width_mm},
                             {"rms_error_over_u", s.rms_error_over_u}});
  }
  for (const Trial& trial : trials) {
    Json one{{"seed", trial.scene.seed},
             {"difficulty", drawn::difficulty_word(trial.scene.difficulty)},
             {"pose", drawn::pose_word(trial.scene.pad.pose)},
             {"sizes", Json::object()},
             {"edges", Json::object()},
             {"checks", Json::array()}};
    for (const SizeTrial& size : trial.sizes) {
      Json entry{{"true_mm", size.truth_mm}, {"value_mm", nullptr}};
      if (size.found) {
        entry["value_mm"] = size.value_mm;
        entry["standard_uncertainty_mm"] = size.standard_uncertainty_mm;
        entry["expanded_95_mm"] = size.expanded_95_mm;
        entry["confidence"] = size.confidence;
      }
      one["sizes"][size.name] = entry;
    }
    for (const EdgeTrial& edge : trial.edges)
      one["edges"][edge.name] = {{"from_outer_mm", edge.from_outer_mm},
                                 {"from_inner_mm", edge.from_inner_mm}};
    for (const Check& check : trial.checks) one["checks"].push_back(check.id);
    json["trials"].push_back(one);
  }
  return json;
}

void print_disc_report(std::ostream& out, const std::vector<DiscTrial>& trials, int worst) {
  if (trials.empty()) return;
  enum class Which { all, sure, confirmed };
  const auto table = [&](const char* title, Which which) {
    out << title << '\n'
        << fmt::format("  {:<31} found  median    95 %   worst  signed  in 95 %  +-95 %  error/u\n",
                       "size");
    for (std::size_t k = 0; k < trials.front().sizes.size(); ++k) {
      std::vector<const SizeTrial*> sizes;
      for (const DiscTrial& trial : trials)
        if (which == Which::confirmed)
          sizes.push_back(&trial.confirmed[k]);
        else if (which == Which::all || !trial.flagged[k])
          sizes.push_back(&trial.sizes[k]);
      print_row(out, summarise(trials.front().sizes[k].name, sizes), 31);
      if (which == Which::sure)
        out << fmt::format("  {:<31} {} of {} photos\n", "", sizes.size(), trials.size());
    }
    out << '\n';
  };
  table("All photos", Which::all);
  table("Those that do not ask for a look at an edge", Which::sure);
  table("Every edge placed by a careful user: true line, 1 px noise, snapped", Which::confirmed);
  std::vector<const DiscTrial*> order;
  for (const DiscTrial& trial : trials) order.push_back(&trial);
  const auto error = [](const DiscTrial* t) {
    double largest = 0;
    for (const SizeTrial& size : t->sizes)
      if (size.found && size.name != "wall_run")
        largest = std::max(largest, std::abs(size.error_mm()));
    return largest;
  };
  std::sort(order.begin(), order.end(),
            [&](const DiscTrial* a, const DiscTrial* b) { return error(a) > error(b); });
  for (std::size_t i = 0; i < order.size() && i < static_cast<std::size_t>(worst); ++i) {
    out << fmt::format("seed {} ({}):", order[i]->seed,
                       drawn::difficulty_word(order[i]->difficulty));
    for (std::size_t k = 0; k < order[i]->sizes.size(); ++k) {
      const SizeTrial& size = order[i]->sizes[k];
      if (size.found)
        out << fmt::format("  {} {:.3f}, true {:.3f} +-{:.3f}, {:.0f} % certain{};", size.name,
                           size.value_mm, size.truth_mm, size.expanded_95_mm, 100 * size.confidence,
                           order[i]->flagged[k] ? ", asks" : "");
    }
    out << '\n';
  }
}

}  // namespace scantling::accuracy
