// Casts rays through the scene and adds up the light, in linear units.

#include <algorithm>
#include <thread>

#include "support/drawn_card.h"
#include "support/drawn_scene.h"
#include "support/drawn_solid.h"
#include "support/drawn_surfaces.h"

namespace scantling::drawn {
namespace {

constexpr int kCoarse = 2;  ///< samples along each side of a quiet pixel
constexpr int kFine = 4;    ///< and of one in which something happens

struct Sum {
  Colour light;
  double least = 1e9, most = 0;
  int first_thing = -1;
  bool mixed = false;
  bool surroundings = true;
};

/// Samples of a lamp's disc in a golden spiral; each pixel turns them anew.
std::vector<Point_mm> lamp_samples(int count) {
  std::vector<Point_mm> samples;
  for (int i = 0; i < count; ++i) {
    const double radius = std::sqrt((i + 0.5) / count), angle = i * 2.399963;
    samples.push_back({radius * std::cos(angle), radius * std::sin(angle)});
  }
  return samples;
}

class Caster {
 public:
  explicit Caster(const DrawnScene& scene) : scene_(scene), camera_(scene.camera), world_(scene) {}

  Colour pixel(int x, int y) const {
    const Sum coarse = sample(x, y, kCoarse, 0);
    // The surroundings' texture may stay coarse; borders, print and the part may not.
    const double spread = (coarse.most - coarse.least) / (coarse.most + coarse.least + 1e-9);
    const bool busy = coarse.mixed || spread > (coarse.surroundings ? 0.4 : 0.12);
    return busy ? sample(x, y, kFine, 97).light : coarse.light;
  }

 private:
  Sum sample(int x, int y, int side, std::uint32_t salt) const {
    Sum sum;
    const std::uint32_t key = mix(static_cast<std::uint32_t>(x) ^
                                  mix(static_cast<std::uint32_t>(y) ^ mix(scene_.seed + salt)));
    const double turn = key * 0x1p-32 * 2 * std::numbers::pi;
    const double c = std::cos(turn), s = std::sin(turn);
    const auto& lamp = side == kFine ? fine_ : coarse_;
    std::uint32_t noise = key;
    const int count = side * side;
    for (int i = 0; i < count; ++i) {
      noise = mix(noise + 1);
      const double jx = (noise & 0xFFFFu) / 65536.0, jy = (noise >> 16) / 65536.0;
      const double px = x - 0.5 + (i % side + jx) / side;
      const double py = y - 0.5 + (i / side + jy) / side;
      const Point_mm from = lamp[static_cast<std::size_t>(i)];
      const Seen seen =
          world_.look(camera_.ray(px, py), {c * from.x - s * from.y, s * from.x + c * from.y});
      sum.light += (1.0 / count) * seen.light;
      sum.least = std::min(sum.least, seen.light.green);
      sum.most = std::max(sum.most, seen.light.green);
      if (i == 0) sum.first_thing = seen.thing;
      sum.mixed |= seen.thing != sum.first_thing;
      sum.surroundings &= seen.surroundings;
    }
    return sum;
  }

  const DrawnScene& scene_;
  Camera camera_;
  World world_;
  std::vector<Point_mm> coarse_ = lamp_samples(kCoarse * kCoarse);
  std::vector<Point_mm> fine_ = lamp_samples(kFine * kFine);
};

}  // namespace

cv::Mat cast_light(const DrawnScene& scene) {
  const Caster caster(scene);
  cv::Mat light(scene.camera.height_px, scene.camera.width_px, CV_32FC3);
  constexpr int kThreads = 2;
  std::vector<std::thread> threads;
  for (int thread = 0; thread < kThreads; ++thread)
    threads.emplace_back([&, thread] {
      for (int y = thread; y < light.rows; y += kThreads) {
        auto* row = light.ptr<cv::Vec3f>(y);
        for (int x = 0; x < light.cols; ++x) {
          const Colour c = caster.pixel(x, y);
          row[x] = {static_cast<float>(c.red), static_cast<float>(c.green),
                    static_cast<float>(c.blue)};
        }
      }
    });
  for (std::thread& thread : threads) thread.join();
  return light;
}

}  // namespace scantling::drawn
