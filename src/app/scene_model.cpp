#include "app/scene_model.h"

#include <algorithm>
#include <cmath>

#include "report/wording.h"

namespace scantling {

namespace {

constexpr double kCameraLength_mm = 42;
constexpr double kPadMargin_mm = 9;
constexpr int kRimSides = 48;

World3 operator+(const World3& a, const World3& b) {
  return {a[0] + b[0], a[1] + b[1], a[2] + b[2]};
}
World3 operator-(const World3& a, const World3& b) {
  return {a[0] - b[0], a[1] - b[1], a[2] - b[2]};
}
World3 operator*(double f, const World3& a) {
  return {f * a[0], f * a[1], f * a[2]};
}
double dot(const World3& a, const World3& b) {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
World3 cross(const World3& a, const World3& b) {
  return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}
World3 unit(const World3& a) {
  return (1 / std::max(1e-9, std::sqrt(dot(a, a)))) * a;
}

std::optional<PlanePiece> side_of(const SolvedPhoto& photo) {
  const auto shows = [&](PlanePiece piece) {
    return std::find(photo.shows.begin(), photo.shows.end(), piece) != photo.shows.end();
  };
  const bool a = shows(PlanePiece::card_a), b = shows(PlanePiece::card_b);
  if (a == b) return std::nullopt;
  return a ? PlanePiece::card_a : PlanePiece::card_b;
}

SceneCamera camera_at(const World3& eye, const World3& right, const World3& down,
                      const World3& forward, double half_width, double half_height) {
  SceneCamera camera;
  camera.eye = eye;
  const World3 middle = eye + kCameraLength_mm * forward;
  const World3 x = kCameraLength_mm * half_width * right;
  const World3 y = kCameraLength_mm * half_height * down;
  camera.picture = {middle - x - y, middle + x - y, middle + x + y, middle - x + y};
  return camera;
}

class Builder {
 public:
  Builder(const PlanesResult& result, double card_mm, std::optional<double> disc_diameter_mm)
      : result_(result), card_mm_(card_mm), diameter_mm_(disc_diameter_mm) {}

  Scene build() {
    for (const SolvedPiece& piece : result_.pieces)
      scene_.faces.push_back({role_of(piece.piece), {piece.outline.begin(), piece.outline.end()}});
    result_.view == PlanesView::faces ? add_disc() : add_pad();
    add_cameras();
    frame();
    return std::move(scene_);
  }

 private:
  static SceneRole role_of(PlanePiece piece) {
    return piece == PlanePiece::ground   ? SceneRole::sheet
           : piece == PlanePiece::card_a ? SceneRole::card_a
                                         : SceneRole::card_b;
  }

  std::string words(const char* name) const {
    const Dimension* size = result_.dimension(name);
    return size ? size_with_95(size->quantity) : std::string();
  }

  // Both faces lie behind the cards; the disc stands on the sheet, so its middle is one radius up.
  void add_disc() {
    const SolvedPiece* a = result_.piece(PlanePiece::card_a);
    const SolvedPiece* b = result_.piece(PlanePiece::card_b);
    if (!a || !b) return;
    const World3 along = unit(a->axes[2] - b->axes[2]);
    const World3 on_a = a->middle + card_mm_ * a->axes[2], on_b = b->middle + card_mm_ * b->axes[2];
    const double thickness = dot(on_b - on_a, along);
    if (!(thickness > 0) || thickness > 100) return;
    scene_.disc_assumed = !diameter_mm_;
    const double radius = diameter_mm_.value_or(kUsualDiscDiameter_mm) / 2;
    const World3 upright{0, 0, -1};
    const World3 up = unit(upright - dot(upright, along) * along), side = cross(along, up);
    constexpr double kFromFace_deg = 52;
    scene_.home_deg = std::atan2(-along[0], -along[1]) * 180 / M_PI + kFromFace_deg;
    const World3 card = 0.5 * (on_a + on_b);
    const double height = -card[2];
    const World3 middle = card + std::max(0.0, radius - height) * up;
    const auto ring = [&](double offset, int i) {
      const double turn = 2 * M_PI * i / kRimSides;
      return middle + offset * along + radius * (std::cos(turn) * side + std::sin(turn) * up);
    };
    SceneFace near{SceneRole::part, {}}, far{SceneRole::part, {}};
    for (int i = 0; i < kRimSides; ++i) {
      near.outline.push_back(ring(-thickness / 2, i));
      far.outline.push_back(ring(thickness / 2, i));
      scene_.faces.push_back({SceneRole::part_rim,
                              {ring(-thickness / 2, i), ring(thickness / 2, i),
                               ring(thickness / 2, i + 1), ring(-thickness / 2, i + 1)},
                              false});
    }
    scene_.faces.push_back(std::move(near));
    scene_.faces.push_back(std::move(far));
    if (const std::string text = words("worn_thickness"); !text.empty()) {
      // Beside the disc at the cards' height, where nothing hides it.
      const double drop = std::clamp(radius - height, 0.0, radius);
      const double reach = std::sqrt(std::max(0.0, radius * radius - drop * drop));
      // On the side that the next photo leaves free.
      const bool crowded = result_.next_photo && dot(result_.next_photo->place - card, side) > 0;
      const double way = crowded ? -1 : 1;
      const World3 rim = card + way * reach * side, out = card + way * (reach + 26) * side;
      const World3 half = 0.5 * thickness * along;
      scene_.size = SceneSize{out - half, out + half, rim - half, rim + half, text};
    }
  }

  void add_pad() {
    const SolvedPiece* a = result_.piece(PlanePiece::card_a);
    const SolvedPiece* b = result_.piece(PlanePiece::card_b);
    const SolvedPiece* first = a ? a : b;
    if (!first) return;
    const World3 flat{first->axes[0][0], first->axes[0][1], 0};
    const World3 x = unit(flat), y{-x[1], x[0], 0};
    double low_x = 1e9, high_x = -1e9, low_y = 1e9, high_y = -1e9;
    for (const SolvedPiece* piece : {a, b})
      if (piece)
        for (const World3& corner : piece->outline) {
          low_x = std::min(low_x, dot(corner, x)), high_x = std::max(high_x, dot(corner, x));
          low_y = std::min(low_y, dot(corner, y)), high_y = std::max(high_y, dot(corner, y));
        }
    low_x -= kPadMargin_mm, high_x += kPadMargin_mm;
    low_y -= kPadMargin_mm, high_y += kPadMargin_mm;
    const World3& into = first->axes[2];
    // The card's own plane, one card deeper, over a place of the sheet.
    const auto top = [&](double along_x, double along_y) {
      World3 place = along_x * x + along_y * y;
      const World3& m = first->middle;
      place[2] =
          m[2] + card_mm_ -
          (into[0] * (place[0] - m[0]) + into[1] * (place[1] - m[1])) / std::max(0.2, into[2]);
      return place;
    };
    const auto foot = [&](double along_x, double along_y) { return along_x * x + along_y * y; };
    const std::array<std::array<double, 2>, 4> ends = {
        {{low_x, low_y}, {high_x, low_y}, {high_x, high_y}, {low_x, high_y}}};
    SceneFace lid{SceneRole::part, {}};
    for (std::size_t i = 0; i < 4; ++i) {
      const auto& p = ends[i];
      const auto& q = ends[(i + 1) % 4];
      lid.outline.push_back(top(p[0], p[1]));
      scene_.faces.push_back(
          {SceneRole::part_rim,
           {foot(p[0], p[1]), foot(q[0], q[1]), top(q[0], q[1]), top(p[0], p[1])}});
    }
    scene_.faces.push_back(std::move(lid));
    if (const std::string text = words("overall_thickness"); !text.empty()) {
      const double out = high_x + 16;
      scene_.size = SceneSize{top(out, high_y), foot(out, high_y), top(high_x, high_y),
                              foot(high_x, high_y), text};
    }
  }

  void add_cameras() {
    for (std::size_t i = 0; i < result_.photos.size(); ++i) {
      const SolvedPhoto& photo = result_.photos[i];
      if (!photo.solved || !(photo.focal_px > 0)) continue;
      SceneCamera camera =
          camera_at(photo.place, photo.axes[0], photo.axes[1], photo.axes[2],
                    0.5 * photo.width_px / photo.focal_px, 0.5 * photo.height_px / photo.focal_px);
      camera.photo = i;
      camera.side = side_of(photo);
      scene_.cameras.push_back(camera);
    }
    if (!result_.next_photo) return;
    const SolvedPiece* piece = result_.piece(result_.next_photo->piece);
    if (!piece) return;
    const World3 eye = result_.next_photo->place, forward = unit(piece->middle - eye);
    World3 right = cross(forward, World3{0, 0, -1});
    if (dot(right, right) < 1e-6) right = {1, 0, 0};
    right = unit(right);
    scene_.next = camera_at(eye, right, cross(forward, right), forward, 0.6, 0.45);
    scene_.next->side = result_.next_photo->piece;
  }

  void frame() {
    World3 low{1e9, 1e9, 1e9}, high{-1e9, -1e9, -1e9};
    const auto take = [&](const World3& place) {
      for (std::size_t k = 0; k < 3; ++k) {
        low[k] = std::min(low[k], place[k]);
        high[k] = std::max(high[k], place[k]);
      }
    };
    for (const SceneFace& face : scene_.faces)
      for (const World3& corner : face.outline) take(corner);
    for (const SceneCamera& camera : scene_.cameras) take(camera.eye);
    if (scene_.next) take(scene_.next->eye);
    if (low[0] > high[0]) return;
    scene_.middle = 0.5 * (low + high);
    // The box's corners are mostly empty: nine tenths of its half diagonal hold the scene.
    scene_.radius_mm = std::max(80.0, 0.45 * std::sqrt(dot(high - low, high - low)));
  }

  const PlanesResult& result_;
  double card_mm_;
  std::optional<double> diameter_mm_;
  Scene scene_;
};

}  // namespace

Scene scene_of(const PlanesResult& result, double card_mm, std::optional<double> disc_diameter_mm) {
  return Builder(result, card_mm, disc_diameter_mm).build();
}

}  // namespace scantling
