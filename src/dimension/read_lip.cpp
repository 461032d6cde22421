#include "dimension/read_lip.h"

#include <algorithm>
#include <cmath>

#include "dimension/lip_model.h"
#include "dimension/lip_sizes.h"
#include "dimension/place_edge.h"

namespace scantling {
namespace {

// By common practice: lips 0.1 to 2.5 mm high, 1.5 to 6 mm wide with their chamfer.
constexpr double kUsualHeight_mm = 0.7, kUsualWidth_mm = 3.2;
constexpr double kLeastGap_mm = 0.12;

double square(double x) {
  return x * x;
}

class Scorer {
 public:
  explicit Scorer(const LipView& view) : view_(view) {}

  int count() const { return static_cast<int>(view_.lines.size()); }
  const LineCandidate& line(int i) const { return view_.lines[static_cast<std::size_t>(i)]; }
  double at(int i) const { return line(i).at(0); }

  double evidence(int i) const {
    return std::clamp((line(i).significance - 5) / 8, 0.0, 1.0) *
           std::clamp((line(i).support - 0.55) / 0.25, 0.0, 1.0);
  }
  double strength(int i, double usual_step) const {
    const LineCandidate& l = line(i);
    return 0.7 * std::log(std::min(1.0, std::abs(l.step) / usual_step)) +
           0.7 * std::log(std::min(1.0, l.significance / 14)) +
           std::log(std::min(1.0, l.support / 0.85)) + 0.8 * std::log(0.15 + 0.85 * l.sharpness);
  }
  double weight(int i) const {
    // Turning marks are many and faint.
    return 2.4 * evidence(i) * (0.05 + 0.95 * square(std::min(1.0, std::abs(line(i).step) / 18))) *
           (0.2 + 0.8 * line(i).sharpness);
  }
  double unexplained(double low, double high) const {
    double sum = 0;
    for (int i = 0; i < count(); ++i)
      if (at(i) > low && at(i) < high) sum += weight(i);
    return sum;
  }

  double strongest_step() const {
    double strongest = 1;
    for (const LineCandidate& l : view_.lines) strongest = std::max(strongest, std::abs(l.step));
    return strongest;
  }

  /// The track has turning marks and dirt, but no line as strong as the lip's own.
  double strong_inside(int foot) const {
    double count_inside = 0;
    const double strongest = strongest_step();
    for (int i = 0; i < foot; ++i)
      if (std::abs(line(i).step) > 0.45 * strongest && at(i) < at(foot) - 0.05)
        count_inside += evidence(i) * line(i).sharpness;
    return std::min(3.0, count_inside);
  }

  /// A wall is one surface; but its dark corner over the foot grows lighter going up.
  double unexplained_on_wall(int foot, int top) const {
    double sum = 0;
    for (int i = foot + 1; i < top; ++i) {
      const bool recovery = line(i).step * line(foot).step < 0 && at(i) - at(foot) < 1.6 &&
                            std::abs(line(i).step) < 0.6 * std::abs(line(foot).step);
      sum += (recovery ? 0.35 : 1) * weight(i);
    }
    return sum;
  }

  /// The lip's outer end for a given top: the best line at a usual distance, or none.
  std::pair<int, double> outer(int top) const {
    int best = -1;
    // Not seen: only where nothing that could be it stands beyond.
    double best_score = -2.2 - 0.5 * unexplained(at(top) + 0.05, at(top) + 9);
    for (int i = top + 1; i < count(); ++i) {
      const double width = at(i) - at(top);
      if (width < 0.6 || width > 9) continue;
      const double score = strength(i, 25) - 0.5 * square(std::log(width / kUsualWidth_mm) / 0.5) -
                           0.25 * unexplained(at(top) + 0.05, at(i) - 0.05) -
                           0.5 * unexplained(at(i) + 0.05, at(i) + 4);
      if (score > best_score) {
        best_score = score;
        best = i;
      }
    }
    return {best, best_score};
  }

  std::vector<LipHypothesis> all() const {
    std::vector<LipHypothesis> found;
    std::vector<std::pair<int, double>> outers;
    for (int i = 0; i < count(); ++i) outers.push_back(outer(i));
    for (int foot = 0; foot < count(); ++foot) {
      // A slow change before the foot is a shadow's border, hardly ever the foot itself.
      const double foot_score =
          strength(foot, 15) +
          0.5 * std::log(std::min(1.0, std::abs(line(foot).step) / (0.6 * strongest_step()))) +
          1.2 * std::log(0.15 + 0.85 * line(foot).sharpness) -
          0.5 * unexplained(at(foot) - 3, at(foot) - 0.05) - 1.6 * strong_inside(foot);
      for (int top = foot + 1; top < count(); ++top) {
        const double gap = at(top) - at(foot);
        if (gap < kLeastGap_mm) continue;
        // The wall's run is small beside what the height shows, but for the lowest lips.
        const double height = (gap - std::min(0.2, 0.3 * gap)) * view_.elevation;
        if (height > 4) break;
        const double usual = -0.5 * square(std::log(height / kUsualHeight_mm) / 1.1);
        const auto& [edge, edge_score] = outers[static_cast<std::size_t>(top)];
        const double wall = -unexplained_on_wall(foot, top);
        found.push_back(
            {foot, top, edge, foot_score + 0.6 * strength(top, 10) + usual + wall + edge_score});
      }
    }
    std::sort(found.begin(), found.end(),
              [](const LipHypothesis& a, const LipHypothesis& b) { return a.score > b.score; });
    if (found.size() > 24) found.resize(24);
    return found;
  }

 private:
  const LipView& view_;
};

/// Other readings weigh by their likelihood: near ones widen the edge's definition, far ones lower
/// its confidence.
void weigh_others(const LipSearch& search, std::size_t chosen, const std::vector<double>& scores,
                  PartReading& reading) {
  constexpr double kTemperature = 0.7, kNear_mm = 0.35;
  const LipHypothesis& best = search.hypotheses[chosen];
  const auto at = [&](int i) { return search.view.lines[static_cast<std::size_t>(i)].at(0); };
  const auto likelihood = [&](std::size_t k) {
    return std::exp(std::min(8.0, (scores[k] - scores[chosen]) / kTemperature));
  };
  double sum = 0;
  for (std::size_t k = 0; k < scores.size(); ++k) sum += likelihood(k);
  for (std::size_t e = 0; e < 2; ++e) {
    double near_variance = 0, far_share = 0;
    for (std::size_t k = 0; k < scores.size(); ++k) {
      const LipHypothesis& h = search.hypotheses[k];
      const double shift =
          e == PartReading::wall_foot ? at(h.foot) - at(best.foot) : at(h.top) - at(best.top);
      const double share = likelihood(k) / sum;
      if (std::abs(shift) < kNear_mm)
        near_variance += share * shift * shift;
      else
        far_share += share;
    }
    widen_definition(reading.edges[e], std::sqrt(near_variance));
    reading.edges[e].confidence *= 1 - far_share;
  }
}

/// The corner over the foot is the darker the deeper. The fall into it may be seen on the track's
/// side of the corner, the more so where the rise out of it is nearly as large.
void widen_by_corner(const LipSearch& search, const LipHypothesis& best, PlacedEdge& foot) {
  const LipView& view = search.view;
  const LineCandidate& fall = view.lines[static_cast<std::size_t>(best.foot)];
  double rise = 0;
  for (int i = best.foot + 1; i <= best.top; ++i) {
    const LineCandidate& line = view.lines[static_cast<std::size_t>(i)];
    if (line.at(0) - fall.at(0) > 1.1) break;
    if (line.step * fall.step < 0) rise = std::max(rise, std::abs(line.step));
  }
  if (rise == 0) return;
  LineCandidate fitted = fall;
  fitted.slope = foot.slope;
  fitted.across_mm = foot.at(0);
  const double mm_per_px = view.lanes.across_step_mm;
  const int reach = std::clamp(static_cast<int>(1.1 / mm_per_px), 4, 14);
  const double corner_mm = mm_per_px * turn_beyond(view.lanes, fitted, +1, reach);
  if (corner_mm <= 0) return;
  const double share = std::min(1.0, rise / std::abs(fall.step));
  widen_definition(foot, 0.5 * share * corner_mm);
}

void add_rivals(const LipSearch& search, const LipHypothesis& best, PartReading& reading) {
  reading.rivals.resize(2);
  const std::vector<LineCandidate>& lines = search.view.lines;
  for (std::size_t e = 0; e < 2; ++e) {
    const int own = e == PartReading::wall_foot ? best.foot : best.top;
    for (int i = 0; i < static_cast<int>(lines.size()); ++i) {
      const LineCandidate& line = lines[static_cast<std::size_t>(i)];
      if (i == own || std::abs(line.at(0) - lines[static_cast<std::size_t>(own)].at(0)) > 4)
        continue;
      const char* words = i == best.foot    ? "the wall's foot"
                          : i == best.top   ? "the wall's top"
                          : i == best.outer ? "where the lip ends towards the rim"
                                            : "another line nearby";
      reading.rivals[e].push_back(rival_of(reading.edges[e], line, words));
    }
    keep_strongest_rivals(reading.rivals[e]);
  }
}

}  // namespace

LipSearchResult search_lip(const PlaneScene& scene, const MeasureOptions& options) {
  LipSearchResult result;
  std::optional<LipView> view = unroll_lip(scene, options);
  if (view) {
    LipSearch search;
    search.view = std::move(*view);
    search.hypotheses = Scorer(search.view).all();
    if (!search.hypotheses.empty()) result.search = std::move(search);
  }
  if (!result.search)
    result.checks.push_back(
        {"edges_not_found", Severity::stop,
         "No lip was found beyond the card. Lay the card on the worn track near the far rim, a "
         "finger's width from the lip, and photograph across it from the hub's side so that the "
         "lip shows beyond the card."});
  return result;
}

namespace {

PartReading place(const PlaneScene& scene, const LipSearch& search, std::size_t hypothesis,
                  const std::vector<double>& scores) {
  const LipHypothesis& best = search.hypotheses[hypothesis];
  const LipView& view = search.view;
  LineFits fits(view.lanes, view.lines, scene.card_blur_px);
  const PlacingOptions options;
  PartReading reading;
  reading.view = View::lip;
  reading.frame = view.frame;
  reading.edges = {place_edge("wall_foot", fits, best.foot, options),
                   place_edge("wall_top", fits, best.top, options)};
  prefer_sharp_line(view.lanes, view.lines[static_cast<std::size_t>(best.foot)], scene.card_blur_px,
                    reading.edges[PartReading::wall_foot]);
  prefer_sharp_line(view.lanes, view.lines[static_cast<std::size_t>(best.top)], scene.card_blur_px,
                    reading.edges[PartReading::wall_top]);
  // Fillet, rust and rounding blur both ends of a wall.
  widen_definition(reading.edges[PartReading::wall_foot], 0.04);
  widen_by_corner(search, best, reading.edges[PartReading::wall_foot]);
  PlacedEdge& top = reading.edges[PartReading::wall_top];
  widen_definition(top, 0.07);
  // Where the light only grows towards the top without a step there, the top is where it stops.
  LineCandidate fitted = view.lines[static_cast<std::size_t>(best.top)];
  fitted.slope = top.slope;
  fitted.across_mm = top.at(0);
  const double mm_per_px = view.lanes.across_step_mm;
  const double excess_mm =
      mm_per_px * slope_beyond(view.lanes, fitted, std::max(0.6, scene.card_blur_px), 12);
  if (excess_mm > 0) {
    top.across_mm += 0.8 * excess_mm;
    widen_definition(top, 0.5 * excess_mm);
  }
  weigh_others(search, hypothesis, scores, reading);
  if (best.outer < 0)
    for (PlacedEdge& edge : reading.edges) edge.confidence *= 0.7;
  add_rivals(search, best, reading);
  return reading;
}

}  // namespace

PartReading place_lip(const PlaneScene& scene, const LipSearch& search, std::size_t hypothesis) {
  std::vector<double> scores;
  for (const LipHypothesis& h : search.hypotheses) scores.push_back(h.score);
  return place(scene, search, hypothesis, scores);
}

PartReading place_agreed_lip(const PlaneScene& scene, const LipSearch& search,
                             std::size_t hypothesis, const std::vector<double>& scores) {
  return place(scene, search, hypothesis, scores);
}

void check_lip_view(const PlaneScene& scene, const PartReading& reading,
                    std::vector<Check>& checks) {
  const LipModel model(scene.pose, reading);
  const double elevation = model.elevation_deg(), px = model.px_per_mm_height();
  // Seen steeply a wall shrinks as well: then it is not the distance.
  if (px < 5 && elevation <= 60)
    checks.push_back({"too_far", Severity::stop,
                      "The phone is too far away to resolve a lip. Go to 140 to 220 mm from it, "
                      "tap the card to focus, and take the photo again."});
  else if (px < 8 && elevation <= 60)
    checks.push_back({"far", Severity::warn,
                      "The phone is rather far from the lip. 140 to 220 mm makes its height "
                      "surer."});
  if (elevation > 60)
    checks.push_back({"too_steep", Severity::stop,
                      "The photo looks too steeply down to show the lip's height. Hold the phone "
                      "lower, 20 to 35 degrees over the disc, and take the photo again."});
  else if (elevation > 48)
    checks.push_back({"steep", Severity::warn,
                      "The photo looks rather steeply down. 20 to 35 degrees over the disc makes "
                      "the lip's height surer."});
  if (elevation < 9)
    checks.push_back({"too_flat", Severity::stop,
                      "The photo looks too flatly over the disc. Hold the phone higher, 20 to 35 "
                      "degrees over the disc, and take the photo again."});
}

}  // namespace scantling
