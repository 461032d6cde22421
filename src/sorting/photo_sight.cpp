#include "sorting/photo_sight.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/each_index.h"
#include "camera/camera_shelf.h"
#include "camera/card_pose.h"
#include "card/cards_in_photo.h"
#include "card/search_effort.h"
#include "dimension/lone_id_card.h"
#include "record/disk.h"
#include "sorting/pad_or_rim.h"
#include "sorting/taken_time.h"

namespace scantling {
namespace {

/// A photo with what serves every way of recognising it.
struct Looking {
  const PhotoLoad& load;
  const SightOptions& options;
  PhotoSight& sight;

  const Photo& photo() const { return *load.photo; }

  Analysis read_as(View view, bool id_card = false) const {
    MeasureOptions wanted;
    wanted.view = view;
    wanted.sheet_scale = options.sheet_scale;
    wanted.sheet_scale.id_card = id_card;
    wanted.cameras = options.cameras;
    return Analysis::run(load, wanted);
  }

  /// `taken_by`: the camera as another card of the photo has shown it to be. Two cards that each
  /// reckon their own focal length come to lie centimetres too near or too far.
  std::optional<CardPose> pose_of(const CardDefinition& card,
                                  const CardPose* taken_by = nullptr) const {
    const CardSearch search = find_card(photo().luma, card, SearchEffort::quick);
    if (!search.sighting) return std::nullopt;
    CameraPrior prior = camera_knowledge(photo(), options.cameras.get()).prior;
    if (taken_by) {
      prior.model = taken_by->camera();
      prior.focal_relative_u = 1e-4;
      prior.centre_u_px = 0.5;
      prior.k1_u = prior.k2_u = 1e-4;
      prior.k1_k2_correlation = 0;
    }
    const SheetScale& scale = options.sheet_scale;
    return solve_card_pose(*search.sighting, prior, {scale.x, scale.y, scale.standard_uncertainty})
        .pose;
  }
};

std::optional<RoughSize> size_of(const Measurement& measurement, const char* name) {
  const Dimension* found = measurement.dimension(name);
  if (!found) return std::nullopt;
  return RoughSize{found->quantity.value_mm, found->quantity.standard_uncertainty_mm};
}

double least_confidence(const Measurement& measurement) {
  double least = measurement.edges.empty() ? 0 : 1;
  for (const MeasuredEdge& edge : measurement.edges) least = std::min(least, edge.confidence);
  return least;
}

/// What the measuring said goes along: a refusal stays a refusal, and doubtful edges are told when
/// the photo is looked at.
void take_checks(const Measurement& measurement, PhotoSight& sight) {
  for (const Check& check : measurement.checks)
    if (check.severity == Severity::stop) sight.checks.push_back(check);
}

void take_reading(const Analysis& reading, PhotoSight& sight) {
  const Measurement& m = reading.measurement();
  sight.view = m.view;
  sight.surest_edges = least_confidence(m);
  if (m.view == View::pad) sight.thickness = size_of(m, "overall_thickness");
  if (m.view == View::rim) sight.thickness = size_of(m, "rim_thickness");
  if (m.lip) sight.foot_mm = m.lip->foot_from_card_mm;
  take_checks(m, sight);
}

void look_in_the_notch(const Looking& looking, bool id_card) {
  PhotoSight& sight = looking.sight;
  const Analysis pad = looking.read_as(View::pad, id_card);
  const Analysis rim = looking.read_as(View::rim, id_card);
  const double log_odds = pad_or_rim_log_odds(pad, rim);
  const bool is_pad = log_odds >= 0;
  take_reading(is_pad ? pad : rim, sight);
  sight.sureness = 1 / (1 + std::exp(-std::abs(log_odds)));
  sight.rival = is_pad ? View::rim : View::pad;
  const char* beside = id_card ? "An ID-1 card beside" : "The notch card at";
  sight.why = fmt::format("{} {}", beside, is_pad ? "a pad" : "a disc's rim");
  if (sight.sureness < 0.8)
    sight.why += is_pad ? "; a rim would look much like it" : "; a pad would look much like it";
}

void look_at_lip(const Looking& looking, bool card_a_seen) {
  PhotoSight& sight = looking.sight;
  sight.view = View::lip;
  sight.sureness = 0.97;
  if (!card_a_seen) {
    sight.why = "Track card B, by itself";
    sight.sureness = 0.6;
    sight.checks.push_back({"card_b_at_lip", Severity::stop,
                            "Only track card B is in this photo, and a lip is measured with card "
                            "A. Lay card A on the worn track and take the photo again."});
    return;
  }
  take_reading(looking.read_as(View::lip), sight);
  sight.why = "The track card before a disc's lip";
}

/// A track card on or over the ground sheet: lying level on a pad, or upright on a disc's face.
void look_at_planes(const Looking& looking, bool a_seen, bool b_seen) {
  PhotoSight& sight = looking.sight;
  const std::optional<CardPose> sheet = looking.pose_of(ground_sheet());
  std::optional<double> tilt_deg;
  const auto take = [&](bool seen, const CardDefinition& card, std::optional<PieceStance>& into) {
    if (!seen || !sheet) return;
    const std::optional<CardPose> pose = looking.pose_of(card, &*sheet);
    if (!pose) return;
    into = stance_on_sheet(*sheet, *pose, card);
    const double tilt = tilt_on_sheet_deg(*into);
    tilt_deg = tilt_deg ? std::min(*tilt_deg, tilt) : tilt;
  };
  take(a_seen, track_card(), sight.card_a);
  take(b_seen, track_card_b(), sight.card_b);
  if (sheet) sight.stand = camera_stance(*sheet);
  const char* cards = a_seen && b_seen ? "cards A and B" : a_seen ? "card A" : "card B";
  if (!tilt_deg) {
    sight.view = View::faces;
    sight.rival = View::pile;
    sight.sureness = 0.6;
    sight.why = fmt::format("The ground sheet with {}, too little of them to tell how", cards);
    return;
  }
  const bool level = *tilt_deg < 45;
  sight.view = level ? View::pile : View::faces;
  sight.rival = level ? View::faces : View::pile;
  // Neither a pad nor a disc holds a card half-way.
  sight.sureness = std::abs(*tilt_deg - 45) > 20 ? 0.98 : 0.7;
  sight.why = level ? fmt::format("The ground sheet with {} level over it: a pad lying", cards)
                    : fmt::format("The ground sheet with {} upright on it: a disc's face", cards);
  if (!level) return;
  const PieceStance& on_pad = sight.card_a ? *sight.card_a : *sight.card_b;
  sight.thickness = {height_over_sheet_mm(on_pad) - looking.options.card_thickness_mm, 0.3};
}

void look_at_bare_sheet(PhotoSight& sight) {
  sight.bare_sheet = true;
  sight.sureness = 0.95;
  sight.why = "The ground sheet alone";
}

void look_for_id_card(const Looking& looking) {
  PhotoSight& sight = looking.sight;
  if (find_lone_id_card(looking.photo().luma).card) {
    look_in_the_notch(looking, true);
    sight.sureness = std::min(sight.sureness, 0.75);
    return;
  }
  // The measuring says best what is wrong with a photo without a card: mirrored, dark, blurred.
  sight.why = "No card was found in it";
  take_checks(looking.read_as(View::pad).measurement(), sight);
}

void recognise(const Looking& looking) {
  PhotoSight& sight = looking.sight;
  if (looking.options.sheet_scale.id_card) return look_for_id_card(looking);
  const std::vector<CardPresence> cards = cards_in_photo(looking.photo().luma);
  const auto markers = [&](const CardDefinition& card) {
    for (const CardPresence& presence : cards)
      if (presence.card == &card) return presence.markers;
    return 0;
  };
  const int notch = markers(notch_card()), sheet = markers(ground_sheet());
  const bool a = markers(track_card()) > 0, b = markers(track_card_b()) > 0;
  if (notch > 0 && notch >= sheet)
    look_in_the_notch(looking, false);
  else if (sheet > 0 && (a || b))
    look_at_planes(looking, a, b);
  else if (a || b)
    look_at_lip(looking, a);
  else if (sheet > 0)
    look_at_bare_sheet(sight);
  else
    look_for_id_card(looking);
  if (sight.stand) return;
  const CardDefinition* nearest = notch > 0 ? &notch_card()
                                  : a       ? &track_card()
                                  : b       ? &track_card_b()
                                  : sheet   ? &ground_sheet()
                                            : nullptr;
  if (!nearest) return;
  if (const std::optional<CardPose> pose = looking.pose_of(*nearest))
    sight.stand = camera_stance(*pose);
}

}  // namespace

bool may_be_same_size(const RoughSize& a, const RoughSize& b) {
  return std::abs(a.value_mm - b.value_mm) <
         3 * std::hypot(a.standard_uncertainty_mm, b.standard_uncertainty_mm);
}

PhotoSight sight_photo(const std::filesystem::path& photo, const SightOptions& options) {
  PhotoSight sight;
  sight.file = photo;
  const PhotoLoad load = load_photo(photo);
  sight.sha256 = sha256_of_file(photo);
  if (!load.photo) {
    sight.checks = load.checks;
    sight.why = "It cannot be read as a photo";
    return sight;
  }
  const CameraTags& tags = load.photo->tags;
  sight.taken_at = tags.taken_at;
  sight.taken_s = taken_time_s(tags.taken_at);
  sight.camera = tags.make.empty() ? tags.model : tags.make + " " + tags.model;
  recognise({load, options, sight});
  return sight;
}

std::vector<PhotoSight> sight_photos(const std::vector<std::filesystem::path>& photos,
                                     const SightOptions& options, unsigned threads,
                                     const std::atomic<bool>* stop) {
  std::vector<PhotoSight> sights(photos.size());
  for_each_index(
      photos.size(), threads, [&](std::size_t i) { sights[i] = sight_photo(photos[i], options); },
      stop);
  return sights;
}

}  // namespace scantling
