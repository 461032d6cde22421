#include "dimension/plane_scene.h"

#include <algorithm>
#include <chrono>

#include "camera/camera_shelf.h"
#include "dimension/card_tone.h"
#include "dimension/id_card_outline.h"

namespace scantling {
namespace {

using Clock = std::chrono::steady_clock;

double ms_since(Clock::time_point start) {
  return std::chrono::duration<double, std::milli>(Clock::now() - start).count();
}

void add(std::vector<Check>& checks, const char* id, Severity severity, std::string message) {
  checks.push_back({id, severity, std::move(message)});
}

/// Corners to both sides of the part keep the scale honest across it.
bool one_sided(const CardSighting& sighting) {
  const CardDefinition& card = *sighting.card;
  const double left = card.notch ? card.notch->x_min : card.columns * card.square_mm * 0.4;
  const double right = card.notch ? card.notch->x_max : card.columns * card.square_mm * 0.6;
  int on_left = 0, on_right = 0;
  for (const SightedCorner& c : sighting.corners) {
    on_left += c.card_mm.x <= left + card.square_mm;
    on_right += c.card_mm.x >= right - card.square_mm;
  }
  return on_left < 3 || on_right < 3;
}

/// Whether more than a fifth of the card's corners lie where the pose, with its lens and the card's
/// smooth bend, cannot have them: then the sheet is folded or rippled.
bool mostly_displaced(const PlaneScene& scene) {
  if (!scene.sighting.card->notch) return false;  // the track card is seen from the side
  const double allowed_px = std::max(3.0, 0.25 * scene.sighting.px_per_mm);
  const double half_mm = scene.sighting.card->columns * scene.sighting.card->square_mm / 2;
  std::size_t off = 0;
  for (const SightedCorner& corner : scene.sighting.displaced) {
    const double bent = (corner.card_mm.x - half_mm) / 64;
    const Point_px expected = scene.pose.project(
        {corner.card_mm.x * scene.pose.scale_x(), corner.card_mm.y * scene.pose.scale_y(),
         scene.pose.parameters()[CardPose::kBend] * bent * bent});
    off += distance_px(expected, corner.photo_px) > allowed_px;
  }
  return off >= 8 && 5 * off > off + scene.sighting.corners.size();
}

/// Beyond this nothing on the part can be told apart. The blur is read inside the white gap beside
/// a square, so that it is read too small from here on: 0.26 mm stand for some 0.4 mm.
constexpr double kBlurred_mm = 0.26, kSlightlyBlurred_mm = 0.20;

bool is_blurred(const PlaneScene& scene, const CardTone& tone) {
  const double blur_mm = tone.blur_px / scene.sighting.px_per_mm;
  // Blurred corners are found beside their places, too.
  return tone.edges < 4 || blur_mm > kBlurred_mm ||
         (blur_mm > kSlightlyBlurred_mm && mostly_displaced(scene));
}

/// The track card is meant to be seen from the side.
void check_tilt(PlaneScene& scene) {
  const double tilt = scene.pose.tilt_deg();
  if (tilt > 40)
    add(scene.checks, "view_too_oblique", Severity::stop,
        "The card is seen too much from the side. Hold the phone square to the card's face and "
        "take the photo again.");
  else if (tilt > 25)
    add(scene.checks, "view_oblique", Severity::warn,
        "The card is seen rather from the side. A photo square to its face is surer.");
}

void check_geometry(PlaneScene& scene, bool blurred) {
  const double px_per_mm = scene.sighting.px_per_mm;
  if (px_per_mm < 4)
    add(scene.checks, "too_far", Severity::stop,
        "The card is too small in the picture. Go closer, so that the card fills most of the "
        "picture's width, and take the photo again.");
  else if (px_per_mm < 7)
    add(scene.checks, "far", Severity::warn,
        "The card is rather small in the picture. Going closer makes the size surer.");
  const double unevenness_mm = scene.pose.noise_px() / px_per_mm;
  if (unevenness_mm > 0.30 || (!blurred && mostly_displaced(scene)))
    add(scene.checks, "card_not_flat", Severity::stop,
        "The card is bent or folded. Glue it flat on stiff card and take the photo again.");
  else if (unevenness_mm > 0.07)
    add(scene.checks, "card_uneven", Severity::warn,
        "The card seems slightly bent. Glue it flat on stiff card for a surer size.");
  const bool printed = !scene.sighting.card->markers.empty();
  if (printed && scene.sighting.card->notch && one_sided(scene.sighting))
    add(scene.checks, "card_one_sided", Severity::warn,
        "The card is readable on one side of the part only. Show both of its legs for a surer "
        "size.");
}

void check_tone(PlaneScene& scene, const CardTone& tone) {
  const double blur_mm = tone.blur_px / scene.sighting.px_per_mm;
  if (is_blurred(scene, tone))
    add(scene.checks, "blurred", Severity::stop,
        "The photo is blurred. Wipe the lens, rest the phone on something, tap the card to focus, "
        "and take the photo again.");
  else if (blur_mm > kSlightlyBlurred_mm)
    add(scene.checks, "slightly_blurred", Severity::warn,
        "The photo is a little blurred, which makes the edges less sure.");
  if (tone.white - tone.black < 0.02)
    add(scene.checks, "under_exposed", Severity::stop,
        "The photo is too dark. Bring a lamp to the side of the camera and take the photo again.");
  else if (tone.black > 0.55 || (tone.white > 0.98 && tone.black > 0.25))
    add(scene.checks, "over_exposed", Severity::stop,
        "The photo is too bright. Tap the card so that the phone sets the light by it, switch off "
        "the flash, and take the photo again.");
}

void check_origin(PlaneScene& scene, const SheetScale& scale) {
  if (!scale.checked)
    add(scene.checks, "sheet_scale_unchecked", Severity::warn,
        "The printed sheet's scale is unchecked. Measure its check bars and enter them: this is "
        "often most of the uncertainty.");
}

}  // namespace

namespace {

/// Pose and photo checks, once the card is found. `tone`: where the card's own print does not tell.
void complete(PlaneScene scene, const MeasureOptions& options, const SheetScale& scale,
              const CardTone* tone, Clock::time_point start, PlaneSceneResult& result) {
  const CameraKnowledge camera = camera_knowledge(scene.photo, options.cameras.get());
  scene.camera = camera.prior;
  scene.camera_source = camera.prior.source;
  scene.profile = camera.profile;
  PoseSolution solution =
      solve_card_pose(scene.sighting, camera.prior, {scale.x, scale.y, scale.standard_uncertainty});
  result.checks.insert(result.checks.end(), solution.checks.begin(), solution.checks.end());
  if (!solution.pose) {
    result.timing_ms.card = ms_since(start);
    return;
  }
  scene.pose = *solution.pose;
  for (auto it = solution.outliers.rbegin(); it != solution.outliers.rend(); ++it)
    scene.sighting.corners.erase(scene.sighting.corners.begin() + static_cast<long>(*it));
  const CardTone read = tone ? *tone : read_card_tone(scene.photo.luma, scene.pose, scene.sighting);
  scene.card_blur_px = read.blur_px;
  scene.card_white = read.white;
  scene.card_black = read.black;
  result.timing_ms.card = ms_since(start);

  if (options.view != View::lip) check_tilt(scene);
  check_geometry(scene, is_blurred(scene, read));
  check_tone(scene, read);
  check_origin(scene, scale);
  scene.checks.insert(scene.checks.end(), camera.checks.begin(), camera.checks.end());
  result.checks.insert(result.checks.end(), scene.checks.begin(), scene.checks.end());
  scene.checks = result.checks;
  scene.timing_ms = result.timing_ms;
  result.scene = std::move(scene);
}

/// The photo goes into the scene; false where a check says stop.
bool begin(PhotoLoad load, PlaneScene& scene, PlaneSceneResult& result) {
  result.checks = std::move(load.checks);
  if (!load.photo || any_stop(result.checks)) return false;
  scene.photo = std::move(*load.photo);
  result.timing_ms.decode = scene.photo.decode_ms;
  return true;
}

}  // namespace

PlaneSceneResult set_up_plane_scene(PhotoLoad load, const CardDefinition& card,
                                    const MeasureOptions& options) {
  PlaneSceneResult result;
  PlaneScene scene;
  if (!begin(std::move(load), scene, result)) return result;
  const auto start = Clock::now();
  CardSearch search = find_card(scene.photo.luma, card);
  result.checks.insert(result.checks.end(), search.checks.begin(), search.checks.end());
  if (!search.sighting) {
    result.timing_ms.card = ms_since(start);
    return result;
  }
  scene.sighting = std::move(*search.sighting);
  complete(std::move(scene), options, options.sheet_scale, nullptr, start, result);
  return result;
}

PlaneSceneResult set_up_id_card_scene(PhotoLoad load, const MeasureOptions& options,
                                      SheetScale& scale) {
  PlaneSceneResult result;
  PlaneScene scene;
  if (!begin(std::move(load), scene, result)) return result;
  const auto start = Clock::now();
  LoneIdCardSearch search = find_lone_id_card(scene.photo.luma);
  result.checks.insert(result.checks.end(), search.checks.begin(), search.checks.end());
  if (!search.card) {
    result.timing_ms.card = ms_since(start);
    return result;
  }
  LoneIdCard& card = *search.card;
  scale = {1, 1, std::hypot(kIdCardSize_u, card.side_u_mm / kIdCardLong_mm), true, true};
  scene.sighting = std::move(card.sighting);
  // Its face may be of any colour: only a card as dark as the shade cannot be judged.
  const CardTone tone{card.blur_px, std::max(card.light, card.contrast),
                      std::max(0.0, card.light - card.contrast), 4};
  scene.checks.push_back({"id_card_reference", Severity::warn,
                          "Measured by an ID-1 card instead of a printed one, which is less sure. "
                          "Print the notch card where you can, and gauge what is near its "
                          "minimum."});
  complete(std::move(scene), options, scale, &tone, start, result);
  return result;
}

CardSummary summarise_card(const PlaneScene& scene) {
  CardSummary summary;
  summary.name = scene.sighting.card->name;
  summary.camera = scene.camera_source;
  summary.corners = scene.pose.corners();
  summary.residual_px = scene.pose.residual_px();
  summary.px_per_mm = scene.sighting.px_per_mm;
  summary.tilt_deg = scene.pose.tilt_deg();
  const CardDefinition& card = *scene.sighting.card;
  summary.distance_mm =
      scene.pose.distance_mm({card.columns * card.square_mm / 2 * scene.pose.scale_x(),
                              card.rows * card.square_mm / 2 * scene.pose.scale_y()});
  return summary;
}

}  // namespace scantling
