#include "support/bad_photos.h"

#include <opencv2/imgproc.hpp>

#include "support/drawn_disc.h"
#include "support/drawn_file.h"
#include "support/drawn_scene.h"

namespace scantling::test {
namespace {

using drawn::DrawnDiscScene;
using drawn::DrawnScene;

/// A pad's photo that nothing is wrong with, at about 8 px/mm.
DrawnScene pad_scene() {
  DrawnScene scene;
  scene.camera.width_px = 1320;
  scene.camera.height_px = 900;
  scene.camera.focal_px = 2400;
  scene.camera.elevation_deg = 4;
  scene.pad.top_step = 35;
  scene.pad.texture = 0.1;
  scene.place.sun_share = 0.4;
  return scene;
}

DrawnDiscScene rim_scene() {
  DrawnDiscScene scene = drawn::random_rim_scene(2, 1.6, drawn::Difficulty::easy);
  scene.camera.exif_orientation = 1;
  return scene;
}

DrawnDiscScene lip_scene() {
  DrawnDiscScene scene = drawn::random_lip_scenes(3, 1.6, drawn::Difficulty::easy, 1)[0];
  drawn::DrawnCamera& camera = scene.camera;
  camera.width_px = 1500;
  camera.height_px = 1000;
  camera.focal_px = 2400;
  camera.exif_orientation = 1;
  camera.centre_dx_px = camera.centre_dy_px = 0;
  camera.azimuth_deg = camera.roll_deg = 0;
  camera.elevation_deg = 30;
  camera.distance_mm = 190;
  camera.blur_px = 0.6;
  scene.disc.lip_a_mm = 1.0;
  return scene;
}

using Spoil = std::function<void(cv::Mat&)>;  ///< the picture itself, RGB

template <class Scene>
std::function<std::vector<unsigned char>()> shot(Scene (*base)(),
                                                 std::function<void(Scene&)> change,
                                                 Spoil spoil = {}) {
  return [=] {
    Scene scene = base();
    change(scene);
    cv::Mat picture = drawn::draw(scene);
    if (spoil) spoil(picture);
    return drawn::jpeg_file(scene.camera, picture);
  };
}

auto pad(std::function<void(DrawnScene&)> change, Spoil spoil = {}) {
  return shot<DrawnScene>(pad_scene, std::move(change), std::move(spoil));
}
auto rim(std::function<void(DrawnDiscScene&)> change, Spoil spoil = {}) {
  return shot<DrawnDiscScene>(rim_scene, std::move(change), std::move(spoil));
}
auto lip(std::function<void(DrawnDiscScene&)> change, Spoil spoil = {}) {
  return shot<DrawnDiscScene>(lip_scene, std::move(change), std::move(spoil));
}

constexpr auto kAsItIs = [](auto&) {};

/// The hand moved while the shutter was open, mostly downwards.
Spoil moved(int length_px) {
  return [=](cv::Mat& picture) {
    cv::Mat1f path(length_px, length_px, 0.0F);
    cv::line(path, {length_px / 3, 0}, {length_px / 2, length_px - 1}, 1);
    path /= cv::sum(path)[0];
    cv::filter2D(picture, picture, -1, path);
  };
}

/// The picture shows nothing but this.
std::function<std::vector<unsigned char>()> picture(std::function<void(cv::Mat&)> paint) {
  return [=] {
    cv::Mat rgb(900, 1320, CV_8UC3, cv::Scalar(0, 0, 0));
    paint(rgb);
    return drawn::jpeg_file(pad_scene().camera, rgb);
  };
}

void chessboard(cv::Mat& rgb) {
  rgb = cv::Scalar(230, 230, 230);
  for (int y = 0; y < 9; ++y)
    for (int x = y % 2; x < 15; x += 2)
      cv::rectangle(rgb, {100 + 70 * x, 100 + 70 * y, 70, 70}, {20, 20, 20}, cv::FILLED);
}

void grain(cv::Mat& rgb) {
  cv::RNG random(7);
  random.fill(rgb, cv::RNG::UNIFORM, 0, 255);
}

void oily_smear(cv::Mat& rgb) {
  cv::GaussianBlur(rgb, rgb, {}, 7);
}

/// A work light mirrored in the pad: white from edge to edge of the notch.
void glare_on_the_part(cv::Mat& rgb) {
  cv::rectangle(
      rgb, {rgb.cols * 24 / 100, rgb.rows * 45 / 100, rgb.cols * 52 / 100, rgb.rows * 55 / 100},
      {255, 255, 255}, cv::FILLED);
}

std::vector<BadPhoto> all() {
  return {
      {"no_card", "pad", "card_missing", "card", pad([](auto& s) { s.card.present = false; })},
      {"mirrored", "pad", "photo_mirrored", "mirror",
       pad([](auto& s) { s.camera.mirrored = true; })},
      {"two_cards", "pad", "card_twice", "Leave only one", pad([](auto& s) {
         s.card.second = true;
         s.camera.target = {139, 45};
         s.camera.distance_mm = 480;
         s.camera.width_px = 1600;
       })},
      {"card_cut_off", "pad", "card_too_few_corners", "card", pad([](auto& s) {
         s.camera.target = {196, -10};
       })},
      {"from_the_side", "pad", "view_too_oblique", "square",
       pad([](auto& s) { s.camera.azimuth_deg = 50; })},
      {"far_off", "pad", "too_far", "closer", pad([](auto& s) { s.camera.distance_mm = 660; })},
      {"crumpled_card", "pad", "card_not_flat", "flat", pad([](auto& s) {
         s.card.ripple_mm = 2.5;
         s.camera.azimuth_deg = 15;
       })},
      {"out_of_focus", "pad", "blurred", "Wipe the lens",
       pad([](auto& s) { s.camera.blur_px = 3.4; })},
      {"smeared_lens", "pad", "card_missing", "card", pad(kAsItIs, oily_smear)},
      {"moved", "pad", "blurred", "Wipe the lens", pad(kAsItIs, moved(13))},
      {"moved_far", "pad", "card_missing", "card", pad(kAsItIs, moved(45))},
      {"dark", "pad", "under_exposed", "Bring a lamp",
       pad([](auto& s) { s.camera.paper_level = 0.016; })},
      {"night", "pad", "card_missing", "card", pad([](auto& s) { s.camera.paper_level = 0.0005; })},
      {"burnt_out", "pad", "over_exposed", "bright",
       pad([](auto& s) { s.camera.paper_level = 11; })},
      {"empty_notch", "pad", "edges_not_found", "No pad was found",
       [] {
         DrawnScene scene = drawn::random_scene(204, 6);
         scene.pad.present = false;
         return drawn::jpeg_file(scene.camera, drawn::draw(scene));
       }},
      {"glare", "pad", "edges_not_found", "No pad was found", pad(kAsItIs, glare_on_the_part)},
      {"chessboard", "pad", "card_missing", "card", picture(chessboard)},
      {"grain", "pad", "card_missing", "card", picture(grain)},
      {"black", "pad", "card_missing", "card", picture([](cv::Mat&) {})},
      {"white", "pad", "card_missing", "card",
       picture([](cv::Mat& m) { m = cv::Scalar::all(255); })},
      {"lip_as_pad", "pad", "card_missing", "notch", lip(kAsItIs)},
      {"lip_as_rim", "rim", "card_missing", "notch", lip(kAsItIs)},
      {"rim_no_card", "rim", "card_missing", "card", rim([](auto& s) { s.card.present = false; })},
      {"rim_far_off", "rim", "too_far", "closer", rim([](auto& s) { s.camera.distance_mm *= 2; })},
      {"rim_out_of_focus", "rim", "card_missing", "keep it sharp",
       rim([](auto& s) { s.camera.blur_px = 2.9; })},
      {"rim_mirrored", "rim", "photo_mirrored", "mirror",
       rim([](auto& s) { s.camera.mirrored = true; })},
      {"pad_as_lip", "lip", "card_missing", "track", pad(kAsItIs)},
      {"lip_no_card", "lip", "card_missing", "card", lip([](auto& s) { s.card.present = false; })},
      {"lip_from_above", "lip", "too_steep", "lower",
       lip([](auto& s) { s.camera.elevation_deg = 68; })},
      {"lip_too_flat", "lip", "card_missing", "20 to 35 degrees", lip([](auto& s) {
         s.camera.elevation_deg = 8;
         s.camera.distance_mm = 150;
       })},
      {"lip_far_off", "lip", "too_far", "140 to 220 mm", lip([](auto& s) {
         s.camera.elevation_deg = 35;
         s.camera.distance_mm = 620;
       })},
      {"lip_out_of_focus", "lip", "card_missing", "keep it sharp",
       lip([](auto& s) { s.camera.blur_px = 3.2; })},
      {"lip_burnt_out", "lip", "over_exposed", "bright",
       lip([](auto& s) { s.camera.paper_level = 8; })},
      {"lip_dark", "lip", "under_exposed", "Bring a lamp",
       lip([](auto& s) { s.camera.paper_level = 0.016; })},
  };
}

}  // namespace

const std::vector<BadPhoto>& bad_photos() {
  static const std::vector<BadPhoto> photos = all();
  return photos;
}

}  // namespace scantling::test
