#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>
#include <ostream>
#include <random>

#include "made_mesh.h"

namespace scantling::made {

namespace {

constexpr double kPi = std::numbers::pi;

/// A point of a closed outline in plan, with its outward normal.
struct OutlinePoint {
  double u = 0, w = 0;
  double nu = 0, nw = 0;
  bool front = false;
};

/// A rectangle with round corners from u0 to u1, w0 to w1; its front follows the edge's curve.
std::vector<OutlinePoint> outline(double u0, double u1, double w0, double w1, double corner,
                                  const std::function<double(double)>& fall_back) {
  std::vector<OutlinePoint> points;
  const auto line = [&](double ua, double wa, double ub, double wb, double nu, double nw,
                        double step, bool front) {
    const int n = std::max(1, static_cast<int>(std::hypot(ub - ua, wb - wa) / step));
    for (int i = 0; i <= n; ++i) {
      const double t = static_cast<double>(i) / n;
      points.push_back({ua + t * (ub - ua), wa + t * (wb - wa), nu, nw, front});
    }
  };
  const auto arc = [&](double cu, double cw, double from_deg) {
    constexpr int kSteps = 10;
    for (int i = 1; i < kSteps; ++i) {
      const double a = (from_deg + 90.0 * i / kSteps) * kPi / 180;
      points.push_back(
          {cu + corner * std::cos(a), cw + corner * std::sin(a), std::cos(a), std::sin(a), false});
    }
  };
  line(u0 + corner, w0, u1 - corner, w0, 0, -1, 0.25, true);
  arc(u1 - corner, w0 + corner, -90);
  line(u1, w0 + corner, u1, w1 - corner, 1, 0, 2, false);
  arc(u1 - corner, w1 - corner, 0);
  line(u1 - corner, w1, u0 + corner, w1, 0, 1, 2, false);
  arc(u0 + corner, w1 - corner, 90);
  line(u0, w1 - corner, u0, w0 + corner, -1, 0, 2, false);
  arc(u0 + corner, w0 + corner, 180);
  for (auto& p : points) p.w += fall_back(p.u);
  return points;
}

/// One ring of a wall: how far inside the outline, and how high, at each outline point.
struct Ring {
  std::function<double(const OutlinePoint&, size_t)> inset;
  std::function<double(const OutlinePoint&, size_t)> height;
};

Mesh loft(const PadShape& shape, const std::vector<OutlinePoint>& plan,
          const std::vector<Ring>& rings, bool cap_first) {
  Mesh mesh;
  const int n = static_cast<int>(plan.size());
  double middle_u = 0, middle_w = 0;
  for (const auto& p : plan) middle_u += p.u / n, middle_w += p.w / n;
  for (const auto& ring : rings) {
    for (size_t i = 0; i < plan.size(); ++i) {
      const auto& p = plan[i];
      const double inset = ring.inset(p, i);
      mesh.add(shape.world(p.u - inset * p.nu, ring.height(p, i), p.w - inset * p.nw));
    }
  }
  for (int k = 0; k + 1 < static_cast<int>(rings.size()); ++k) {
    for (int i = 0; i < n; ++i) {
      const int j = (i + 1) % n;
      mesh.quad(k * n + i, k * n + j, (k + 1) * n + j, (k + 1) * n + i);
    }
  }
  const auto cap = [&](int first, const Ring& ring) {
    const OutlinePoint centre{middle_u, middle_w, 0, 0, false};
    const int c = mesh.add(shape.world(middle_u, ring.height(centre, 0), middle_w));
    for (int i = 0; i < n; ++i) mesh.triangles.push_back({c, first + i, first + (i + 1) % n});
  };
  cap((static_cast<int>(rings.size()) - 1) * n, rings.back());
  if (cap_first) cap(0, rings.front());
  return mesh;
}

/// Inset and drop of a chamfer (straight) or a rounding (quarter circle) at step t in 0..1.
struct Bevel {
  double inset = 0, drop = 0;
};
Bevel bevel(bool rounded, double t) {
  if (!rounded) return {t, 1 - t};
  return {1 - std::cos(t * kPi / 2), 1 - std::sin(t * kPi / 2)};
}

Mesh plate_mesh(const PadShape& shape, const PartSettings& part) {
  const auto& plate = part.plate;
  const auto plan = outline(-part.length_mm / 2, part.length_mm / 2, 0, part.depth_mm,
                            part.corner_mm, [&](double u) { return shape.edge_depth_mm(u); });
  std::vector<Ring> rings;
  const int steps = plate.rounded ? 6 : 1;
  const auto ring = [&](double inset, double height) {
    rings.push_back({[=](const OutlinePoint&, size_t) { return inset; },
                     [=](const OutlinePoint&, size_t) { return height; }});
  };
  const double c = plate.chamfer_mm;
  for (int i = steps; i >= 0; --i) {
    const Bevel b = bevel(plate.rounded, static_cast<double>(i) / steps);
    ring(c * b.inset, c * b.drop);
  }
  for (int i = 0; i <= steps; ++i) {
    const Bevel b = bevel(plate.rounded, static_cast<double>(i) / steps);
    ring(c * b.inset, plate.thickness_mm - c * b.drop);
  }
  return loft(shape, plan, rings, true);
}

/// The size of the chamfer along the outline: ragged by nature, larger where a crumb broke out.
std::vector<double> chamfer_sizes(const std::vector<OutlinePoint>& plan, const PartSettings& part,
                                  std::mt19937& random) {
  const auto& friction = part.friction;
  std::normal_distribution<double> normal(0, 1);
  std::uniform_real_distribution<double> uniform(0, 1);
  std::vector<double> size(plan.size());
  double wander = 0;
  for (double& s : size) {
    wander = 0.8 * wander + 0.6 * normal(random);
    s = std::max(0.05, friction.chamfer_mm + friction.ragged_mm * wander);
  }
  const double smallest = *std::min_element(size.begin(), size.end());
  // Raggedness eats into the material but the flat faces stay where they are.
  for (double& s : size) s += std::max(0.0, friction.chamfer_mm * 0.6 - smallest) * 0.5;
  for (int crumb = 0; crumb < friction.crumbs; ++crumb) {
    const double at = (uniform(random) - 0.5) * 0.8 * part.length_mm;
    const double width = 0.8 + 2.5 * uniform(random);
    const double deep = std::min(0.4 * friction.thickness_mm, 0.4 + 1.2 * uniform(random));
    for (size_t i = 0; i < plan.size(); ++i) {
      const double d = (plan[i].u - at) / width;
      if (plan[i].front && std::abs(d) < 1) {
        size[i] += deep * std::sqrt(1 - d * d) * (0.8 + 0.3 * uniform(random));
      }
    }
  }
  for (double& s : size) s = std::min(s, 0.6 * friction.thickness_mm);
  return size;
}

Mesh friction_block(const PadShape& shape, const PartSettings& part, double u0, double u1,
                    double top_share, std::mt19937& random) {
  const auto& friction = part.friction;
  const double w0 = friction.setback_mm;
  const double w1 = part.depth_mm - friction.setback_mm;
  const double corner = std::min(part.corner_mm, 0.2 * (u1 - u0));
  const auto plan =
      outline(u0, u1, w0, w1, corner, [&](double u) { return shape.edge_depth_mm(u); });
  const auto sizes = chamfer_sizes(plan, part, random);
  const auto top = [&shape, top_share](double u) {
    return shape.plate_mm() + top_share * shape.friction_mm(u);
  };
  std::vector<Ring> rings;
  constexpr double kSunk_mm = 0.05;  // no gap between the friction material and the plate
  rings.push_back({[](const OutlinePoint&, size_t) { return 0.0; },
                   [&](const OutlinePoint&, size_t) { return shape.plate_mm() - kSunk_mm; }});
  const int steps = friction.rounded ? 6 : 1;
  for (int i = 0; i <= steps; ++i) {
    const Bevel b = bevel(friction.rounded, static_cast<double>(i) / steps);
    rings.push_back({[b, &sizes](const OutlinePoint&, size_t k) { return sizes[k] * b.inset; },
                     [b, &sizes, top](const OutlinePoint& p, size_t k) {
                       return top(p.u - sizes[k] * b.inset * p.nu) - sizes[k] * b.drop;
                     }});
  }
  // The cap's middle must lie on the flat face: it has no chamfer there.
  rings.back().height = [top, &sizes, b = bevel(friction.rounded, 1)](const OutlinePoint& p,
                                                                      size_t k) {
    return top(p.u - (p.nu == 0 && p.nw == 0 ? 0 : sizes[k] * b.inset * p.nu));
  };
  return loft(shape, plan, rings, false);
}

}  // namespace

PadShape::PadShape(const Scene& scene) : part_(scene.part) {
  const double middle = 64 * scene.card.scale_x;
  const double table = 78 * scene.card.scale_y;
  inwards_ = {0, 0, 1};
  const double thickness = overall_mm(0);
  if (part_.pose == "lying") {
    along_ = {1, 0, 0}, through_ = {0, -1, 0};
    origin_ = {middle, table, part_.offset_mm};
  } else if (part_.pose == "friction_down") {
    along_ = {1, 0, 0}, through_ = {0, 1, 0};
    origin_ = {middle, table - thickness, part_.offset_mm};
  } else if (upright()) {
    const double side = part_.pose == "standing_right" ? 1 : -1;
    along_ = {0, -1, 0}, through_ = {side, 0, 0};
    origin_ = {middle - side * thickness / 2, table - part_.length_mm / 2, part_.offset_mm};
  } else {
    throw std::runtime_error("unknown pose of the part: " + part_.pose);
  }
}

Vec3 PadShape::world(double u, double v, double w) const {
  return origin_ + u * along_ + v * through_ + w * inwards_;
}

double PadShape::u_of(const Vec3& world_mm) const {
  return (world_mm - origin_).dot(along_);
}

double PadShape::friction_mm(double u) const {
  return part_.friction.thickness_mm + part_.friction.taper_per_mm * u;
}

double PadShape::edge_depth_mm(double u) const {
  return part_.edge_radius_mm == 0 ? 0 : u * u / (2 * part_.edge_radius_mm);
}

PadMesh pad_mesh(const Scene& scene) {
  const PadShape shape(scene);
  const auto& part = scene.part;
  std::mt19937 random(part.seed);
  PadMesh mesh;
  mesh.plate = plate_mesh(shape, part);
  const double reach = part.length_mm / 2 - part.friction.end_gap_mm;
  if (part.friction.slot_mm > 0) {
    const double half = part.friction.slot_mm / 2;
    constexpr double kSlotFloor = 0.25;  // share of the thickness left under the slot
    mesh.friction = friction_block(shape, part, -reach, -half, 1, random);
    mesh.friction.append(friction_block(shape, part, half, reach, 1, random));
    mesh.friction.append(friction_block(shape, part, -half - 1, half + 1, kSlotFloor, random));
  } else {
    mesh.friction = friction_block(shape, part, -reach, reach, 1, random);
  }
  return mesh;
}

}  // namespace scantling::made
