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

double square(double x) {
  return x * x;
}

class Scorer {
 public:
  explicit Scorer(const RimView& view) : view_(view) {}

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
    RimHypothesis h{low, high, kImpossible};
    const double thickness = at(high.edge) - at(low.edge);
    if (thickness < kThinnest_mm || thickness > kThickest_mm) return h;
    const double inner_low = at(low.inner >= 0 ? low.inner : low.edge);
    const double inner_high = at(high.inner >= 0 ? high.inner : high.edge);
    if (inner_high < inner_low + 2) return h;
    const double size = thickness < 8    ? -0.5 * square((8 - thickness) / 1.5)
                        : thickness > 32 ? -0.5 * square((thickness - 32) / 3)
                                         : 0;
    // Both ends of one rim look alike, between vent mouths and all.
    const double tone_low = level(inner_low + 0.4, inner_low + 2.2);
    const double tone_high = level(inner_high - 2.2, inner_high - 0.4);
    const double alike =
        -0.5 * square(std::log(std::max(4.0, tone_low) / std::max(4.0, tone_high)) / 0.22);
    h.score = std::max(-3.5, alike) + view_.prior + low.score + high.score + size +
              parallel(low.edge, high.edge, 0.009);
    return h;
  }

 private:
  double level(double first, double last) const {
    return view_.rows.level_between(view_.lanes.column(first), view_.lanes.column(last));
  }

  void add(int direction, FaceLines face, std::vector<FaceLines>& found) const {
    const double edge = at(face.edge);
    const double t = direction * view_.elevation(edge);  // positive: the face itself is seen
    face.score = strength(face.edge);
    if (face.inner >= 0) {
      const double c = std::abs(edge - at(face.inner)) / std::max(0.3, 1 + t);
      if (c < 0.12 || c > kLargestChamfer_mm) return;
      face.score = std::max(face.score, strength(face.inner) - 0.5);
      face.score -= 0.5 * square(std::log(c / 0.6) / 0.7);
      face.score +=
          parallel(face.inner, face.edge, 0.012) + 0.2 * std::max(-3.0, strength(face.inner));
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
    // A chamfer has two lines; more of them close to the face are rather a face's own rings.
    double within = 0;
    for (int i = face.edge - direction; i >= 0 && i < count(); i -= direction) {
      if (i == face.inner) continue;
      const double gap = direction * (at(face.inner >= 0 ? face.inner : face.edge) - at(i));
      if (gap > kClearOfFace_mm) break;
      within += (gap < 1.2 ? 1 : 0.35) * alike(i, face.edge) * weight(i);
    }
    face.score += lip_score - std::min(4.0, beyond) - std::min(5.0, within);
    found.push_back(face);
  }

  double alike(int i, int edge) const {
    return std::exp(-0.5 * square((line(i).slope - line(edge).slope) / 0.012));
  }
  double share(int i, int edge) const {
    return std::min(1.0, std::abs(line(i).step) / (0.5 * std::abs(line(edge).step)));
  }

  const RimView& view_;
};

}  // namespace

RimHypotheses search_rim(const RimView& view) {
  const Scorer scorer(view);
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
