// Casts rays through the scene and adds up the light, in linear units.

#include <algorithm>
#include <functional>
#include <thread>

#include "support/drawn_cast.h"
#include "support/drawn_scene.h"
#include "support/drawn_surfaces.h"

namespace scantling::drawn {
namespace {

constexpr std::uint8_t kMixed = 255;

/// Places in a pixel and on the lamp. The places form a Fibonacci lattice, shifted at random for
/// each pixel: it gives the share of a pixel that an edge leaves free to about 1/count.
class Pattern {
 public:
  Pattern(int count, int step) {
    for (int i = 0; i < count; ++i) {
      in_pixel_.push_back({(i + 0.5) / count, static_cast<double>(i * step % count) / count});
      const int turn = i * (step - 1) % count;  // so that lamp and pixel are not in step
      const double radius = std::sqrt((turn + 0.5) / count), angle = turn * 2.399963;
      on_lamp_.push_back({radius * std::cos(angle), radius * std::sin(angle)});
    }
  }
  std::size_t size() const { return in_pixel_.size(); }
  Point_mm in_pixel(std::size_t i, double dx, double dy) const {
    const double x = in_pixel_[i].x + dx, y = in_pixel_[i].y + dy;
    return {x - std::floor(x) - 0.5, y - std::floor(y) - 0.5};
  }
  Point_mm on_lamp(std::size_t i, double c, double s) const {
    return {c * on_lamp_[i].x - s * on_lamp_[i].y, s * on_lamp_[i].x + c * on_lamp_[i].y};
  }

 private:
  std::vector<Point_mm> in_pixel_, on_lamp_;
};

struct Sum {
  Colour light;
  std::uint8_t thing = 0;  ///< kMixed where there are several
  bool uneven = false;
};

class Caster {
 public:
  Caster(const Camera& camera, const Surroundings& world, std::uint32_t seed)
      : seed_(seed), camera_(camera), world_(world) {}

  Sum sample(int x, int y, const Pattern& pattern) const {
    Sum sum;
    std::uint32_t key = mix(static_cast<std::uint32_t>(x) ^
                            mix(static_cast<std::uint32_t>(y) ^
                                mix(seed_ + static_cast<std::uint32_t>(pattern.size()))));
    const double dx = (key & 0xFFFFu) / 65536.0, dy = (key >> 16) / 65536.0;
    key = mix(key + 1);
    const double turn = key * 0x1p-32 * 2 * std::numbers::pi;
    const double c = std::cos(turn), s = std::sin(turn);
    double least = 1e9, most = 0;
    bool surroundings = true;
    for (std::size_t i = 0; i < pattern.size(); ++i) {
      const Point_mm at = pattern.in_pixel(i, dx, dy);
      const Seen seen = world_.look(camera_.ray(x + at.x, y + at.y), pattern.on_lamp(i, c, s));
      sum.light += (1.0 / static_cast<double>(pattern.size())) * seen.light;
      least = std::min(least, seen.light.green);
      most = std::max(most, seen.light.green);
      surroundings &= seen.surroundings;
      const auto thing = static_cast<std::uint8_t>(seen.thing);
      if (i == 0)
        sum.thing = thing;
      else if (thing != sum.thing)
        sum.thing = kMixed;
    }
    // The surroundings' texture may stay coarse; the part's may not.
    sum.uneven = most - least > (surroundings ? 0.4 : 0.12) * (most + least);
    return sum;
  }

 private:
  std::uint32_t seed_;
  const Camera& camera_;
  const Surroundings& world_;
};

/// Calls `row(y)` for each y, in two threads.
void for_rows(int rows, const std::function<void(int)>& row) {
  constexpr int kThreads = 2;
  std::vector<std::thread> threads;
  for (int thread = 0; thread < kThreads; ++thread)
    threads.emplace_back([&, thread] {
      for (int y = thread; y < rows; y += kThreads) row(y);
    });
  for (std::thread& thread : threads) thread.join();
}

cv::Vec3f stored(Colour c) {
  return {static_cast<float>(c.red), static_cast<float>(c.green), static_cast<float>(c.blue)};
}

/// Whether another surface than this pixel's own shows in it or next to it.
bool at_border(const cv::Mat& things, int x, int y) {
  const std::uint8_t own = things.at<std::uint8_t>(y, x);
  if (own == kMixed) return true;
  for (int v = std::max(0, y - 1); v <= std::min(things.rows - 1, y + 1); ++v)
    for (int u = std::max(0, x - 1); u <= std::min(things.cols - 1, x + 1); ++u)
      if (things.at<std::uint8_t>(v, u) != own) return true;
  return false;
}

}  // namespace

cv::Mat cast_light(const DrawnScene& scene) {
  return cast_light(Camera(scene.camera), scene.camera, World(scene), scene.seed);
}

cv::Mat cast_light(const Camera& camera, const DrawnCamera& settings, const Surroundings& world,
                   std::uint32_t seed) {
  const Caster caster(camera, world, seed);
  const Pattern coarse(4, 3), uneven(13, 8), border(34, 21);
  const int rows = settings.height_px, cols = settings.width_px;
  cv::Mat light(rows, cols, CV_32FC3), things(rows, cols, CV_8UC1), again(rows, cols, CV_8UC1);
  for_rows(rows, [&](int y) {
    for (int x = 0; x < cols; ++x) {
      const Sum sum = caster.sample(x, y, coarse);
      light.at<cv::Vec3f>(y, x) = stored(sum.light);
      things.at<std::uint8_t>(y, x) = sum.thing;
      again.at<std::uint8_t>(y, x) = sum.uneven;
    }
  });
  for_rows(rows, [&](int y) {
    for (int x = 0; x < cols; ++x) {
      if (at_border(things, x, y))
        light.at<cv::Vec3f>(y, x) = stored(caster.sample(x, y, border).light);
      else if (again.at<std::uint8_t>(y, x))
        light.at<cv::Vec3f>(y, x) = stored(caster.sample(x, y, uneven).light);
    }
  });
  return light;
}

}  // namespace scantling::drawn
