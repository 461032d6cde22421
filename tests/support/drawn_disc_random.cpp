// Scenes with discs by lot: a phone held before the notch card, or over the track card.

#include <algorithm>

#include "card/card_definition.h"
#include "support/drawn_disc.h"
#include "support/drawn_lots.h"

namespace scantling::drawn {
namespace {

void choose_disc(DrawnDisc& disc, Random& random, Difficulty d) {
  disc.radius_mm = random.between(110, 170);
  disc.vented = random.chance(0.65);
  disc.rim_thickness_mm = disc.vented ? random.between(17, 28) : random.between(8, 15);
  disc.lip_a_mm = random.log_between(0.1, 2);
  disc.lip_b_mm = random.log_between(0.1, 2);
  const double most = 0.35 * disc.rim_thickness_mm;
  if (const double sum = disc.lip_a_mm + disc.lip_b_mm; sum > most) {
    disc.lip_a_mm *= most / sum;
    disc.lip_b_mm *= most / sum;
  }
  disc.lip_width_mm = random.between(1.5, 5);
  disc.lip_rise_mm = random.chance(by(d, 0, 0.15, 0.3)) ? random.between(0, 0.04) : 0;
  disc.wall_run_mm = random.chance(0.2) ? 0 : random.between(0, by(d, 0.15, 0.25, 0.4));
  disc.wall_hollow = random.chance(0.5);
  const double edge = random.log_between(0.2, by(d, 0.8, 1.2, 1.6));
  disc.edge_a_mm = std::min(edge, 0.7 * disc.lip_width_mm);
  disc.edge_b_mm = std::min(edge * random.between(0.8, 1.25), 0.7 * disc.lip_width_mm);
  disc.edge_round = random.chance(0.35);
  disc.track_width_mm = random.between(30, 60);
  disc.bell_mm = random.chance(0.85) ? random.between(22, 42) : 0;
  disc.bell_on_a = random.chance(0.5);
  disc.vent_share = random.between(0.3, 0.45);
  disc.vanes = 24 + random.below(30);
  disc.vane_share = random.between(0.2, 0.45);
  if (random.chance(by(d, 0, 0.2, 0.35))) disc.seam_mm = random.between(0.2, 0.8);
  if (random.chance(by(d, 0, 0.2, 0.35))) disc.band_mm = random.between(0.8, 3);
  disc.finish = static_cast<DiscFinish>(random.below(3));
  disc.rim_albedo = disc.finish == DiscFinish::coated ? random.log_between(0.1, 0.45)
                    : disc.finish == DiscFinish::rust ? random.between(0.08, 0.2)
                                                      : random.between(0.25, 0.45);
  disc.lip_albedo =
      disc.finish == DiscFinish::bare ? random.between(0.2, 0.4) : random.log_between(0.07, 0.22);
  disc.track_albedo = random.between(0.28, 0.5);
  disc.wall_albedo = random.log_between(0.08, 0.4);
  disc.texture = random.between(0.08, by(d, 0.18, 0.26, 0.36));
  disc.grooves = random.between(0.03, by(d, 0.08, 0.14, 0.22));
  disc.shine = random.between(0, by(d, 0.25, 0.5, 0.9));
  disc.dirt = random.between(0, by(d, 0.1, 0.25, 0.5));
  if (random.chance(by(d, 0, 0.2, 0.4)))
    disc.rust_edge_mm = random.log_between(0.3, by(d, 1, 1.5, 2.5));
}

void choose_light(DrawnPlace& place, Random& random, Difficulty d, bool lip) {
  choose_place(place, random, d);
  if (lip && random.chance(by(d, 0.1, 0.3, 0.45)))  // from beyond the rim: the lip throws shade
    place.sun_azimuth_deg = 180 + random.between(-70, 70);
  place.wall_mm += lip ? 150 : 2 * 170;  // behind the whole disc
}

DrawnDiscScene start(std::uint32_t seed, Difficulty difficulty, DiscView view) {
  DrawnDiscScene scene;
  scene.seed = seed;
  scene.difficulty = difficulty;
  scene.view = view;
  return scene;
}

double least_elevation(const DrawnCamera& camera, double wanted_deg, double module_px) {
  // A marker's module is 0.625 mm; lying flat it shows foreshortened.
  const double upright = 0.625 * camera.focal_px / camera.distance_mm;
  return std::max(wanted_deg,
                  std::asin(std::min(0.9, module_px / upright)) * 180 / std::numbers::pi);
}

}  // namespace

DrawnDiscScene random_rim_scene(std::uint32_t seed, double megapixels, Difficulty d) {
  DrawnDiscScene scene = start(seed, d, DiscView::rim);
  Random random(seed * 6007ull + 41);
  choose_picture(scene.camera, random, megapixels);
  choose_camera(scene.camera, random, d);
  choose_card(scene.card, scene.declared, random, d);
  choose_disc(scene.disc, random, d);
  choose_light(scene.place, random, d, false);
  scene.camera.elevation_deg = random.between(by(d, -4, -8, -12), by(d, 6, 10, 12));
  DrawnDisc& disc = scene.disc;
  disc.offset_mm = random.between(0, by(d, 0.4, 0.8, 1.5));
  scene.declared.offset_mm = 0;
  scene.declared.offset_u = by(d, 0.2, 0.3, 0.6);
  disc.shift_mm = clamped_normal(random, by(d, 0.8, 1.5, 3));
  disc.roll_deg = clamped_normal(random, by(d, 0.3, 0.7, 1.2));
  disc.tilt_deg = clamped_normal(random, by(d, 0.15, 0.4, 0.7));
  const double half = disc.rim_thickness_mm / 2;
  disc.middle_mm = random.between(36 + half, 74 - half);
  // No part of the disc may come through the card where the notch ends.
  const double aside = 32 - std::abs(disc.shift_mm);
  const double behind = disc.offset_mm + aside * aside / (2 * disc.radius_mm);
  scene.card.bend_mm = std::min(scene.card.bend_mm, 0.5 * behind);
  scene.card.lean_deg = std::min(scene.card.lean_deg, 1.5);
  // It lies on its bell or on blocks; a low camera looks past the bench's front edge.
  scene.ground_mm = std::max(78.0, disc.middle_mm + half + (disc.bell_on_a ? 1 : disc.bell_mm + 1));
  const double height = scene.ground_mm - Camera(scene.camera).position().y;
  if (height < 15) scene.place.table_front_mm = -random.between(3, 20);
  return scene;
}

std::vector<DrawnDiscScene> random_lip_scenes(std::uint32_t seed, double megapixels, Difficulty d,
                                              int photos) {
  DrawnDiscScene scene = start(seed, d, DiscView::lip);
  Random random(seed * 5003ull + 43);
  DrawnCamera& camera = scene.camera;
  choose_picture(camera, random, megapixels);
  choose_camera(camera, random, d);
  choose_card(scene.card, scene.declared, random, d);
  choose_disc(scene.disc, random, d);
  choose_light(scene.place, random, d, true);
  scene.card.finger.reset();
  scene.card.bend_mm = -std::abs(scene.card.bend_mm) * 0.15;
  scene.card.lean_deg = 0.1 * std::abs(scene.card.lean_deg);
  DrawnDisc& disc = scene.disc;
  disc.card_gap_mm = random.between(1, by(d, 6, 10, 14));
  disc.card_yaw_deg = clamped_normal(random, by(d, 1, 3, 6));
  disc.card_aside_mm = clamped_normal(random, by(d, 1, 3, 6));
  disc.card_lift_mm = std::abs(clamped_normal(random, by(d, 0.003, 0.01, 0.03)));
  disc.track_width_mm = random.between(40, 60);
  const double track = disc.rim_thickness_mm / 2 - disc.lip_rise_mm - disc.lip_a_mm;
  const double under = disc.bell_on_a ? 0 : disc.bell_mm;  // face b lies on the ground
  scene.ground_mm = track + disc.rim_thickness_mm / 2 + under + random.between(0, 60);
  scene.place.table_front_mm = -1000;

  std::vector<DrawnDiscScene> scenes;
  const double wanted = random.between(16, 32);
  double last_elevation = 0;
  for (int shot = 0; shot < photos; ++shot) {
    DrawnDiscScene one = scene;
    one.shot = shot;
    DrawnCamera& c = one.camera;
    const double module_px = by(d, 4.2, 3.6, 3.2);
    const double most = 0.625 * c.focal_px * std::sin(radians(24)) / module_px;
    const double nearest_mm = std::max(130.0, c.focal_px * 54 / c.width_px);  // card fills it
    c.distance_mm = random.log_between(nearest_mm, std::clamp(most, nearest_mm + 10, 320.0));
    const double step = shot == 0 ? 0 : random.between(11, 15);
    const double least = least_elevation(c, wanted, module_px);
    last_elevation = shot == 0 ? std::min(least, 42.0) : std::max(least, last_elevation + step);
    c.elevation_deg = last_elevation;
    c.azimuth_deg = std::clamp(random.between(-1, 1) * by(d, 10, 18, 25), -25.0, 25.0);
    c.roll_deg = clamped_normal(random, by(d, 2, 4, 6));
    c.target = {clamped_normal(random, 2), random.between(0, 3)};
    if (random.chance(0.3)) c.paper_level *= random.between(0.8, 1.1);
    // The bell may not stand between the camera and the card.
    const double e = radians(c.elevation_deg);
    const double over_bell =
        (disc.wall_foot_radius_mm() - 74 - 33 - disc.card_gap_mm) * std::tan(e);
    if (disc.bell_on_a && shot == 0)
      scene.disc.bell_mm = one.disc.bell_mm =
          std::clamp(over_bell, 2.0, std::max(2.0, disc.bell_mm));
    scenes.push_back(one);
  }
  return scenes;
}

}  // namespace scantling::drawn
