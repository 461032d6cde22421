#include "dimension/rim_hypothesis.h"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace scantling {
namespace {

// Sizes by common practice for cars: discs 7-36 mm thick, edges broken by up to 1.8 mm, lips 1.5 to
// 6 mm wide.
constexpr double kThinnest_mm = 6, kThickest_mm = 38;
constexpr double kLargestChamfer_mm = 1.9;
constexpr double kNarrowestLip_mm = 1.2, kWidestLip_mm = 7;
constexpr double kClearOfFace_mm = 2.8;  ///< vent mouths and bands begin further in
constexpr double kWidestDisc_mm = 330;
constexpr double kImpossible = -1e6;
/// Vent mouths' width along the disc's axis, and what the middle of the vents may stand off the
/// rim's: the cheeks of a vented disc are alike (common practice).
constexpr double kNarrowestVent_mm = 2.5, kWidestVent_mm = 18;
constexpr double kVentOffMiddle_mm = 0.5, kVentOffMiddleShare = 0.025;

double square(double x) {
  return x * x;
}

class Scorer {
 public:
  Scorer(const RimView& view, const RimEvidence& evidence) : view_(view), evidence_(evidence) {
    find_vents();
  }

  int count() const { return static_cast<int>(view_.lines.size()); }
  double at(int i) const { return view_.at(i); }
  const LineCandidate& line(int i) const { return view_.lines[static_cast<std::size_t>(i)]; }

  double evidence(int i) const {
    return std::clamp((line(i).significance - 5) / 8, 0.0, 1.0) *
           std::clamp((line(i).support - 0.6) / 0.25, 0.0, 1.0);
  }
  double strength(int i) const {
    const LineCandidate& l = line(i);
    return 0.8 * std::log(std::min(1.0, std::abs(l.step) / 18)) +
           std::log(std::min(1.0, l.significance / 14)) + std::log(std::min(1.0, l.support / 0.9)) +
           0.8 * std::log(0.15 + 0.85 * l.sharpness);
  }
  double weight(int i) const {
    return 2.4 * evidence(i) * (0.3 + 0.7 * std::min(1.0, std::abs(line(i).step) / 15)) *
           (0.2 + 0.8 * line(i).sharpness);
  }
  double parallel(int a, int b, double looseness) const {
    return -0.5 * square((line(a).slope - line(b).slope) / looseness);
  }

  /// direction +1: the face at greater across.
  std::vector<FaceLines> faces(int direction) const {
    std::vector<FaceLines> found;
    for (int edge = 0; edge < count(); ++edge) {
      add(direction, {-1, edge, -1, 0}, found);
      for (int inner = edge - direction; inner >= 0 && inner < count(); inner -= direction) {
        const double gap = std::abs(at(edge) - at(inner));
        if (gap > 1.5 * kLargestChamfer_mm) break;
        add(direction, {inner, edge, -1, 0}, found);
      }
    }
    return found;
  }

  RimHypothesis joined(const FaceLines& low, const FaceLines& high) const {
    RimHypothesis h{low, high, kImpossible, 0};
    const double thickness = at(high.edge) - at(low.edge);
    if (thickness < kThinnest_mm || thickness > kThickest_mm) return h;
    const double inner_low = at(low.inner >= 0 ? low.inner : low.edge);
    const double inner_high = at(high.inner >= 0 ? high.inner : high.edge);
    if (inner_high < inner_low + 2) return h;
    const double size = thickness < 9    ? -0.5 * square((9 - thickness) / 1.5)
                        : thickness > 32 ? -0.5 * square((thickness - 32) / 3)
                                         : 0;
    // Both ends of one rim look alike, between vent mouths and all.
    const double tone_low = level(inner_low + 0.4, inner_low + 2.2);
    const double tone_high = level(inner_high - 2.2, inner_high - 0.4);
    const double alike =
        -0.5 * square(std::log(std::max(4.0, tone_low) / std::max(4.0, tone_high)) / 0.22);
    h.crossed = crossed(low, high);
    h.score = kAlike * std::max(-3.5, alike) + view_.prior + low.score + high.score + size +
              parallel(low.edge, high.edge, 0.009) + vent_score(low, high) +
              chamfers_alike(low, high) + beyond_card(low, high) - kCrossed * h.crossed;
    return h;
  }

 private:
  double chamfer(const FaceLines& face, int direction) const {
    const double t = direction * view_.elevation(at(face.edge));
    return std::abs(at(face.edge) - at(face.inner)) / std::max(0.3, 1 + t);
  }

  /// A line that bends is none of this cylinder's.
  double straight(int i) const {
    return -std::min(6.0, 0.5 * square(evidence_.bent[static_cast<std::size_t>(i)]));
  }
  /// Of a broken edge's two lines one may be faint and fitted badly.
  double straight(const FaceLines& face) const {
    if (face.inner < 0) return kStraight * straight(face.edge);
    const auto [worse, better] = std::minmax({straight(face.edge), straight(face.inner)});
    return kStraight * better + kBothStraight * worse;
  }

  /// Whether both faces come out from behind the card, as far apart as in the notch, with one or
  /// the other of their lines. What lies behind them may be lighter there than here, or darker.
  double beyond_card(const FaceLines& low, const FaceLines& high) const {
    double sum = 0;
    for (const RimEvidence::Strip& strip : evidence_.beyond_card) {
      double best = 0;
      for (const int l : {low.edge, low.inner})
        for (const int h : {high.edge, high.inner})
          if (l >= 0 && h >= 0) best = std::max(best, comes_out(strip, l, h));
      sum += best;
    }
    return kBeyondCard * sum;
  }

  /// How well two lines of the notch are found again beyond the card: 0..1.
  double comes_out(const RimEvidence::Strip& strip, int low, int high) const {
    constexpr double kFarthest_mm = 7, kShift_mm = 3;
    constexpr double kMostApart_mm = 1.5, kSame_mm = 0.2, kApart_mm = 0.45;
    double best = 0;
    for (const LineCandidate& a : strip.lines) {
      const double shift = a.at(strip.middle_mm) - at(low);
      if (std::abs(shift) > kFarthest_mm) continue;
      for (const LineCandidate& b : strip.lines) {
        const double apart =
            std::abs(b.at(strip.middle_mm) - a.at(strip.middle_mm) - (at(high) - at(low)));
        if (apart > kMostApart_mm) continue;
        const double same_sense =
            (a.step * line(low).step > 0 ? 1 : 0.5) * (b.step * line(high).step > 0 ? 1 : 0.5);
        best =
            std::max(best, same_sense * std::sqrt(clear(a) * clear(b)) *
                               std::exp(-0.5 * square(std::max(0.0, apart - kSame_mm) / kApart_mm) -
                                        0.5 * square(shift / kShift_mm)));
      }
    }
    return best;
  }

  static double clear(const LineCandidate& l) {
    return std::clamp((l.significance - 5) / 8, 0.0, 1.0) *
           std::clamp((l.support - 0.5) / 0.3, 0.0, 1.0);
  }

  /// Both edges of a rim are mostly broken alike (common practice).
  double chamfers_alike(const FaceLines& low, const FaceLines& high) const {
    if (low.inner < 0 || high.inner < 0) return 0;
    const double apart = std::log(chamfer(low, -1) / chamfer(high, +1));
    return kChamfersAlike * (0.6 + std::max(-1.2, -0.5 * square(apart / 0.5)));
  }

  /// A row of vent mouths: dark between two lines that the ribs between the mouths interrupt.
  struct Vent {
    int first, last;
    double quality;  ///< 0 to 1
  };

  void find_vents() {
    const auto interrupted = [&](int i) {
      const double s = line(i).support;
      return s < 0.45 ? 0.0 : std::clamp((0.98 - s) / 0.06, 0.0, 1.0);
    };
    for (int i = 0; i < count(); ++i)
      for (int j = i + 1; j < count(); ++j) {
        const double gap = at(j) - at(i);
        if (gap > kWidestVent_mm) break;
        if (gap < kNarrowestVent_mm || line(i).step > 0 || line(j).step < 0) continue;
        const double depth = std::min(-line(i).step, line(j).step);
        const double quality = std::clamp((depth - 6) / 12, 0.0, 1.0) *
                               std::sqrt(interrupted(i) * interrupted(j)) *
                               std::exp(parallel(i, j, 0.012));
        if (quality > 0.1) vents_.push_back({i, j, quality});
      }
  }

  /// Vents lie in the middle of the rim, and their mouths' ends are no faces.
  double vent_score(const FaceLines& low, const FaceLines& high) const {
    const double middle = (at(low.edge) + at(high.edge)) / 2;
    const double thickness = at(high.edge) - at(low.edge);
    double best = 0, taken = 0;
    for (const Vent& v : vents_) {
      const double first = at(v.first), last = at(v.last);
      for (const int i : {low.edge, low.inner, high.edge, high.inner})
        if (i == v.first || i == v.last) taken = std::max(taken, v.quality);
      if (first < at(low.edge) + 2 || last > at(high.edge) - 2) continue;
      const double off = (first + last) / 2 - middle;
      const double share = (last - first) / thickness;
      const double fits =
          std::exp(-0.5 * square(off / (kVentOffMiddle_mm + kVentOffMiddleShare * thickness)));
      best = std::max(best, v.quality * fits * (share > 0.15 && share < 0.65 ? 1 : 0.3));
    }
    return 2.5 * best - 1.5 * taken;
  }

  double level(double first, double last) const {
    return view_.rows.level_between(view_.lanes.column(first), view_.lanes.column(last));
  }

  /// RimHypothesis::crossed. Vent mouths have their lines in pairs about the middle.
  double crossed(const FaceLines& low, const FaceLines& high) const {
    constexpr double kClear_mm = 2.5, kOpposite_mm = 0.8, kShareOfStep = 0.8;
    const double first = at(low.edge), last = at(high.edge);
    const double strong =
        kShareOfStep * std::min(std::abs(line(low.edge).step), std::abs(line(high.edge).step));
    double surest = 0;
    for (int i = 0; i < count(); ++i) {
      if (at(i) < first + kClear_mm) continue;
      if (at(i) > last - kClear_mm) break;
      const LineCandidate& l = line(i);
      const double sure = std::clamp((l.support - 0.9) / 0.08, 0.0, 1.0) *
                          std::clamp((l.significance - 6) / 6, 0.0, 1.0) *
                          std::min(1.0, std::abs(l.step) / strong) * l.sharpness;
      if (sure <= surest) continue;
      const auto opposite = [&, here = first + last - at(i)](const LineCandidate& other) {
        return std::abs(other.at(view_.middle_mm) - here) < kOpposite_mm;
      };
      if (std::none_of(view_.lines.begin(), view_.lines.end(), opposite)) surest = sure;
    }
    return surest;
  }

  /// Of the strip that begins beside a line on the side of `direction`.
  double level_beside(double line_mm, int direction) const {
    const double a = line_mm + 0.4 * direction, b = line_mm + 1.8 * direction;
    return std::max(4.0, level(std::min(a, b), std::max(a, b)));
  }

  void add(int direction, FaceLines face, std::vector<FaceLines>& found) const {
    const double edge = at(face.edge);
    const double t = direction * view_.elevation(edge);  // positive: the face itself is seen
    face.score = strength(face.edge);
    const double bent = straight(face);
    if (face.inner >= 0) {
      const double c = chamfer(face, direction);
      if (c < 0.12 || c > kLargestChamfer_mm) return;
      face.score = std::max(face.score, strength(face.inner) - 0.5);
      face.score -= 0.5 * square(std::log(c / 0.6) / 0.7);
      face.score +=
          parallel(face.inner, face.edge, 0.012) + 0.2 * std::max(-3.0, strength(face.inner));
      // A faint line inside a strong one is rust or dirt rather than a chamfer's beginning.
      face.score -= std::max(0.0, 1 - share(face.inner, face.edge) / 0.35);
    } else {
      face.score -= 1.4;  // nearly all edges are broken
    }
    // Beyond the face nothing runs with the rim but what lies on the face itself, where that is
    // seen: the lip, the track's rings, the bell's foot, the disc's far side.
    const double far_side =
        t > 0 ? t * kWidestDisc_mm / (1 + kWidestDisc_mm / view_.camera_distance_mm) : 0;
    double beyond = 0, lip_score = 0;
    for (int i = face.edge + direction; i >= 0 && i < count(); i += direction) {
      const double gap = direction * (at(i) - edge);
      if (t > 0.01 && face.lip < 0) {
        const double width = gap / t * (1 + gap / (t * view_.camera_distance_mm));
        if (width > kNarrowestLip_mm && width < kWidestLip_mm) {
          face.lip = i;
          lip_score = 0.4;
          continue;
        }
      }
      const double explained = gap < far_side ? 0.06 : 1;
      // Far away it may be the table, a bench, the bell.
      const double near = std::exp(-0.5 * square(gap / 2.5));
      beyond +=
          explained * alike(i, face.edge) * weight(i) * share(i, face.edge) * (0.3 + 0.95 * near);
    }
    // Where the rim goes on as before, the line is a seam, a score or a stain.
    const int innermost = face.inner >= 0 ? face.inner : face.edge;
    const double before = level_beside(at(innermost), -direction);
    const double after = level_beside(edge, direction);
    const double on = std::exp(-0.5 * square(std::log(after / before) / 0.09));
    // A chamfer has two lines; more of them close to the face are rather a face's own rings.
    double within = 0;
    for (int i = face.edge - direction; i >= 0 && i < count(); i -= direction) {
      if (i == face.inner) continue;
      const double gap = direction * (at(face.inner >= 0 ? face.inner : face.edge) - at(i));
      if (gap > kClearOfFace_mm) break;
      within += (gap < 1.2 ? 1 : 0.35) * alike(i, face.edge) * weight(i);
    }
    face.score +=
        bent + lip_score - 1.3 * on - kBeyondFace * std::min(4.0, beyond) - std::min(5.0, within);
    found.push_back(face);
  }

  double alike(int i, int edge) const {
    return std::exp(-0.5 * square((line(i).slope - line(edge).slope) / 0.012));
  }
  double share(int i, int edge) const {
    return std::min(1.0, std::abs(line(i).step) / (0.5 * std::abs(line(edge).step)));
  }

  // Fitted to drawn rims with all else as it stood, the rest of the photos held back in turn.
  static constexpr double kStraight = 0.38, kBothStraight = 0.45, kBeyondCard = 1.8;
  static constexpr double kBeyondFace = 0.65, kAlike = 1.8, kChamfersAlike = 1.8;
  // Chosen afterwards, of 1.5, 2 and 3, on drawn rims and with the rendered ones in sight.
  static constexpr double kCrossed = 2;

  const RimView& view_;
  const RimEvidence& evidence_;
  std::vector<Vent> vents_;
};

}  // namespace

RimHypotheses search_rim(const RimView& view, const RimEvidence& evidence) {
  const Scorer scorer(view, evidence);
  const std::vector<FaceLines> lows = scorer.faces(-1), highs = scorer.faces(+1);
  std::vector<RimHypothesis> all;
  for (const FaceLines& low : lows)
    for (const FaceLines& high : highs) {
      RimHypothesis h = scorer.joined(low, high);
      if (h.score > kImpossible / 2) all.push_back(h);
    }
  RimHypotheses result;
  if (all.empty()) return result;
  std::sort(all.begin(), all.end(),
            [](const RimHypothesis& x, const RimHypothesis& y) { return x.score > y.score; });
  result.best = all.front();
  using Key = std::pair<int, int>;
  std::vector<Key> seen{{all.front().low.edge, all.front().high.edge}};
  for (const RimHypothesis& h : all) {
    if (h.score < all.front().score - 8 || result.others.size() >= 20) break;
    const Key key{h.low.edge, h.high.edge};
    if (std::find(seen.begin(), seen.end(), key) != seen.end()) continue;
    seen.push_back(key);
    result.others.push_back(h);
  }
  return result;
}

}  // namespace scantling
