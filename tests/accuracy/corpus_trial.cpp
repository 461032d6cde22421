#include "accuracy/corpus_trial.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "accuracy/careful_user.h"
#include "dimension/lip_sizes.h"
#include "verdict/verdict.h"

namespace scantling::accuracy {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::json;
using Clock = std::chrono::steady_clock;

Json read_json(const fs::path& file) {
  std::ifstream stream(file);
  if (!stream) throw std::runtime_error("cannot read " + file.string());
  return Json::parse(stream);
}

std::vector<Point_px> line_of(const Json& points) {
  std::vector<Point_px> line;
  for (const Json& point : points) line.push_back({point[0], point[1]});
  return line;
}

/// The lines that the sizes are taken between, as in the drawn photos' truth: where the flat face
/// begins; the friction material's foot; a lip's foot and top.
std::vector<drawn::TrueEdge> true_edges(const Json& truth) {
  std::vector<drawn::TrueEdge> edges;
  for (const auto& [name, lines] : truth.at("edges_px").items()) {
    const char* wanted = lines.contains("friction_foot") ? "friction_foot"
                         : lines.contains("flat_begins") ? "flat_begins"
                                                         : "nominal";
    edges.push_back({name, line_of(lines.at(wanted)), {}});
  }
  return edges;
}

struct CorpusPhoto {
  std::string name;
  Json truth;
  Analysis analysis;
  double ms = 0;
};

constexpr double kJustBelow_mm = 0.01;

SizeTrial compare(const char* name, double truth_mm, const Measurement& measurement) {
  SizeTrial size;
  size.name = name;
  size.truth_mm = truth_mm;
  const Dimension* found = measurement.usable() ? measurement.dimension(name) : nullptr;
  if (!found) return size;
  size.found = true;
  size.value_mm = found->quantity.value_mm;
  size.standard_uncertainty_mm = found->quantity.standard_uncertainty_mm;
  size.expanded_95_mm = found->quantity.expanded_95_mm();
  size.confidence = found->confidence;
  if (!found->quantity.budget.empty()) size.largest_cause = found->quantity.budget.front().source;
  return size;
}

CorpusSize compare(const char* name, double truth_mm, const Measurement& found,
                   const Measurement& confirmed, const Measurement& exact, double px_per_mm) {
  CorpusSize size;
  size.found = compare(name, truth_mm, found);
  size.confirmed = compare(name, truth_mm, confirmed);
  size.on_true_lines = compare(name, truth_mm, exact);
  size.px_per_mm = px_per_mm;
  if (!size.found.found) return size;
  size.asks = size.found.confidence < kConfirmBelow;
  if (size.asks) return size;
  const auto verdict = judge(found.dimension(name)->quantity, {}, truth_mm + kJustBelow_mm);
  size.kept_just_below = verdict && verdict->state == VerdictState::keep;
  return size;
}

double px_per_mm_of(const Measurement& measurement) {
  return measurement.card ? measurement.card->px_per_mm : 0;
}

unsigned seed_of(const std::string& name) {
  unsigned seed = 1;
  for (const char c : name) seed = seed * 31 + static_cast<unsigned char>(c);
  return seed;
}

/// The fitted step's own uncertainty is the Cramer-Rao bound of its place (least squares under
/// Gaussian noise; S. M. Kay, Estimation Theory, 1993, section 3.5, from memory), at the noise that
/// the light across the edge has.
void add_placings(const Analysis& photo, const std::vector<drawn::TrueEdge>& truth,
                  std::vector<CorpusPlacing>& placings) {
  for (const drawn::TrueEdge& edge : truth) {
    const MeasuredEdge* found = photo.measurement().edge(edge.name);
    if (!found) continue;
    const auto off_px = off_line_px(*found, edge.outer);
    if (!off_px) continue;
    const auto light = photo.light_across({found->points_px.front(), found->points_px.back()});
    if (!light || !light->profile.fitted) continue;
    placings.push_back({edge.name, *off_px, light->profile.place_u_px, light->profile.blur_px,
                        px_per_mm_of(photo.measurement())});
  }
}

/// Refused for what is wrong with the photo. A part that was not found in a good photo is a miss.
bool refused(const std::vector<Check>& checks) {
  return std::any_of(checks.begin(), checks.end(), [](const Check& check) {
    return check.severity == Severity::stop && check.id != "edges_not_found";
  });
}

CorpusTrial single(const CorpusPhoto& photo) {
  const Measurement& found = photo.analysis.measurement();
  std::vector<drawn::TrueEdge> truth = true_edges(photo.truth);
  if (found.view == View::rim) name_faces_alike(found, truth);
  const Measurement confirmed = CarefulUser(seed_of(photo.name)).measures(photo.analysis, truth);
  const Measurement exact = on_true_lines(photo.analysis, truth);
  CorpusTrial trial;
  trial.name = photo.name;
  trial.view = found.view;
  trial.checks = found.checks;
  trial.stopped = refused(found.checks);
  trial.photo_ms = {photo.ms};
  add_placings(photo.analysis, truth, trial.placings);
  const auto add = [&](const char* name, double truth_mm) {
    trial.sizes.push_back(compare(name, truth_mm, found, confirmed, exact, px_per_mm_of(found)));
  };
  if (found.view == View::rim) {
    add("rim_thickness", photo.truth.at("rim_thickness_mm"));
  } else {
    add("friction_thickness", photo.truth.at("friction_thickness_mm"));
    add("plate_thickness", photo.truth.at("plate_thickness_mm"));
    add("overall_thickness", photo.truth.at("overall_thickness_mm"));
  }
  return trial;
}

CorpusTrial lip(const std::vector<CorpusPhoto>& photos) {
  CorpusTrial trial;
  trial.name = photos.front().name;
  trial.view = View::lip;
  std::vector<Analysis> analyses;
  for (const CorpusPhoto& photo : photos) {
    analyses.push_back(photo.analysis);
    trial.photo_ms.push_back(photo.ms);
  }
  analyses = Analysis::agreed_on_lip(std::move(analyses));
  std::vector<Measurement> found, placed, exact;
  CarefulUser user(seed_of(trial.name));
  for (std::size_t i = 0; i < photos.size(); ++i) {
    found.push_back(analyses[i].measurement());
    const std::vector<drawn::TrueEdge> truth = true_edges(photos[i].truth);
    placed.push_back(user.measures(analyses[i], truth));
    exact.push_back(on_true_lines(analyses[i], truth));
    add_placings(analyses[i], truth, trial.placings);
  }
  const Measurement joint = solve_lip_together(found);
  trial.checks = joint.checks;
  trial.stopped = refused(joint.checks);
  trial.sizes.push_back(compare("lip_height", photos.front().truth.at("lip_height_mm"), joint,
                                solve_lip_together(placed), solve_lip_together(exact),
                                px_per_mm_of(found.front())));
  return trial;
}

}  // namespace

MeasureOptions entered_options(const fs::path& entries, const std::string& name, View view) {
  const Json all = read_json(entries);
  if (!all.contains(name)) throw std::runtime_error("no entry for " + name);
  const Json& entry = all.at(name);
  MeasureOptions options;
  options.view = view;
  const Json& scale = entry.at("sheet_scale");
  options.sheet_scale = {scale[0], scale[1], scale[2], true};
  if (entry.contains("offset_mm"))
    options.part_offset = {entry["offset_mm"][0], entry["offset_mm"][1]};
  if (entry.contains("disc_diameter_mm")) options.disc_diameter_mm = entry["disc_diameter_mm"];
  return options;
}

std::vector<CorpusTrial> run_corpus(const fs::path& folder, const fs::path& entries) {
  std::vector<fs::path> files;
  for (const auto& file : fs::directory_iterator(folder))
    if (file.path().extension() == ".jpg" && fs::exists(fs::path(file).replace_extension(".json")))
      files.push_back(file.path());
  if (files.empty()) throw std::runtime_error("no photos with their truth in " + folder.string());
  std::sort(files.begin(), files.end());
  std::vector<CorpusTrial> trials;
  std::map<std::string, std::vector<CorpusPhoto>> lips;
  for (const fs::path& file : files) {
    CorpusPhoto photo;
    photo.name = file.stem().string();
    photo.truth = read_json(fs::path(file).replace_extension(".json"));
    const View view = view_from_word(photo.truth.at("view").get<std::string>()).value();
    const MeasureOptions options = entered_options(entries, photo.name, view);
    const auto start = Clock::now();
    photo.analysis = Analysis::run(file, options);
    photo.ms = std::chrono::duration<double, std::milli>(Clock::now() - start).count();
    if (view == View::lip)
      lips[photo.name.substr(0, photo.name.rfind('_'))].push_back(std::move(photo));
    else
      trials.push_back(single(photo));
  }
  for (const auto& [name, photos] : lips)
    if (photos.size() > 1) trials.push_back(lip(photos));
  return trials;
}

}  // namespace scantling::accuracy
