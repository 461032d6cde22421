#include <Eigen/Geometry>
#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>
#include <numbers>
#include <opencv2/aruco.hpp>
#include <ostream>
#include <set>
#include <stdexcept>

#include "made_mesh.h"

namespace scantling::made {

namespace {

constexpr double kHalfSheet_mm = 70;  // along x, from the middle of the notch card
constexpr double kMiddle_mm = 64;
constexpr double kBottom_mm = 78;
constexpr double kThickness_mm = 0.3;

/// The card as a grid of 1 mm cells: squares, markers and notch all lie on whole millimetres.
struct Grid {
  int x0 = 0, y0 = 0, columns = 0, rows = 0;
  std::vector<char> ink, cut;

  size_t at(int x, int y) const { return static_cast<size_t>((y - y0) * columns + (x - x0)); }
  bool inside(int x, int y) const {
    return x >= x0 && y >= y0 && x < x0 + columns && y < y0 + rows;
  }
  bool solid(int x, int y) const { return inside(x, y) && !cut[at(x, y)]; }
};

int whole_mm(double value) {
  const int whole = static_cast<int>(std::lround(value));
  if (std::abs(value - whole) > 1e-9) {
    throw std::runtime_error("the card's lines do not lie on whole millimetres");
  }
  return whole;
}

void fill(Grid& grid, int x, int y, int width, int height, bool ink) {
  for (int j = y; j < y + height; ++j) {
    for (int i = x; i < x + width; ++i) grid.ink[grid.at(i, j)] = ink;
  }
}

Grid read_grid(const std::filesystem::path& definition) {
  std::ifstream stream(definition);
  if (!stream) throw std::runtime_error("cannot read " + definition.string());
  const auto card = nlohmann::json::parse(stream);
  const auto& extent = card.at("sheet_extent_mm");
  Grid grid;
  grid.x0 = whole_mm(extent.at("x")[0]);
  grid.y0 = whole_mm(extent.at("y")[0]);
  grid.columns = whole_mm(extent.at("x")[1]) - grid.x0;
  grid.rows = whole_mm(extent.at("y")[1]) - grid.y0;
  grid.ink.assign(static_cast<size_t>(grid.columns * grid.rows), 0);
  grid.cut = grid.ink;
  const int square = whole_mm(card.at("square_mm"));
  for (int row = 0; row < card.at("rows"); ++row) {
    for (int column = row % 2; column < card.at("columns"); column += 2) {
      fill(grid, column * square, row * square, square, square, true);
    }
  }
  const auto dictionary = cv::aruco::getPredefinedDictionary(cv::aruco::DICT_4X4_250);
  for (const auto& marker : card.at("markers")) {
    const auto& corners = marker.at("corners_mm");
    const int x = whole_mm(corners[0][0]), y = whole_mm(corners[0][1]);
    const int size = whole_mm(corners[2][0]) - x;
    cv::Mat bits;
    dictionary->drawMarker(marker.at("id"), 6, bits, 1);
    const int module = size / 6;
    for (int j = 0; j < 6; ++j) {
      for (int i = 0; i < 6; ++i) {
        fill(grid, x + i * module, y + j * module, module, module, bits.at<uchar>(j, i) == 0);
      }
    }
  }
  const auto& notch = card.at("notch");
  for (int y = whole_mm(notch.at("y_min")); y < whole_mm(notch.at("y_max")); ++y) {
    for (int x = whole_mm(notch.at("x_min")); x < whole_mm(notch.at("x_max")); ++x) {
      grid.cut[grid.at(x, y)] = 1;
    }
  }
  return grid;
}

}  // namespace

CardPlace::CardPlace(const Scene& scene) : card_(scene.card) {}

Vec3 CardPlace::world(double x, double y, double z) const {
  const double middle = kMiddle_mm * card_.scale_x;
  const double bottom = kBottom_mm * card_.scale_y;
  double along = x * card_.scale_x - middle;
  if (card_.mirrored) along = -along;
  Vec3 p(along, y * card_.scale_y - bottom, z);
  if (card_.curl_mm != 0) {
    // A cylinder keeps lengths along the paper; the ends bend back by curl_mm.
    const double reach = kHalfSheet_mm * card_.scale_x;
    const double radius = reach * reach / (2 * card_.curl_mm);
    const double angle = along / radius;
    p.x() = (radius - z) * std::sin(angle);
    p.z() = radius - (radius - z) * std::cos(angle);
  }
  const double lean = card_.lean_deg * std::numbers::pi / 180;
  const Vec3 leaning(p.x(), p.y() * std::cos(lean) + p.z() * std::sin(lean),
                     -p.y() * std::sin(lean) + p.z() * std::cos(lean));
  return leaning + Vec3(middle, bottom, 0);
}

CardMesh card_mesh(const Scene& scene, const std::filesystem::path& definition) {
  const Grid grid = read_grid(definition);
  const CardPlace place(scene);
  CardMesh mesh;
  const auto face = [&](Mesh& m, const Vec3& a, const Vec3& b, const Vec3& c, const Vec3& d) {
    m.quad(m.add(a), m.add(b), m.add(c), m.add(d));
  };
  const auto wall = [&](double xa, double ya, double xb, double yb) {
    face(mesh.paper, place.world(xa, ya), place.world(xb, yb), place.world(xb, yb, kThickness_mm),
         place.world(xa, ya, kThickness_mm));
  };
  for (int y = grid.y0; y < grid.y0 + grid.rows; ++y) {
    for (int x = grid.x0; x < grid.x0 + grid.columns; ++x) {
      if (!grid.solid(x, y)) continue;
      Mesh& front = grid.ink[grid.at(x, y)] ? mesh.ink : mesh.paper;
      face(front, place.world(x, y), place.world(x + 1, y), place.world(x + 1, y + 1),
           place.world(x, y + 1));
      face(mesh.paper, place.world(x, y, kThickness_mm), place.world(x + 1, y, kThickness_mm),
           place.world(x + 1, y + 1, kThickness_mm), place.world(x, y + 1, kThickness_mm));
      if (!grid.solid(x - 1, y)) wall(x, y, x, y + 1);
      if (!grid.solid(x + 1, y)) wall(x + 1, y, x + 1, y + 1);
      if (!grid.solid(x, y - 1)) wall(x, y, x + 1, y);
      if (!grid.solid(x, y + 1)) wall(x, y + 1, x + 1, y + 1);
    }
  }
  return mesh;
}

}  // namespace scantling::made
