#include "accuracy/disc_trial.h"

#include <fmt/format.h>

#include <algorithm>

#include "accuracy/careful_user.h"
#include "dimension/lip_sizes.h"
#include "support/drawn_disc_truth.h"

namespace scantling::accuracy {
namespace {

using drawn::Difficulty;

/// As the pads' scenes: a third each.
Difficulty difficulty_of(unsigned seed, std::optional<Difficulty> wanted) {
  constexpr Difficulty kAll[] = {Difficulty::easy, Difficulty::normal, Difficulty::hard};
  return wanted ? *wanted : kAll[seed % 3];
}

MeasureOptions options_for(const drawn::DrawnDiscScene& scene, View view) {
  MeasureOptions options;
  options.view = view;
  options.sheet_scale = {scene.declared.scale_x, scene.declared.scale_y, scene.declared.scale_u,
                         true};
  options.part_offset = {scene.declared.offset_mm, scene.declared.offset_u};
  return options;
}

PhotoLoad photo_of(const drawn::DrawnDiscScene& scene, const DiscTrial& trial, std::size_t number,
                   const Drawings& drawings) {
  PhotoLoad load;
  load.photo = drawings.photo(
      fmt::format("{} {} {} {}x{} {}", trial.view == drawn::DiscView::rim ? "rim" : "lip",
                  trial.seed, drawn::difficulty_word(trial.difficulty), scene.camera.width_px,
                  scene.camera.height_px, number),
      scene.camera, [&] { return drawn::draw(scene); });
  return load;
}

SizeTrial size_of(const char* name, const char* dimension, double truth_mm,
                  const Measurement& measurement) {
  SizeTrial size;
  size.name = name;
  size.truth_mm = truth_mm;
  const Dimension* found = measurement.usable() ? measurement.dimension(dimension) : nullptr;
  if (found) {
    size.found = true;
    size.value_mm = found->quantity.value_mm;
    size.standard_uncertainty_mm = found->quantity.standard_uncertainty_mm;
    size.expanded_95_mm = found->quantity.expanded_95_mm();
    size.confidence = found->confidence;
    if (!found->quantity.budget.empty()) size.largest_cause = found->quantity.budget[0].source;
  }
  return size;
}

void add(DiscTrial& trial, const char* name, const char* dimension, double truth_mm,
         const Measurement& found, const Measurement& confirmed) {
  trial.sizes.push_back(size_of(name, dimension, truth_mm, found));
  trial.flagged.push_back(trial.sizes.back().found &&
                          trial.sizes.back().confidence < kConfirmBelow);
  trial.confirmed.push_back(size_of(name, dimension, truth_mm, confirmed));
}

}  // namespace

DiscTrial run_rim_trial(unsigned seed, double megapixels, std::optional<Difficulty> wanted,
                        const Drawings& drawings) {
  DiscTrial trial;
  trial.seed = seed;
  trial.difficulty = difficulty_of(seed, wanted);
  const drawn::DrawnDiscScene scene = drawn::random_rim_scene(seed, megapixels, trial.difficulty);
  trial.disc = scene.disc;
  const PhotoLoad photo = photo_of(scene, trial, 1, drawings);
  MeasureOptions options = options_for(scene, View::rim);
  const std::vector<drawn::TrueEdge> truth = drawn::true_edges(scene);
  const double rim = scene.disc.rim_thickness_mm;
  CarefulUser user(seed);
  const Analysis plain = Analysis::run(photo, options);
  options.disc_diameter_mm = 2 * scene.disc.radius_mm;
  const Analysis told = Analysis::run(photo, options);
  const auto placed = [&](const Analysis& found) {
    std::vector<drawn::TrueEdge> edges = truth;
    name_faces_alike(found.measurement(), edges);
    return user.measures(found, edges);
  };
  add(trial, "rim_thickness", "rim_thickness", rim, plain.measurement(), placed(plain));
  add(trial, "rim_thickness, diameter given", "rim_thickness", rim, told.measurement(),
      placed(told));
  trial.checks = plain.measurement().checks;
  return trial;
}

DiscTrial run_lip_trial(unsigned seed, double megapixels, std::optional<Difficulty> wanted,
                        const Drawings& drawings) {
  DiscTrial trial;
  trial.seed = seed;
  trial.view = drawn::DiscView::lip;
  trial.difficulty = difficulty_of(seed, wanted);
  const std::vector<drawn::DrawnDiscScene> scenes =
      drawn::random_lip_scenes(seed, megapixels, trial.difficulty, 2);
  std::vector<Analysis> photos;
  for (const drawn::DrawnDiscScene& scene : scenes)
    photos.push_back(Analysis::run(photo_of(scene, trial, photos.size() + 1, drawings),
                                   options_for(scene, View::lip)));
  trial.disc = scenes[0].disc;
  const double height = scenes[0].disc.lip_a_mm, run = scenes[0].disc.wall_run_mm;
  CarefulUser user(seed);
  add(trial, "lip_height, one photo", "lip_height", height, photos[0].measurement(),
      user.measures(photos[0], drawn::true_edges(scenes[0])));
  photos = Analysis::agreed_on_lip(std::move(photos));
  std::vector<Measurement> each, placed;
  for (std::size_t i = 0; i < photos.size(); ++i) {
    each.push_back(photos[i].measurement());
    placed.push_back(user.measures(photos[i], drawn::true_edges(scenes[i])));
  }
  const Measurement joint = solve_lip_together(each), confirmed = solve_lip_together(placed);
  add(trial, "lip_height, two photos", "lip_height", height, joint, confirmed);
  add(trial, "wall_run", "wall_run", run, joint, confirmed);
  trial.checks = joint.checks;
  return trial;
}

}  // namespace scantling::accuracy
