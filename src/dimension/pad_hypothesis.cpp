#include "dimension/pad_hypothesis.h"

#include <algorithm>
#include <cmath>

namespace scantling {
namespace {

// Sizes by common practice for cars: plates 4-8 mm, friction material to about 14 mm new, set back
// up to 3 mm, edges broken by up to about 1.2 mm, pads 35-70 mm wide.
constexpr double kLargestChamfer_mm = 1.3;
constexpr double kLargestLedge_mm = 3.2;
constexpr double kNarrowestPad_mm = 24;
constexpr double kWidestPad_mm = 110;
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
  double step(int line) const { return s_.lines[static_cast<std::size_t>(line)].step; }

  double strength(int line) const {
    const LineCandidate& l = s_.lines[static_cast<std::size_t>(line)];
    return std::log(std::min(1.0, std::abs(l.step) / 20)) +
           std::log(std::min(1.0, l.significance / 15)) + std::log(std::min(1.0, l.support / 0.85));
  }

  /// Lines between two places that a reading leaves unexplained.
  double unexplained(double low, double high) const {
    double sum = 0;
    for (int i = 0; i < count(); ++i)
      if (at(i) > low && at(i) < high) sum -= std::min(2.0, std::abs(step(i)) / 10);
    return sum;
  }

  double log_roughness(double low, double high) const {
    const double margin = std::min(0.35, (high - low) / 4);
    const double last = static_cast<double>(sum_.size()) - 1;
    const double a = std::clamp(std::ceil(s_.lanes->column(low + margin)), 0.0, last - 1);
    const double b = std::clamp(std::floor(s_.lanes->column(high - margin)) + 1, a + 1, last);
    return (sum_[static_cast<std::size_t>(b)] - sum_[static_cast<std::size_t>(a)]) / (b - a);
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
    return -0.5 * square((thickness - 5.7) / 1.4) + unexplained(low + 0.4, high - 0.05) -
           kTexture * log_roughness(low, high);
  }

  double friction(const OuterLines& outer, const InterfaceLines& in) const {
    const double thickness = at(outer.edge) - at(in.line());
    const double low = at(in.base >= 0 ? in.base : in.line());
    const double high = at(outer.chamfer >= 0 ? outer.chamfer : outer.edge);
    if (thickness < 0.4 || thickness > 22 || high < low + 0.25) return kImpossible;
    const double size = thickness > 14    ? -0.5 * square((thickness - 14) / 2)
                        : thickness < 1.5 ? -0.5 * square((1.5 - thickness) / 0.6)
                                          : 0;
    return size + unexplained(low + 0.05, high - 0.05) + kTexture * log_roughness(low, high);
  }

 private:
  static constexpr double kTexture = 0.9;

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
      o.score -= 0.5 * square(std::log(std::max(0.05, c) / 0.45) / 0.7);
    } else {
      o.score -= 0.7;  // most edges are broken
    }
    // Nothing but shadows can lie between the edge and the nearest place of the pad's far side.
    const double nearest = s_.seen_at(edge, kNarrowestPad_mm);
    const double visible = direction * (nearest - edge);
    if (visible > 0.05) {
      const double a = edge + direction * 0.05;
      o.score += 0.7 * unexplained(std::min(a, nearest), std::max(a, nearest));
    }
    if (o.far >= 0) {
      // Depth at which the outer plane reaches the far line.
      const double shift = at(o.far) - edge;
      const double rise = s_.camera_across_mm - edge;
      const double width = shift * s_.camera_distance_mm / (rise - shift);
      if (!(width > kNarrowestPad_mm && width < kWidestPad_mm)) return;
      o.score += 0.8 + std::max(-1.0, 0.5 * strength(o.far)) - 0.5 * square((width - 50) / 25);
      o.score += 0.25 * unexplained(std::min(nearest, at(o.far)) + 0.05,
                                    std::max(nearest, at(o.far)) - 0.05);
    } else if (visible > 0.4) {
      o.score -= 1.0;  // the far side ought to show
    }
    found.push_back(o);
  };
  const auto with_far = [&](int chamfer, int edge) {
    score({chamfer, edge, -1, 0});
    for (int k = edge + direction; k >= 0 && k < count(); k += direction)
      score({chamfer, edge, k, 0});
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
    double best = -1e9;
    for (int line : {in.chamfer, in.top, in.base})
      if (line >= 0) best = std::max(best, strength(line));
    in.score = best;
    if (in.chamfer >= 0) {
      const int above = in.top >= 0 ? in.top : in.base;
      const double c = (at(above) - at(in.chamfer)) / (1 + std::max(0.0, t));
      if (c < 0.05 || c > kLargestChamfer_mm) return;
      in.score -= 0.5 * square(std::log(c / 0.5) / 0.7);
    } else {
      in.score -= 0.4;
    }
    if (in.base >= 0 && in.top >= 0) {
      const double ledge = (at(in.base) - at(in.top)) / std::max(0.01, t);
      if (t < 0.02 || ledge > kLargestLedge_mm) return;
      in.score += 0.3 - 0.5 * square((ledge - 1.0) / 1.2);
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
      all.push_back({*plate, in, f, plate_score + in.score + s});
    }
  }
  PadHypotheses result;
  if (all.empty()) return result;
  std::sort(all.begin(), all.end(),
            [](const PadHypothesis& x, const PadHypothesis& y) { return x.score > y.score; });
  result.best = all.front();
  const PadHypothesis& best = all.front();
  std::vector<std::pair<int, int>> seen{{best.interface.line(), best.friction.edge}};
  for (const PadHypothesis& h : all) {
    if (h.score < best.score - 8 || result.others.size() >= 12) break;
    const std::pair<int, int> key{h.interface.line(), h.friction.edge};
    if (std::find(seen.begin(), seen.end(), key) != seen.end()) continue;
    seen.push_back(key);
    result.others.push_back(h);
  }
  return result;
}

}  // namespace scantling
