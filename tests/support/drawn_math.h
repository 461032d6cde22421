#pragma once

#include <cmath>
#include <cstdint>
#include <numbers>

namespace scantling::drawn {

/// A place or direction in the card's frame, mm.
struct Vec3 {
  double x = 0, y = 0, z = 0;
};

inline Vec3 operator+(Vec3 a, Vec3 b) {
  return {a.x + b.x, a.y + b.y, a.z + b.z};
}
inline Vec3 operator-(Vec3 a, Vec3 b) {
  return {a.x - b.x, a.y - b.y, a.z - b.z};
}
inline Vec3 operator*(double s, Vec3 a) {
  return {s * a.x, s * a.y, s * a.z};
}
inline double dot(Vec3 a, Vec3 b) {
  return a.x * b.x + a.y * b.y + a.z * b.z;
}
inline Vec3 cross(Vec3 a, Vec3 b) {
  return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
inline Vec3 unit(Vec3 a) {
  return (1 / std::sqrt(dot(a, a))) * a;
}
inline double radians(double degrees) {
  return degrees * std::numbers::pi / 180;
}

/// A rigid map: world = origin + a * p.x + b * p.y + c * p.z, with orthonormal a, b, c.
struct Frame {
  Vec3 origin, a{1, 0, 0}, b{0, 1, 0}, c{0, 0, 1};

  Vec3 direction_out(Vec3 p) const { return p.x * a + p.y * b + p.z * c; }
  Vec3 out(Vec3 p) const { return origin + direction_out(p); }
  Vec3 direction_in(Vec3 p) const { return {dot(p, a), dot(p, b), dot(p, c)}; }
  Vec3 in(Vec3 p) const { return direction_in(p - origin); }
};

/// A ball around something, to tell cheaply that a ray misses it.
struct Ball {
  Vec3 centre;
  double radius = 0;

  /// False only where the line of origin and (unit) direction stays outside.
  bool near(Vec3 origin, Vec3 direction) const {
    const Vec3 to = centre - origin;
    const double along = dot(to, direction);
    return dot(to, to) - along * along <= radius * radius;
  }
};

/// One round of a 32-bit mixing function: the same numbers on every machine.
inline std::uint32_t mix(std::uint32_t v) {
  v = v * 747796405u + 2891336453u;
  v = ((v >> ((v >> 28) + 4)) ^ v) * 277803737u;
  return (v >> 22) ^ v;
}

/// Random numbers that do not depend on the standard library's choice of algorithm.
class Random {
 public:
  explicit Random(std::uint64_t seed) : state_(seed * 0x9E3779B97F4A7C15ull + 0x1234567) {}

  std::uint64_t next() {
    std::uint64_t z = (state_ += 0x9E3779B97F4A7C15ull);
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ull;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBull;
    return z ^ (z >> 31);
  }
  /// Evenly spread over [0, 1).
  double uniform() { return static_cast<double>(next() >> 11) * 0x1.0p-53; }
  double between(double low, double high) { return low + (high - low) * uniform(); }
  /// Evenly spread on a logarithmic scale.
  double log_between(double low, double high) { return low * std::pow(high / low, uniform()); }
  double normal() {
    const double u = 1 - uniform();
    return std::sqrt(-2 * std::log(u)) * std::cos(2 * std::numbers::pi * uniform());
  }
  bool chance(double probability) { return uniform() < probability; }
  int below(int count) { return static_cast<int>(uniform() * count); }

 private:
  std::uint64_t state_;
};

}  // namespace scantling::drawn
