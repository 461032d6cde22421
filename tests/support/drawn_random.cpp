// Scenes by lot. Ranges follow what an owner's photos look like: a phone held in front of the card.

#include <algorithm>

#include "card/card_definition.h"
#include "support/drawn_lots.h"

namespace scantling::drawn {

double by(Difficulty difficulty, double easy, double normal, double hard) {
  return difficulty == Difficulty::easy ? easy : difficulty == Difficulty::normal ? normal : hard;
}

double clamped_normal(Random& random, double sigma) {
  return std::clamp(random.normal(), -2.5, 2.5) * sigma;
}

void choose_picture(DrawnCamera& camera, Random& random, double megapixels) {
  const int long_side = 16 * static_cast<int>(std::lround(std::sqrt(megapixels * 4e6 / 3) / 16));
  const int short_side = long_side * 3 / 4;
  const double lot = random.uniform();
  const bool portrait = lot < 0.2;
  camera.width_px = portrait ? short_side : long_side;
  camera.height_px = portrait ? long_side : short_side;
  camera.exif_orientation = portrait ? (lot < 0.14 ? 6 : 8) : (lot > 0.94 ? 3 : 1);
  camera.focal_px = random.between(2400, 4200) * long_side / 4000.0;
  camera.centre_dx_px = clamped_normal(random, 0.003) * long_side;
  camera.centre_dy_px = clamped_normal(random, 0.003) * long_side;
}

void choose_camera(DrawnCamera& camera, Random& random, Difficulty d) {
  camera.k1 = clamped_normal(random, by(d, 0.01, 0.02, 0.04));
  camera.k2 = -0.6 * camera.k1 * random.uniform();
  const double fill = random.between(by(d, 0.62, 0.52, 0.45), by(d, 0.85, 0.88, 0.9));
  camera.distance_mm = std::clamp(140 * camera.focal_px / (fill * camera.width_px), 200.0, 450.0);
  camera.elevation_deg = random.between(by(d, 0.5, -2, -4), by(d, 10, 14, 20));
  camera.azimuth_deg = clamped_normal(random, by(d, 1.5, 3.5, 6));
  camera.roll_deg = clamped_normal(random, by(d, 1, 2, 3.2));
  camera.target = {64 + clamped_normal(random, 4), 42 + clamped_normal(random, 5)};
  camera.blur_px = random.log_between(0.5, by(d, 0.9, 1.2, 1.6));
  camera.vignetting = random.between(0, 0.3);
  camera.paper_level = random.between(by(d, 0.5, 0.4, 0.25), by(d, 0.75, 0.82, 0.9));
  camera.shot_electrons = random.log_between(by(d, 5000, 2500, 900), by(d, 12000, 10000, 6000));
  camera.read_noise = random.log_between(0.0006, by(d, 0.0015, 0.003, 0.005));
  if (random.chance(0.4)) camera.sharpen = random.between(0.1, by(d, 0.3, 0.5, 0.8));
  camera.tone = random.between(0, by(d, 0, 0.08, 0.16));
  camera.jpeg_quality = static_cast<int>(random.between(by(d, 92, 88, 82), 96));
  camera.f35_factor = 1 + clamped_normal(random, 0.02);
}

void choose_card(DrawnCard& card, DrawnDeclared& declared, Random& random, Difficulty d) {
  card.scale_x = 1 + clamped_normal(random, 0.008);
  card.scale_y = card.scale_x + clamped_normal(random, 0.003);
  card.bend_mm = clamped_normal(random, by(d, 0.05, 0.2, 0.6));
  card.lean_deg = clamped_normal(random, by(d, 0.2, 0.6, 1.2));
  card.ink = random.between(0.03, 0.08);
  card.paper = random.between(0.75, 0.9);
  // Most sheets were measured; the others carry the large uncertainty of any print.
  if (random.chance(by(d, 1, 0.85, 0.7))) {
    declared.scale_u = random.between(0.001, 0.003);
    declared.scale_x = card.scale_x + clamped_normal(random, declared.scale_u);
    declared.scale_y = card.scale_y + clamped_normal(random, declared.scale_u);
  } else {
    declared.scale_u = 0.010;
  }
  if (random.chance(by(d, 0, 0.12, 0.3))) {
    const bool left = random.chance(0.5);
    const double x = left ? random.between(-2, 12) : random.between(116, 130);
    const double y = random.between(2, 60);
    card.finger = DrawnFinger{
        {x, y}, {left ? -90.0 : 220.0, y + random.between(10, 60)}, random.between(7, 10)};
  }
}

void choose_place(DrawnPlace& place, Random& random, Difficulty d) {
  place.table = static_cast<Table>(random.below(4));
  switch (place.table) {
    case Table::wood:
      place.table_albedo = random.between(0.2, 0.5);
      break;
    case Table::paper:
      place.table_albedo = random.between(0.65, 0.85);
      break;
    case Table::concrete:
      place.table_albedo = random.between(0.2, 0.4);
      break;
    case Table::rubber:
      place.table_albedo = random.between(by(d, 0.06, 0.04, 0.03), 0.09);
      break;
  }
  place.wall_mm = random.between(110, 600);
  place.wall_albedo = random.log_between(0.06, 0.8);
  place.clutter = random.between(0, by(d, 0.2, 0.35, 0.5));
  place.sun_azimuth_deg = random.between(-70, 70);
  place.sun_elevation_deg = random.between(20, 75);
  if (random.chance(by(d, 0, 0.05, 0.15))) place.sun_azimuth_deg += 180;
  place.sun_radius_deg = random.chance(0.3) ? 0.27 : random.log_between(1, 20);
  place.sun_share = random.between(0.15, by(d, 0.6, 0.75, 0.85));
  place.warmth = random.between(-1, 1);
}

namespace {

void choose_pad(DrawnScene& scene, Random& random, Difficulty d) {
  DrawnPad& pad = scene.pad;
  const double lot = random.uniform();
  const double up = by(d, 0.85, 0.72, 0.6);
  pad.pose = lot < up                  ? PadPose::friction_up
             : lot < up + (1 - up) / 2 ? PadPose::friction_down
                                       : PadPose::on_end;
  pad.plate_mm = random.between(4.2, 6.6);
  pad.friction_mm = random.log_between(1.4, 12);
  pad.taper_per_mm = clamped_normal(random, by(d, 0.002, 0.005, 0.01));
  const bool within = random.chance(0.7);
  pad.length_mm = within ? random.between(52, 62) : random.between(90, 130);
  // A pad longer than the notch stands behind the card, so behind its thickness too.
  const double least = within && pad.pose != PadPose::on_end ? 0 : notch_card().thickness_mm;
  pad.offset_mm = least + std::abs(clamped_normal(random, by(d, 0.1, 0.25, 0.5)));
  scene.declared.offset_mm = least;
  scene.declared.offset_u = 0.3;
  if (d == Difficulty::hard && random.chance(0.4)) {
    pad.offset_mm = random.between(least, 1.5);
    scene.declared.offset_mm = std::max(0.0, pad.offset_mm + clamped_normal(random, 0.15));
    scene.declared.offset_u = 0.15;
  }
  if (pad.pose == PadPose::friction_up) {
    pad.yaw_deg = clamped_normal(random, by(d, 0.1, 0.3, 0.7));
    if (random.chance(by(d, 0, 0.1, 0.2))) pad.plan_radius_mm = random.log_between(400, 2500);
  }
  pad.shift_mm = within ? clamped_normal(random, 0.8) : clamped_normal(random, 5);
  // On end it stands on the table, 23 mm below the notch's middle.
  if (pad.pose == PadPose::on_end) pad.shift_mm = 23 - pad.length_mm / 2;
  pad.depth_mm = random.between(35, 60);
  pad.place_mm = clamped_normal(random, 4);
  if (least > 0) {
    // The card stands in front of such a pad, and nowhere inside it.
    const double tall = pad.pose == PadPose::on_end ? 46 : pad.plate_mm + pad.friction_mm;
    const double most = std::atan(pad.offset_mm / tall) * 180 / std::numbers::pi;
    scene.card.lean_deg = std::min(scene.card.lean_deg, most);
    if (pad.pose != PadPose::on_end) scene.card.bend_mm = -std::abs(scene.card.bend_mm);
  }
  pad.plate_edge_mm = random.log_between(0.2, by(d, 0.5, 0.8, 1.0));
  pad.plate_edge_round = random.chance(0.7);
  pad.setback_mm = random.between(by(d, 0.3, 0, 0), by(d, 1.5, 2, 2.5));
  pad.friction_edge_mm = random.log_between(0.1, by(d, 0.35, 0.6, 1.0));
  pad.friction_edge_round = random.chance(0.5);
  pad.end_gap_mm = random.between(0, 4);
  pad.end_chamfer_mm = random.chance(0.3) ? random.between(1, 3) : 0;
  if (random.chance(by(d, 0, 0.12, 0.2))) pad.slot_mm = random.between(1.5, 3.5);
  pad.waviness_mm = random.between(0, by(d, 0.01, 0.03, 0.08));
  pad.chips_mm = random.between(0, by(d, 0.03, 0.08, 0.15));
  if (pad.friction_mm > 4 && random.chance(by(d, 0, 0.15, 0.3)))
    pad.layer_mm = random.between(1, 2.5);
  pad.finish = static_cast<PlateFinish>(random.below(3));
  pad.plate_albedo = pad.finish == PlateFinish::paint  ? random.log_between(0.03, 0.25)
                     : pad.finish == PlateFinish::rust ? random.between(0.09, 0.2)
                                                       : random.between(0.25, 0.45);
  pad.friction_albedo = random.log_between(0.08, 0.28);
  pad.texture = random.between(0.08, by(d, 0.16, 0.22, 0.30));
  pad.top_step =
      random.between(by(d, 14, 10, 8), by(d, 50, 40, 30)) * (random.chance(0.75) ? 1 : -1);
}

}  // namespace

DrawnScene random_scene(std::uint32_t seed, double megapixels, Difficulty difficulty) {
  DrawnScene scene;
  scene.seed = seed;
  scene.difficulty = difficulty;
  Random random(seed * 7919ull + 17);
  choose_picture(scene.camera, random, megapixels);
  choose_camera(scene.camera, random, difficulty);
  choose_card(scene.card, scene.declared, random, difficulty);
  choose_pad(scene, random, difficulty);
  choose_place(scene.place, random, difficulty);
  // A camera held lower than the table looks over its front edge.
  const DrawnCamera& camera = scene.camera;
  const double height =
      78 - camera.target.y + camera.distance_mm * std::sin(radians(camera.elevation_deg));
  if (height < 12) scene.place.table_front_mm = -random.between(3, 20);
  return scene;
}

Difficulty random_difficulty(std::uint32_t seed) {
  Random random(seed * 104729ull + 29);
  const double lot = random.uniform();
  return lot < 0.35 ? Difficulty::easy : lot < 0.80 ? Difficulty::normal : Difficulty::hard;
}

DrawnScene random_scene(std::uint32_t seed, double megapixels) {
  return random_scene(seed, megapixels, random_difficulty(seed));
}

const char* difficulty_word(Difficulty difficulty) {
  switch (difficulty) {
    case Difficulty::easy:
      return "easy";
    case Difficulty::normal:
      return "normal";
    case Difficulty::hard:
      break;
  }
  return "hard";
}

const char* pose_word(PadPose pose) {
  switch (pose) {
    case PadPose::friction_up:
      return "friction up";
    case PadPose::friction_down:
      return "friction down";
    case PadPose::on_end:
      break;
  }
  return "on end";
}

}  // namespace scantling::drawn
