#include "dimension/pad_hypothesis.h"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace scantling {
namespace {

// Sizes by common practice for cars: plates 4-8 mm, friction material to about 14 mm new, set back
// up to 3 mm, edges broken by up to about 1.2 mm, pads 35-70 mm wide.
constexpr double kLargestChamfer_mm = 1.3;
constexpr double kLargestLedge_mm = 3.2;
constexpr double kNarrowestPad_mm = 24;
constexpr double kLean = 0.015;  ///< usual lean or yaw of the part against the card, radian
constexpr double kImpossible = -1e6;

double square(double x) {
  return x * x;
}

/// Log-likelihood scores. All are sums over the plate's side, the interface and the friction side,
/// so that the best of each can be sought on its own.
class Scorer {
 public:
  explicit Scorer(const PadSearch& s) : s_(s) {
    sum_.assign(1, 0);
    for (double r : s.rows->roughness) sum_.push_back(sum_.back() + std::log(std::max(0.5, r)));
  }

  int count() const { return static_cast<int>(s_.lines.size()); }
  double at(int line) const { return s_.at(line); }
  double slope(int line) const { return s_.lines[static_cast<std::size_t>(line)].slope; }
  /// Lines of one solid edge run parallel; `looseness` is the slope that is still usual.
  double parallel(int a, int b, double looseness) const {
    return -0.5 * square((slope(a) - slope(b)) / looseness);
  }
  double step(int line) const { return s_.lines[static_cast<std::size_t>(line)].step; }

  /// How surely a line is a real, straight, long one: 0..1. Texture gives low support.
  double evidence(int line) const {
    const LineCandidate& l = s_.lines[static_cast<std::size_t>(line)];
    return std::clamp((l.significance - 5) / 8, 0.0, 1.0) *
           std::clamp((l.support - 0.6) / 0.25, 0.0, 1.0);
  }

  /// What a line is worth as an edge. The friction material's upper edge is weak by nature, so a
  /// small step costs little as long as it runs straight through.
  double strength(int line) const {
    const LineCandidate& l = s_.lines[static_cast<std::size_t>(line)];
    return 0.6 * std::log(std::min(1.0, std::abs(l.step) / 15)) +
           std::log(std::min(1.0, l.significance / 12)) + std::log(std::min(1.0, l.support / 0.85));
  }

  /// Lines between two places that a reading leaves unexplained.
  double unexplained(double low, double high) const {
    double sum = 0;
    for (int i = 0; i < count(); ++i)
      if (at(i) > low && at(i) < high) sum -= weight(i);
    return sum;
  }

  double weight(int line) const {
    return 2.4 * evidence(line) * (0.4 + 0.6 * std::min(1.0, std::abs(step(line)) / 12));
  }

  double log_roughness(double low, double high) const {
    const double margin = std::min(0.35, (high - low) / 4);
    const double last = static_cast<double>(sum_.size()) - 1;
    const double a = std::clamp(std::ceil(s_.lanes->column(low + margin)), 0.0, last - 1);
    const double b = std::clamp(std::floor(s_.lanes->column(high - margin)) + 1, a + 1, last);
    return (sum_[static_cast<std::size_t>(b)] - sum_[static_cast<std::size_t>(a)]) / (b - a);
  }

  /// Against the whole view's middle roughness; a narrow strip's own edges make it look rough, so
  /// it counts by its width.
  double roughness_score(double low, double high) const {
    const double middle = sum_.back() / (static_cast<double>(sum_.size()) - 1);
    return (log_roughness(low, high) - middle) * std::min(1.0, (high - low) / 1.5);
  }

  double rest(double across, const std::optional<double>& table) const {
    return table ? std::max(-6.0, -0.5 * square((across - *table) / 0.45)) : 0;
  }

  std::vector<OuterLines> outer_lines(int direction) const;
  std::vector<InterfaceLines> interface_lines() const;

  /// The plate between its outer lines and an interface.
  double plate(const OuterLines& outer, const InterfaceLines& in) const {
    const double thickness = at(in.line()) - at(outer.edge);
    if (thickness < 2.3 || thickness > 11) return kImpossible;
    const double low = at(outer.chamfer >= 0 ? outer.chamfer : outer.edge), high = lowest(in);
    return -0.5 * square((thickness - 5.7) / 1.05) + parallel(outer.edge, in.line(), 0.012) +
           unexplained(low + 0.4, high - 0.05) - kTexture * roughness_score(low, high);
  }

  double friction(const OuterLines& outer, const InterfaceLines& in) const {
    const double thickness = at(outer.edge) - at(in.line());
    const double low = at(in.base >= 0 ? in.base : in.line());
    const double high = at(outer.chamfer >= 0 ? outer.chamfer : outer.edge);
    if (thickness < 0.4 || thickness > 22 || high < low + 0.25) return kImpossible;
    const double size = thickness > 14    ? -0.5 * square((thickness - 14) / 2)
                        : thickness < 2.0 ? -0.5 * square((2.0 - thickness) / 0.5)
                                          : 0;
    return size + parallel(in.line(), outer.edge, 0.04) + unexplained(low + 0.05, high - 0.05) +
           kTexture * log_roughness(low, high);
  }

 private:
  static constexpr double kTexture = 0.9;
  static constexpr double kParallel = 0.006;

  double weakness(int line) const { return std::max(-3.0, strength(line)); }

  double lowest(const InterfaceLines& in) const {
    return at(in.chamfer >= 0 ? in.chamfer : in.line());
  }

  const PadSearch& s_;
  std::vector<double> sum_;
};

/// direction +1: the friction material's outer plane; -1: the plate's.
std::vector<OuterLines> Scorer::outer_lines(int direction) const {
  std::vector<OuterLines> found;
  const auto score = [&](OuterLines o) {
    const double edge = at(o.edge);
    const double t = direction * s_.elevation(edge);  // positive: the outer plane itself is seen
    o.score = strength(o.edge);
    if (o.chamfer >= 0) {
      o.score = std::max(o.score, strength(o.chamfer) - 0.3);
      const double c = direction * (edge - at(o.chamfer)) / std::max(0.3, 1 + t);
      if (c > kLargestChamfer_mm) return;
      o.score -= 0.5 * square(std::log(std::max(0.05, c) / 0.4) / 0.6);
      o.score += parallel(o.chamfer, o.edge, kParallel) + 0.4 * weakness(o.chamfer);
      o.score +=
          unexplained(std::min(at(o.chamfer), edge) + 0.02, std::max(at(o.chamfer), edge) - 0.02);
      const bool dark = direction * step(o.chamfer) < 0 && direction * step(o.edge) > 0;
      if (dark && t > 0) o.score -= 1.0;
    } else {
      o.score -= 0.7;  // most edges are broken
    }
    // Between the edge and the pad's far side lie only shadows, the card's own among them; but a
    // parallel line close to the edge is the edge's own.
    const double nearest = s_.seen_at(edge, kNarrowestPad_mm);
    const double visible = direction * (nearest - edge);
    const double beyond = o.far >= 0 ? at(o.far) - direction * 0.05 : nearest;
    for (int i = o.edge + direction; i >= 0 && i < count(); i += direction) {
      const double gap = direction * (at(i) - edge);
      if (i == o.far || gap > std::max(direction * (beyond - edge), 1.2 * kLargestChamfer_mm))
        break;
      const bool own = gap < 1.2 * kLargestChamfer_mm && std::abs(slope(i) - slope(o.edge)) < 0.008;
      const bool inside = gap < direction * (beyond - edge);
      // A bright strip between two opposite steps is a chamfer catching the light, a dark one the
      // card's shadow on the plane beyond.
      const double share = std::min(1.0, std::abs(step(i)) / (0.4 * std::abs(step(o.edge))));
      const bool opposite = step(i) * step(o.edge) < 0;
      const bool bright = direction * step(o.edge) > 0;
      const double near = share * (!opposite ? 0.9 : bright ? 1.5 : 0.3);
      o.score -= std::max(own && t > -0.02 ? near : 0.0, inside ? 0.3 : 0.0) * weight(i);
    }
    if (o.far >= 0) {
      // The outer plane must reach the far line at a pad's usual width, for some small yaw or lean
      // of the part against the card.
      const double shift = direction * (at(o.far) - edge);
      const auto tangent = [&](double width) {
        return shift * (1 + width / s_.camera_distance_mm) / width;
      };
      const double low = tangent(72), high = tangent(30);
      const double off = t < low ? low - t : t > high ? t - high : 0;
      if (off > 4 * kLean) return;
      const double e = evidence(o.far) * std::min(1.0, std::abs(step(o.far)) / 10);
      o.score += 1.3 * e - 0.7 - 0.5 * square(off / kLean) + parallel(o.far, o.edge, 0.03);
    } else if (visible > 0.4) {
      o.score -= 0.7;  // the far side ought to show
    }
    found.push_back(o);
  };
  // Of the far lines only the likeliest counts for each edge.
  const auto with_far = [&](int chamfer, int edge) {
    const std::size_t before = found.size();
    score({chamfer, edge, -1, 0});
    for (int k = edge + direction; k >= 0 && k < count(); k += direction)
      score({chamfer, edge, k, 0});
    if (found.size() <= before + 1) return;
    const auto first = found.begin() + static_cast<long>(before);
    std::iter_swap(
        first, std::max_element(first, found.end(), [](const OuterLines& a, const OuterLines& b) {
          return a.score < b.score;
        }));
    found.resize(before + 1);
  };
  for (int edge = 0; edge < count(); ++edge) {
    with_far(-1, edge);
    for (int k = edge - direction; k >= 0 && k < count(); k -= direction) {
      const double gap = std::abs(at(k) - at(edge));
      if (gap > kLargestChamfer_mm * 1.5) break;
      if (gap > 0.05) with_far(k, edge);
    }
  }
  return found;
}

std::vector<InterfaceLines> Scorer::interface_lines() const {
  std::vector<InterfaceLines> found;
  const auto add = [&](InterfaceLines in) {
    const double t = s_.elevation(at(in.line()));
    in.score = strength(in.line());
    if (in.chamfer >= 0) in.score = std::max(in.score, strength(in.chamfer) - 1.0);
    if (in.chamfer >= 0) {
      const int above = in.top >= 0 ? in.top : in.base;
      const double c = (at(above) - at(in.chamfer)) / (1 + std::max(0.0, t));
      if (c < 0.05 || c > kLargestChamfer_mm) return;
      in.score -= 0.5 * square(std::log(c / 0.5) / 0.7);
      in.score += parallel(in.chamfer, above, kParallel) + 0.4 * weakness(in.chamfer);
      // A wide dark strip is rather the plate's shadow on the friction material.
      if (step(in.chamfer) < 0 && step(above) > 0 && c > 0.6) in.score -= 1.2;
    } else {
      in.score -= 0.4;
    }
    if (in.chamfer >= 0 || in.top >= 0)
      in.score +=
          0.5 * (unexplained(at(in.chamfer >= 0 ? in.chamfer : in.top) + 0.02, at(in.base) - 0.02) -
                 (in.top >= 0 && in.chamfer >= 0 ? unexplained(at(in.top) - 1e-6, at(in.top) + 1e-6)
                                                 : 0));
    if (in.top >= 0) {
      const double ledge = (at(in.base) - at(in.top)) / std::max(0.01, t);
      if (t < 0.02 || ledge > kLargestLedge_mm) return;
      in.score += 0.3 - 0.5 * square((ledge - 1.1) / 1.2);
      in.score += parallel(in.top, in.base, kParallel) + 0.4 * weakness(in.base);
    }
    found.push_back(in);
  };
  for (int i = 0; i < count(); ++i) {
    add({-1, -1, i, 0});
    for (int j = i + 1; j < count(); ++j) {
      const double gap = at(j) - at(i);
      if (gap > 2.2) break;
      add({i, -1, j, 0});
      add({-1, i, j, 0});
      for (int k = j + 1; k < count() && at(k) - at(j) < 1.5; ++k) add({i, j, k, 0});
    }
  }
  return found;
}

}  // namespace

PadHypotheses search_pad(const PadSearch& search) {
  const Scorer scorer(search);
  std::vector<OuterLines> plates = scorer.outer_lines(-1);
  std::vector<OuterLines> frictions = scorer.outer_lines(+1);
  for (OuterLines& p : plates) p.score += scorer.rest(scorer.at(p.edge), search.plate_rests_at_mm);
  for (OuterLines& f : frictions)
    f.score += scorer.rest(scorer.at(f.edge), search.friction_rests_at_mm);

  std::vector<PadHypothesis> all;
  for (const InterfaceLines& in : scorer.interface_lines()) {
    const OuterLines* plate = nullptr;
    double plate_score = kImpossible;
    for (const OuterLines& p : plates) {
      if (scorer.at(p.edge) >= scorer.at(in.line())) continue;
      const double s = p.score + scorer.plate(p, in);
      if (s > plate_score) {
        plate_score = s;
        plate = &p;
      }
    }
    if (!plate || plate_score <= kImpossible / 2) continue;
    for (const OuterLines& f : frictions) {
      if (scorer.at(f.edge) <= scorer.at(in.line())) continue;
      const double s = f.score + scorer.friction(f, in);
      if (s <= kImpossible / 2) continue;
      all.push_back({*plate, in, f, search.prior + plate_score + in.score + s});
    }
  }
  PadHypotheses result;
  if (all.empty()) return result;
  std::sort(all.begin(), all.end(),
            [](const PadHypothesis& x, const PadHypothesis& y) { return x.score > y.score; });
  result.best = all.front();
  const PadHypothesis& best = all.front();
  using Key = std::tuple<int, int, int>;
  std::vector<Key> seen{{best.plate.edge, best.interface.line(), best.friction.edge}};
  for (const PadHypothesis& h : all) {
    if (h.score < best.score - 8 || result.others.size() >= 20) break;
    const Key key{h.plate.edge, h.interface.line(), h.friction.edge};
    if (std::find(seen.begin(), seen.end(), key) != seen.end()) continue;
    seen.push_back(key);
    result.others.push_back(h);
  }
  return result;
}

}  // namespace scantling
