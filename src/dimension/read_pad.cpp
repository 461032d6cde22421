#include "dimension/read_pad.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "dimension/pad_views.h"
#include "dimension/place_edge.h"

namespace scantling {
namespace {

/// Common practice for edges that cannot be read apart: a typical chamfer and ledge, half of their
/// spread as standard uncertainty.
constexpr double kTypicalChamfer_mm = 0.45, kChamferSpread_mm = 0.25;
constexpr double kTypicalLedge_mm = 1.1, kLedgeSpread_mm = 0.7;

/// A reading less likely than this is no pad: table, wall and shadows make lines too. Drawn pads
/// that were read rightly scored -8 and more, empty notches mostly less than -11.
constexpr double kLeastScore = -10.5;

struct Builder {
  const PlaneScene& scene;
  const PadPose& pose;
  const PadHypothesis& hypothesis;
  mutable LineFits fits;  ///< each line fitted once
  double part_blur = 1;

  Builder(const PlaneScene& s, const PadPose& p, const PadHypothesis& h)
      : scene(s), pose(p), hypothesis(h), fits(p.lanes, p.search.lines, s.card_blur_px) {
    const int own[] = {h.plate.edge, h.interface.line(), h.friction.edge};
    part_blur = fits.part_blur_px(own);
  }

  const LineCandidate& line(int i) const { return pose.search.lines[static_cast<std::size_t>(i)]; }
  double at(int i) const { return line(i).at(pose.search.along_middle_mm); }

  /// `outward` is 0 where the part lies on the table, whose contact shadow fades too.
  PlacedEdge place(const char* name, int index, int outward, double widest_split_px) const {
    return place_edge(name, fits, index, {part_blur, outward, widest_split_px});
  }

  /// Run of a 45 degree chamfer from the distance between its two lines, as seen.
  double chamfer_mm(int inner, int outer, double t) const {
    return std::clamp(std::abs(at(outer) - at(inner)) / std::max(0.3, 1 + t), 0.0, 1.5);
  }

  PlacedEdge plate_outer() const {
    const OuterLines& lines = hypothesis.plate;
    PlacedEdge edge = place("plate_outer", lines.edge, pose.search.plate_rests_at_mm ? 0 : -1,
                            chamfer_split_px());
    const double t = -pose.search.elevation(at(lines.edge));
    set_chamfer_depth(edge, lines, t, 0);
    // On a dark table the chamfer underneath is lost in the shade: the line may be where the
    // plate's face ends, and the table on which plate and card stand says how far below its plane
    // lies.
    if (pose.search.plate_rests_at_mm && lines.chamfer < 0) {
      const double above = edge.across_mm - *pose.search.plate_rests_at_mm;
      if (above > 0.1 && above < 1.2) {
        edge.across_mm -= above / 2;
        widen_definition(edge, above / 2);
      }
    }
    return edge;
  }

  PlacedEdge interface() const {
    const InterfaceLines& lines = hypothesis.interface;
    // Where the line is the fall of the plate edge's highlight it may fade over the ledge; where it
    // is the friction material's rise, only the corner's shade fades.
    const bool fall =
        lines.top < 0 && lines.chamfer >= 0 && line(lines.chamfer).step * line(lines.base).step < 0;
    PlacedEdge edge = place("plate_friction", lines.line(), fall ? +1 : 0, 7);
    const double t = pose.search.elevation(at(lines.line()));
    if (t <= 0) {
      // Seen from below the plate's inner plane, its front edge hides the ledge.
      edge.depth_mm = lines.chamfer >= 0 ? chamfer_mm(lines.chamfer, lines.base, t) / 2 : 0.15;
      edge.depth_u_mm = kChamferSpread_mm;
      widen_definition(edge, 0.04);
    } else if (fall && edge.split_mm == 0 && edge.turn_mm > 0) {
      // From the lit edge the light falls to the dark corner at the friction material's foot; blur
      // carries the corner outwards, a rounded edge carries the fall inwards: the foot lies
      // between.
      edge.across_mm += edge.turn_mm / 2;
      edge.depth_mm = ledge_mm();
      edge.depth_u_mm = 0.05;
      edge.ledge_share = 1;
      widen_definition(edge, std::hypot(0.03, edge.turn_mm / 2 / std::sqrt(3.0)));
    } else if (fall && edge.split_mm == 0) {
      // The plate's front edge, or that and the foot behind a narrow ledge seen as one.
      const double chamfer = chamfer_mm(lines.chamfer, lines.base, t);
      constexpr double kShare = 0.4;
      edge.ledge_share = kShare;
      edge.depth_mm = chamfer + kShare * std::max(0.0, ledge_mm() - chamfer);
      edge.depth_u_mm = 0.2 * chamfer + 0.05;
      widen_definition(edge, std::hypot(0.03, 0.2 * t));
    } else if (lines.chamfer < 0 && lines.top < 0) {
      // A lone line may be the foot, or the inner one of the plate's chamfer with a chamfer as
      // light as the friction material: then only the texture tells where that begins.
      edge.depth_mm = ledge_mm();
      edge.depth_u_mm = 0.05;
      edge.ledge_share = 1;
      const std::optional<double> begins = texture_begins_mm();
      if (!begins) {
        widen_definition(edge, kChamferSpread_mm);
      } else if (*begins > std::max(0.2, 2.5 * pose.lanes.across_step_mm)) {
        edge.across_mm += *begins;
        widen_definition(edge, 0.1);
      } else {
        widen_definition(edge, 0.06);
      }
    } else {
      // The friction material's foot: as far behind the card as its face, so that an unknown ledge
      // moves both of its edges alike.
      edge.depth_mm = ledge_mm();
      edge.depth_u_mm = 0.05;
      edge.ledge_share = 1;
      // Where no ledge shows, its front and the foot lie within a pixel or two.
      widen_definition(edge,
                       lines.top >= 0
                           ? 0.03
                           : std::hypot(0.03, std::min(0.35 * t, 0.6 * pose.lanes.across_step_mm)));
    }
    return edge;
  }

  /// How far beyond the interface's line the friction material's rougher texture begins; nothing
  /// where plate and friction material are too alike to tell.
  std::optional<double> texture_begins_mm() const {
    const double line_mm = at(hypothesis.interface.line());
    const double plate_mm = at(hypothesis.plate.edge);
    const double face_mm = at(hypothesis.friction.chamfer >= 0 ? hypothesis.friction.chamfer
                                                               : hypothesis.friction.edge);
    constexpr double kLargestChamfer_mm = 1.3, kClear_mm = 0.3;
    if (face_mm - line_mm < 0.9) return std::nullopt;
    const auto rough = [&](double low, double high) {
      return pose.rows.roughness_between(pose.lanes.column(low), pose.lanes.column(high));
    };
    const double plate = rough(plate_mm + 0.8, line_mm - kClear_mm);
    const double friction =
        rough(std::min(line_mm + kLargestChamfer_mm, face_mm - 0.5), face_mm - kClear_mm);
    if (friction < 1.5 * plate) return std::nullopt;
    const double step_mm = pose.lanes.across_step_mm, level = (plate + friction) / 2;
    for (double beyond = 0; beyond < kLargestChamfer_mm; beyond += step_mm) {
      const double here = line_mm + beyond;
      if (rough(here - 0.5 * step_mm, here + 2.5 * step_mm) > level &&
          rough(here + 2 * step_mm, here + 6 * step_mm) > level)
        return beyond;
    }
    return std::nullopt;
  }

  /// The ledge's depth where both of its lines are seen, else what is usual.
  double ledge_mm() const {
    const InterfaceLines& lines = hypothesis.interface;
    if (lines.top >= 0 && lines.base >= 0) {
      const double t = pose.search.elevation(at(lines.top));
      const double chamfer =
          lines.chamfer >= 0 ? chamfer_mm(lines.chamfer, lines.top, t) : kTypicalChamfer_mm / 2;
      return std::clamp((at(lines.base) - at(lines.top)) / std::max(0.02, t) + chamfer, 0.0, 4.0);
    }
    return kTypicalLedge_mm;
  }

  PlacedEdge outer() const {
    const OuterLines& lines = hypothesis.friction;
    PlacedEdge edge = place("friction_outer", lines.edge, pose.search.friction_rests_at_mm ? 0 : +1,
                            chamfer_split_px());
    const double t = pose.search.elevation(at(lines.edge));
    set_chamfer_depth(edge, lines, t, ledge_mm());
    edge.ledge_share = 1;
    // Seen from above, the outer plane's far side must show beyond its edge. Where it does not, the
    // line taken may itself be the far side, and the true edge a fainter one below it.
    constexpr double kNarrowest_mm = 24, kVisible_mm = 0.4;
    const double here = at(lines.edge);
    if (pose.search.seen_at(here, kNarrowest_mm) - here > kVisible_mm &&
        !far_side_stands_out(lines))
      edge.confidence *= 0.55;
    if (another_chamfer_inside(lines)) edge.confidence *= 0.7;
    return edge;
  }

  /// Whether the far side is seen, and not picked from a striped background, where some line lies
  /// at the right place by chance.
  bool far_side_stands_out(const OuterLines& lines) const {
    if (lines.far < 0) return false;
    constexpr double kNarrowest_mm = 24, kWidest_mm = 80;
    constexpr int kStripes = 3;
    const double here = at(lines.edge), least = 0.5 * std::abs(line(lines.far).step);
    const double low = pose.search.seen_at(here, kNarrowest_mm);
    const double high = pose.search.seen_at(here, kWidest_mm);
    const auto alike = std::count_if(
        pose.search.lines.begin(), pose.search.lines.end(), [&](const LineCandidate& other) {
          const double across = other.at(pose.search.along_middle_mm);
          return across >= low && across <= high && std::abs(other.step) >= least;
        });
    return alike < kStripes;
  }

  /// Whether the line taken for the chamfer's inner one may be its outer one: another line, as
  /// clear as the edge itself, lies a chamfer's width further inside, and the edge is fainter than
  /// both.
  bool another_chamfer_inside(const OuterLines& lines) const {
    if (lines.chamfer < 0) return false;
    constexpr double kNarrowest_mm = 0.2, kWidest_mm = 1.2;
    const double faint = std::abs(line(lines.edge).step), here = at(lines.chamfer);
    if (std::abs(line(lines.chamfer).step) < faint) return false;
    const int lines_seen = static_cast<int>(pose.search.lines.size());
    for (int i = 0; i < lines_seen; ++i) {
      const double inside = here - at(i);
      if (inside < kNarrowest_mm || inside > kWidest_mm || at(i) <= at(hypothesis.interface.line()))
        continue;
      if (i != hypothesis.interface.base && std::abs(line(i).step) >= faint) return true;
    }
    return false;
  }

  void set_chamfer_depth(PlacedEdge& edge, const OuterLines& lines, double t,
                         double face_depth_mm) const {
    if (lines.chamfer >= 0 || edge.split_mm > 0) {
      const double chamfer = lines.chamfer >= 0 ? chamfer_mm(lines.chamfer, lines.edge, t)
                                                : edge.split_mm / std::max(0.3, 1 + t);
      edge.depth_mm = face_depth_mm + chamfer;
      edge.depth_u_mm = 0.3 * chamfer + 0.05;
      widen_definition(edge, 0.02 + 0.05 * chamfer);
    } else {
      // Sharp, or its chamfer is not told from a neighbour: the seen line may be either one.
      edge.depth_mm = face_depth_mm + 0.1;
      edge.depth_u_mm = 0.2;
      widen_definition(edge, 0.08);
    }
  }

  double chamfer_split_px() const { return 2.4 * part_blur; }

  double ledge_u_mm() const {
    return hypothesis.interface.top >= 0 && hypothesis.interface.base >= 0 ? 0.35 : kLedgeSpread_mm;
  }
};

void add_rivals(const PadPose& pose, const PadHypothesis& best, PartReading& reading) {
  const double middle = pose.search.along_middle_mm;
  const auto own = [&](std::size_t edge) {
    return edge == 0 ? best.plate.edge : edge == 1 ? best.interface.line() : best.friction.edge;
  };
  for (std::size_t e = 0; e < 3; ++e) {
    const double here = reading.edges[e].at(reading.edges[e].middle_mm);
    for (std::size_t i = 0; i < pose.search.lines.size(); ++i) {
      const LineCandidate& line = pose.search.lines[i];
      const double shift = line.at(middle) - here;
      if (static_cast<int>(i) == own(e) || std::abs(shift) > 3.0) continue;
      const int index = static_cast<int>(i);
      const char* words =
          index == best.plate.chamfer || index == best.interface.chamfer ||
                  index == best.friction.chamfer
              ? "where the flat face ends and the chamfer begins"
          : index == best.interface.base ? "where the friction material rises behind the ledge"
          : index == best.interface.top  ? "the plate's front edge"
          : index == best.friction.far || index == best.plate.far ? "the far side of the pad"
                                                                  : "another line nearby";
      reading.rivals[e].push_back(rival_of(reading.edges[e], line, words));
    }
    keep_strongest_rivals(reading.rivals[e]);
  }
}

}  // namespace

/// Other readings of the lines carry weight by their likelihood: near ones widen the edge's
/// definition, far ones lower its confidence.
void weigh_others(const PadPose& pose, const PadHypotheses& found, PartReading& reading) {
  constexpr double kTemperature = 0.7;
  constexpr double kNear_mm = 1.3;
  const auto line_of = [](const PadHypothesis& h, std::size_t edge) {
    return edge == 0 ? h.plate.edge : edge == 1 ? h.interface.line() : h.friction.edge;
  };
  double sum = 1;
  for (const PadHypothesis& h : found.others)
    sum += std::exp((h.score - found.best->score) / kTemperature);
  for (std::size_t e = 0; e < reading.edges.size(); ++e) {
    double near_variance = 0, far_share = 0;
    for (const PadHypothesis& h : found.others) {
      const double shift = pose.search.at(line_of(h, e)) - pose.search.at(line_of(*found.best, e));
      const double share = std::exp((h.score - found.best->score) / kTemperature) / sum;
      if (std::abs(shift) < kNear_mm)
        near_variance += share * shift * shift;
      else
        far_share += share;
    }
    PlacedEdge& edge = reading.edges[e];
    // Seen at an angle, what lies unseen behind a rounded edge grows with it.
    const double t = std::abs(pose.search.elevation(pose.search.at(line_of(*found.best, e))));
    edge.definition_u_mm =
        std::hypot(edge.definition_u_mm, std::hypot(std::sqrt(near_variance), 0.02 + 0.12 * t));
    edge.confidence *= 1 - far_share;
  }
}

PartReadingResult read_pad(const PlaneScene& scene, const MeasureOptions& options) {
  PartReadingResult result;
  std::vector<PadPose> poses;
  sample_pad_poses(scene, options.part_offset.offset_mm, poses);
  const PadPose* best_pose = nullptr;
  PadHypotheses best;
  double second_score = -1e9;
  for (const PadPose& pose : poses) {
    PadHypotheses found = search_pad(pose.search);
    if (!found.best) continue;
    if (!best.best || found.best->score > best.best->score) {
      if (best.best) second_score = std::max(second_score, best.best->score);
      best = std::move(found);
      best_pose = &pose;
    } else {
      second_score = std::max(second_score, found.best->score);
    }
  }
  if (!best.best || best.best->score < kLeastScore) {
    result.checks.push_back({"edges_not_found", Severity::stop,
                             "No pad was found in the card's notch. Stand the card against the pad "
                             "so that the pad shows through the notch, light it evenly, and take "
                             "the photo again."});
    return result;
  }
  const Builder builder(scene, *best_pose, *best.best);
  PartReading reading;
  reading.frame = best_pose->frame;
  reading.ledge_u_mm = builder.ledge_u_mm();
  reading.view = View::pad;
  reading.rivals.resize(3);
  reading.edges = {builder.plate_outer(), builder.interface(), builder.outer()};
  weigh_others(*best_pose, best, reading);
  // Another way of lying that is nearly as likely makes all three edges doubtful.
  const double other_pose = std::exp((second_score - best.best->score) / 1.3);
  for (PlacedEdge& edge : reading.edges) edge.confidence /= 1 + other_pose;
  // Chosen of 0.3 to 0.7 mm on drawn pads, for plate and whole pad; the friction material's two
  // edges allow for enough as it is.
  constexpr double kMistakenPlate_mm = 0.5;
  allow_for_mistakes(reading.edges[PartReading::plate_outer], kMistakenPlate_mm);
  add_rivals(*best_pose, *best.best, reading);
  result.reading = std::move(reading);
  return result;
}

}  // namespace scantling
