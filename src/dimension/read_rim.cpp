#include "dimension/read_rim.h"

#include <algorithm>
#include <cmath>

#include "dimension/place_edge.h"
#include "dimension/rim_hypothesis.h"

namespace scantling {
namespace {

/// Where a broken edge's two lines cannot be read apart (common practice for discs).
constexpr double kTypicalChamfer_mm = 0.5, kChamferSpread_mm = 0.35;

/// Whether the light falls off beyond the edge: a shadow, or a part in the shade.
bool dark_beyond(const RimView& view, double edge_mm, int direction);

struct Builder {
  const PlaneScene& scene;
  const RimView& view;
  const RimHypothesis& best;
  LineFits& fits;  ///< each line fitted once
  PlacingOptions options;

  Builder(const PlaneScene& s, const RimView& v, const RimHypothesis& h, LineFits& f)
      : scene(s), view(v), best(h), fits(f) {
    const int own[] = {h.low.edge, h.high.edge};
    options.part_blur_px = fits.part_blur_px(own);
    options.widest_split_px = 2.4 * options.part_blur_px;
  }

  bool dark_strip(const FaceLines& lines) const {
    const auto level = [&](double a, double b) {
      const double low = std::min(view.lanes.column(a), view.lanes.column(b));
      return view.rows.level_between(low, std::max(view.lanes.column(a), view.lanes.column(b)));
    };
    const double inner = view.at(lines.inner), outer = view.at(lines.edge);
    const double way = outer > inner ? 1 : -1;
    const double strip = level(inner + 0.3 * (outer - inner), outer - 0.3 * (outer - inner));
    return strip < 0.75 * std::min(level(inner - way * 1.2, inner - way * 0.3),
                                   level(outer + way * 0.3, outer + way * 0.9));
  }

  /// Without an inner line too faint to be a chamfer's.
  FaceLines surely_seen(FaceLines lines) const {
    constexpr double kFaint = 0.17;
    const auto step = [&](int i) { return std::abs(view.lines[static_cast<std::size_t>(i)].step); };
    if (lines.inner >= 0 && step(lines.inner) < kFaint * step(lines.edge)) lines.inner = -1;
    return lines;
  }

  /// A face's chamfer where both its lines are seen; 0 where not.
  double chamfer_mm(const FaceLines& lines, int direction) const {
    if (lines.inner < 0) return 0;
    const double t = direction * view.elevation(view.at(lines.edge));
    return std::clamp(std::abs(view.at(lines.edge) - view.at(lines.inner)) / std::max(0.3, 1 + t),
                      0.0, 2.0);
  }

  /// `other_mm`: the other face's chamfer, 0 where not seen; both are mostly alike.
  PlacedEdge face(const char* name, const FaceLines& lines, int direction, double other_mm) const {
    PlacingOptions o = options;
    o.outward = direction;
    PlacedEdge edge = place_edge(name, fits, lines.edge, o);
    const LineCandidate& line = view.lines[static_cast<std::size_t>(lines.edge)];
    prefer_sharp_line(view.lanes, line, scene.card_blur_px, edge);
    const double t = direction * view.elevation(view.at(lines.edge));
    // Seen nearly edge-on, the lip's own flat is too narrow to show: the line may be where it ends
    // towards a lighter track.
    constexpr double kLip_mm = 3;
    if (t > 0 && lines.lip < 0 && line.step * direction > 0) {
      const double lip_mm = std::min(0.3, t * kLip_mm);
      edge.across_mm -= direction * lip_mm / 2;
      widen_definition(edge, lip_mm / 2);
    }
    if (lines.inner >= 0 || edge.split_mm > 0) {
      const double seen =
          lines.inner >= 0 ? std::abs(view.at(lines.edge) - view.at(lines.inner)) : edge.split_mm;
      const double chamfer = std::clamp(seen / std::max(0.3, 1 + t), 0.0, 2.0);
      edge.depth_mm = chamfer;
      edge.depth_u_mm = 0.3 * chamfer + 0.05;
      widen_definition(edge, 0.05 + 0.04 * chamfer);
      // A rounding seen as one line shows less of itself than the other face's two lines.
      if (lines.inner < 0) widen_definition(edge, 0.5 * std::max(0.0, other_mm - chamfer));
      // A dark strip may be the chamfer in the shade, and more of the shade behind it.
      if (lines.inner >= 0 && dark_strip(lines)) widen_definition(edge, 0.25 * seen);
    } else {
      const double chamfer = other_mm > 0 ? other_mm : kTypicalChamfer_mm;
      edge.depth_mm = chamfer / 2;
      edge.depth_u_mm = std::max(kChamferSpread_mm / 2, chamfer / 3);
      // Against the dark a chamfer that is turned away from the light is lost: the line may be
      // where the rim ends, and the face lie a chamfer further out. Else it is mostly the face's
      // own, unless the other face tells of a chamfer that does not show here.
      const double lost = dark_beyond(view, view.at(lines.edge), direction) ? chamfer
                          : other_mm > 0                                    ? 0.4 * other_mm
                                                                            : 0;
      edge.across_mm += direction * lost / 2;
      constexpr double kOneLine_mm = 0.12;
      widen_definition(edge, std::max(kOneLine_mm, lost / 2));
    }
    widen_definition(edge, 0.01 + 0.08 * std::abs(t));
    return edge;
  }
};

bool dark_beyond(const RimView& view, double edge_mm, int direction) {
  const auto level = [&](double first, double last) {
    const double a = view.lanes.column(edge_mm + direction * first);
    const double b = view.lanes.column(edge_mm + direction * last);
    return view.rows.level_between(std::min(a, b), std::max(a, b));
  };
  return level(0.3, 0.9) < 0.65 * level(-1.6, -0.5);
}

/// Other readings weigh by their likelihood: near ones leave the edge open until somebody looks,
/// far ones lower its confidence.
void weigh_others(const RimView& view, const RimHypotheses& found, PartReading& reading) {
  constexpr double kNearTemperature = 0.8, kFarTemperature = 1.25, kNear_mm = 1.3;
  const auto line_of = [](const RimHypothesis& h, std::size_t edge) {
    return edge == PartReading::face_a ? h.low.edge : h.high.edge;
  };
  const auto share = [&](const RimHypothesis& h, double temperature) {
    double sum = 1;
    for (const RimHypothesis& other : found.others)
      sum += std::exp((other.score - found.best->score) / temperature);
    return std::exp((h.score - found.best->score) / temperature) / sum;
  };
  for (std::size_t e = 0; e < 2; ++e) {
    double near_variance = 0, far_share = 0;
    for (const RimHypothesis& h : found.others) {
      const double shift = view.at(line_of(h, e)) - view.at(line_of(*found.best, e));
      if (std::abs(shift) < kNear_mm)
        near_variance += share(h, kNearTemperature) * shift * shift;
      else
        far_share += share(h, kFarTemperature);
    }
    reading.edges[e].mistaken_u_mm = std::sqrt(near_variance);
    reading.edges[e].confidence *= 1 - far_share;
  }
}

void add_rivals(const RimView& view, const RimHypothesis& best, PartReading& reading) {
  reading.rivals.resize(2);
  for (std::size_t e = 0; e < 2; ++e) {
    const FaceLines& own = e == PartReading::face_a ? best.low : best.high;
    const double here = view.at(own.edge);
    for (int i = 0; i < static_cast<int>(view.lines.size()); ++i) {
      if (i == own.edge || std::abs(view.at(i) - here) > 4) continue;
      const char* words = i == own.inner ? "where the rim ends and its chamfer begins"
                          : i == own.lip ? "where the lip ends towards the track"
                                         : "another line nearby";
      reading.rivals[e].push_back(
          rival_of(reading.edges[e], view.lines[static_cast<std::size_t>(i)], words));
    }
    keep_strongest_rivals(reading.rivals[e]);
  }
}

/// The same edges, seen on cylinders of other radii.
bool alike(const RimView& view, const RimHypothesis& h, const RimView& other,
           const RimHypothesis& g) {
  constexpr double kSame_mm = 0.5;
  return view.upright == other.upright &&
         std::abs(view.at(h.low.edge) - other.at(g.low.edge)) < kSame_mm &&
         std::abs(view.at(h.high.edge) - other.at(g.high.edge)) < kSame_mm;
}

}  // namespace

PartReadingResult read_rim(const PlaneScene& scene, const MeasureOptions& options) {
  PartReadingResult result;
  const std::vector<RimView> views = unroll_rim(scene, options);
  std::vector<LineFits> fits;
  std::vector<RimHypotheses> found;
  std::size_t at = 0;
  for (const RimView& view : views) {
    fits.emplace_back(view.lanes, view.lines, scene.card_blur_px);
    found.push_back(search_rim(view, rim_evidence(scene, view, options, fits.back())));
    if (found.back().best && (!found[at].best || found.back().best->score > found[at].best->score))
      at = found.size() - 1;
  }
  const RimHypotheses& best = found[at];
  const RimView* best_view = &views[at];
  if (!best.best) {
    result.checks.push_back({"edges_not_found", Severity::stop,
                             "The disc's rim was not found in the card's notch. Stand the card "
                             "against the rim so that the rim shows through the notch, light it "
                             "evenly, and take the photo again."});
    return result;
  }
  const Builder builder(scene, *best_view, *best.best, fits[at]);
  PartReading reading;
  reading.view = View::rim;
  reading.frame = best_view->frame;
  const FaceLines low = builder.surely_seen(best.best->low);
  const FaceLines high = builder.surely_seen(best.best->high);
  reading.edges = {builder.face("face_a", low, -1, builder.chamfer_mm(high, +1)),
                   builder.face("face_b", high, +1, builder.chamfer_mm(low, -1))};
  weigh_others(*best_view, best, reading);
  double second_score = -1e9;
  for (std::size_t i = 0; i < views.size(); ++i)
    if (found[i].best && !alike(views[i], *found[i].best, *best_view, *best.best))
      second_score = std::max(second_score, found[i].best->score);
  const double other_view = std::exp((second_score - best.best->score) / 1.3);
  for (PlacedEdge& edge : reading.edges) edge.confidence /= 1 + other_view;
  for (PlacedEdge& edge : reading.edges) edge.confidence *= 1 - 0.5 * best.best->crossed;
  // Chosen of 0.5 to 1.2 mm on drawn rims.
  constexpr double kMistake_mm = 0.7;
  for (PlacedEdge& edge : reading.edges) allow_for_mistakes(edge, kMistake_mm);
  add_rivals(*best_view, *best.best, reading);
  result.reading = std::move(reading);
  return result;
}

}  // namespace scantling
