#include "dimension/analysis.h"

#include <chrono>
#include <cmath>

#include "dimension/edge_light.h"
#include "dimension/edges_on_photo.h"
#include "dimension/lip_sizes.h"
#include "dimension/pad_sizes.h"
#include "dimension/plane_length.h"
#include "dimension/plane_scene.h"
#include "dimension/read_lip.h"
#include "dimension/read_pad.h"
#include "dimension/read_rim.h"
#include "dimension/rim_sizes.h"
#include "dimension/snap_edge.h"

namespace scantling {

struct Analysis::State {
  MeasureOptions options;
  std::optional<PlaneScene> scene;
  std::optional<PartReading> reading;
  std::optional<LipSearch> lip;  ///< lip view: all readings, for photos that are to agree
  std::vector<SightedCorner> corners;
  cv::Mat luma;
  Measurement measurement;

  /// The part's, or without one a plane where the part would lie.
  PartFrame frame() const {
    if (reading) return reading->frame;
    PartFrame flat;
    flat.depth_mm = options.part_offset.offset_mm;
    return flat;
  }
};

namespace {

using Clock = std::chrono::steady_clock;

/// A drag to another line is the commonest way to measure too much.
void check_moves(const PartReading& reading, std::vector<Check>& checks) {
  for (const PlacedEdge& edge : reading.edges)
    if (edge.contradicted_mm > 0) {
      checks.push_back({"edge_moved_far", Severity::warn,
                        "An edge was moved well away from where the photo shows it. Make sure that "
                        "it is not the part's far side or a shadow; the size is less sure until "
                        "both agree. Gauge it, or take another photo."});
      return;
    }
}

/// Never present a doubtful edge as a result without saying so.
void check_confidence(const PartReading& reading, std::vector<Check>& checks) {
  for (const PlacedEdge& edge : reading.edges)
    if (edge.origin == EdgeOrigin::found && edge.confidence < kConfirmBelow) {
      checks.push_back({"edge_uncertain", Severity::warn,
                        "An edge is not certain. Look at the lines on the photo, drag any that is "
                        "off to the real edge, and confirm them."});
      return;
    }
}

void fill(Measurement& m, const PlaneScene& scene, const PartReading& reading,
          const MeasureOptions& options) {
  m.card = summarise_card(scene);
  switch (reading.view) {
    case View::pad:
      m.dimensions = pad_sizes(scene, reading, options);
      break;
    case View::rim:
      m.dimensions = rim_sizes(scene, reading, options);
      break;
    case View::lip:
      m.dimensions = lip_sizes(scene, reading, options);
      m.lip = lip_facts(scene, reading, options);
      check_lip_view(scene, reading, m.checks);
      break;
    case View::faces:
    case View::pile:
      break;  // never read by edges
  }
  m.edges = edges_on_photo(scene, reading);
  check_confidence(reading, m.checks);
  check_moves(reading, m.checks);
  if (!any_stop(m.checks)) return;
  // What must not count is not shown either: a figure beside a refusal gets written down.
  m.dimensions.clear();
  m.lip.reset();
}

const CardDefinition& card_of(View view) {
  return view == View::lip ? track_card() : notch_card();
}

}  // namespace

Analysis Analysis::run(const std::filesystem::path& photo, const MeasureOptions& options) {
  return run(load_photo(photo), options);
}

namespace {

PartReadingResult read_part(const PlaneScene& scene, const MeasureOptions& options,
                            std::optional<LipSearch>& lip) {
  if (options.view == View::pad) return read_pad(scene, options);
  if (options.view == View::rim) return read_rim(scene, options);
  LipSearchResult found = search_lip(scene, options);
  PartReadingResult reading;
  reading.checks = std::move(found.checks);
  if (found.search) reading.reading = place_lip(scene, *found.search, 0);
  lip = std::move(found.search);
  return reading;
}

/// How sure the least sure of a reading's edges is; below zero without a reading.
double surety(const PartReadingResult& result) {
  if (!result.reading) return -1;
  double least = 1;
  for (const PlacedEdge& edge : result.reading->edges) least = std::min(least, edge.confidence);
  return least;
}

}  // namespace

Analysis Analysis::run(PhotoLoad load, const MeasureOptions& options) {
  const auto start = Clock::now();
  auto state = std::make_shared<State>();
  state->options = options;
  Measurement& m = state->measurement;
  m.view = options.view;
  if (load.photo) state->luma = load.photo->luma;
  if (from_planes(options.view)) {
    m.checks.push_back({"view_of_planes", Severity::stop,
                        "A photo of this view is measured together with the others of its part: "
                        "open the sizes from planes."});
    Analysis unread;
    unread.state_ = std::move(state);
    return unread;
  }
  PlaneSceneResult scene;
  PartReadingResult reading;
  const auto read = [&](PlaneSceneResult& from) {
    if (!from.scene || any_stop(from.checks)) return PartReadingResult{};
    const auto edges_start = Clock::now();
    PartReadingResult result = read_part(*from.scene, state->options, state->lip);
    m.timing_ms.edges +=
        std::chrono::duration<double, std::milli>(Clock::now() - edges_start).count();
    return result;
  };
  if (!options.sheet_scale.id_card) {
    scene = set_up_plane_scene(std::move(load), card_of(options.view), options);
    reading = read(scene);
  } else if (options.view == View::lip) {
    scene.checks.push_back({"id_card_not_here", Severity::stop,
                            "A lip is measured with the printed track card only: an ID-1 card is "
                            "too thick and too plain for it. Print the cards, or gauge it."});
  } else {
    scene = set_up_id_card_scene(std::move(load), options, state->options.sheet_scale);
    reading = read(scene);
    if (scene.scene && !any_stop(scene.checks)) {
      // The part may stand on the card's other side.
      const CardDefinition* card = scene.scene->sighting.card;
      scene.scene->sighting.card = &id_card_with_part(*card, PartSide::left);
      PartReadingResult left = read(scene);
      double rival = surety(left);
      if (rival > surety(reading)) {
        std::swap(left, reading);
        rival = surety(left);
      } else {
        scene.scene->sighting.card = card;
      }
      // Nothing but four sides tells where the card is; and a part that can be read nearly as well
      // on its other side leaves open which of them is the part.
      if (reading.reading) {
        const double close = std::max(0.0, rival) / std::max(surety(reading), 1e-9);
        const double keep = 0.85 * (1 - 0.5 * std::pow(close, 4));
        for (PlacedEdge& edge : reading.reading->edges) edge.confidence *= keep;
      }
    }
  }
  m.checks = scene.checks;
  const double edges_ms = m.timing_ms.edges;
  m.timing_ms = scene.timing_ms;
  m.timing_ms.edges = edges_ms;
  if (scene.scene) {
    state->corners = scene.scene->sighting.corners;
    m.card = summarise_card(*scene.scene);
    m.checks.insert(m.checks.end(), reading.checks.begin(), reading.checks.end());
    if (reading.reading) {
      m.checks.insert(m.checks.end(), reading.reading->checks.begin(),
                      reading.reading->checks.end());
      fill(m, *scene.scene, *reading.reading, state->options);
      state->reading = std::move(reading.reading);
    }
    state->scene = std::move(scene.scene);
  }
  m.timing_ms.total =
      m.timing_ms.decode + std::chrono::duration<double, std::milli>(Clock::now() - start).count();
  Analysis analysis;
  analysis.state_ = std::move(state);
  return analysis;
}

const Measurement& Analysis::measurement() const {
  return state_->measurement;
}
const MeasureOptions& Analysis::options() const {
  return state_->options;
}
const CameraProfile* Analysis::camera_profile() const {
  return state_->scene ? state_->scene->profile : nullptr;
}
const std::vector<SightedCorner>& Analysis::corners() const {
  return state_->corners;
}
cv::Mat Analysis::luma() const {
  return state_->luma;
}

Measurement Analysis::with_edges(std::span<const MovedEdge> moved) const {
  Measurement m = state_->measurement;
  if (moved.empty() || !state_->scene || !state_->reading) return m;
  const PlaneScene& scene = *state_->scene;
  PartReading reading = *state_->reading;
  for (const MovedEdge& move : moved)
    for (PlacedEdge& edge : reading.edges)
      if (edge.name == move.edge) place_by_hand(scene, reading.frame, move.segment, edge);
  m.checks = scene.checks;
  m.checks.insert(m.checks.end(), reading.checks.begin(), reading.checks.end());
  fill(m, scene, reading, state_->options);
  return m;
}

std::vector<Analysis> Analysis::agreed_on_lip(std::vector<Analysis> photos) {
  constexpr std::size_t kMostReadings = 14;
  std::vector<std::vector<LipChoice>> choices(photos.size());
  for (std::size_t i = 0; i < photos.size(); ++i) {
    const State& state = *photos[i].state_;
    if (!state.lip || !state.scene || !state.measurement.usable()) continue;
    const std::size_t count = std::min(kMostReadings, state.lip->hypotheses.size());
    for (std::size_t k = 0; k < count; ++k)
      choices[i].push_back(
          {state.lip->hypotheses[k].score,
           lip_facts(*state.scene, place_lip(*state.scene, *state.lip, k), state.options)});
  }
  const LipAgreement agreement = choose_lip_readings(choices);
  for (std::size_t i = 0; i < photos.size(); ++i) {
    if (choices[i].empty()) continue;
    auto state = std::make_shared<State>(*photos[i].state_);
    state->reading =
        place_agreed_lip(*state->scene, *state->lip, agreement.chosen[i], agreement.scores[i]);
    state->measurement.checks = state->scene->checks;
    fill(state->measurement, *state->scene, *state->reading, state->options);
    photos[i].state_ = std::move(state);
  }
  return photos;
}

std::optional<EdgeSegment> Analysis::snapped(const EdgeSegment& proposed, double reach_px) const {
  if (!state_->scene) return std::nullopt;
  const auto line = snap_edge(*state_->scene, state_->frame(), proposed, reach_px);
  return state_->reading
             ? prefer_read_edge(*state_->scene, *state_->reading, proposed, reach_px, line)
             : line;
}

std::optional<PlaneLength> Analysis::length_in_card_plane(Point_px a, Point_px b) const {
  if (!state_->scene) return std::nullopt;
  return scantling::length_in_card_plane(*state_->scene, state_->options.sheet_scale, a, b);
}

const CardPose* Analysis::card_pose() const {
  return state_->scene ? &state_->scene->pose : nullptr;
}

std::optional<EdgeLight> Analysis::light_across(const EdgeSegment& edge) const {
  if (!state_->scene) return std::nullopt;
  return edge_light(*state_->scene, state_->frame(), edge);
}

}  // namespace scantling
