#include <fstream>
#include <nlohmann/json.hpp>
#include <opencv2/aruco.hpp>
#include <stdexcept>
#include <vector>

#include "made_placement.h"

namespace scantling::made {

namespace {

constexpr int kCellsPerSquare = 8;  // a marker has 6, with one of white around it

/// The chessboard in cells of an eighth of a square; true is ink.
struct Pattern {
  int columns = 0, rows = 0;
  double cell_mm = 0;
  std::vector<char> ink;

  char& at(int x, int y) { return ink[static_cast<size_t>(y * columns + x)]; }
  char at(int x, int y) const { return ink[static_cast<size_t>(y * columns + x)]; }
};

Pattern pattern_of(const nlohmann::json& card) {
  const int columns = card.at("columns"), rows = card.at("rows");
  const double square = card.at("square_mm"), marker = card.at("marker_mm");
  Pattern pattern{columns * kCellsPerSquare, rows * kCellsPerSquare, square / kCellsPerSquare, {}};
  if (std::abs(marker - 6 * pattern.cell_mm) > 1e-9)
    throw std::runtime_error("the card's markers do not fill three quarters of their squares");
  pattern.ink.assign(static_cast<size_t>(pattern.columns * pattern.rows), 0);
  const auto dictionary = cv::aruco::getPredefinedDictionary(cv::aruco::DICT_4X4_250);
  int id = card.at("first_id");
  for (int row = 0; row < rows; ++row)
    for (int column = 0; column < columns; ++column) {
      const bool black = (row + column) % 2 == 0;
      cv::Mat bits;
      if (!black) dictionary->drawMarker(id++, 6, bits, 1);
      for (int y = 0; y < kCellsPerSquare; ++y)
        for (int x = 0; x < kCellsPerSquare; ++x) {
          const bool marked = !black && x > 0 && y > 0 && x < 7 && y < 7;
          pattern.at(column * kCellsPerSquare + x, row * kCellsPerSquare + y) =
              black || (marked && bits.at<uchar>(y - 1, x - 1) == 0);
        }
    }
  return pattern;
}

void add_box(Mesh& mesh, const PlacedSheet& sheet, double x0, double y0, double x1, double y1,
             double z) {
  mesh.quad(mesh.add(sheet.world(x0, y0, z)), mesh.add(sheet.world(x1, y0, z)),
            mesh.add(sheet.world(x1, y1, z)), mesh.add(sheet.world(x0, y1, z)));
}

}  // namespace

CardMesh sheet_mesh(const PlacedSheet& sheet, const std::filesystem::path& cards) {
  const std::string file = sheet.card == "ground"    ? "ground_sheet.json"
                           : sheet.card == "track_b" ? "track_card_b.json"
                           : sheet.card == "track"   ? "track_card.json"
                                                     : "notch_card.json";
  std::ifstream stream(cards / file);
  if (!stream) throw std::runtime_error("cannot read " + (cards / file).string());
  const auto card = nlohmann::json::parse(stream);
  const Pattern pattern = pattern_of(card);
  const double thick = card.at("thickness_mm");
  const auto& extent = card.at("sheet_extent_mm");
  const double x0 = extent.at("x")[0], x1 = extent.at("x")[1];
  const double y0 = extent.at("y")[0], y1 = extent.at("y")[1];
  const double right = pattern.columns * pattern.cell_mm, down = pattern.rows * pattern.cell_mm;
  CardMesh mesh;
  // Runs of equal cells in each row, then the margins, the back and the cut sides.
  const auto cut = card.at("notch");
  const auto in_notch = [&](double x, double y) {
    return !cut.is_null() && x > cut.at("x_min") && x < cut.at("x_max") && y > cut.at("y_min");
  };
  for (int y = 0; y < pattern.rows; ++y)
    for (int x = 0; x < pattern.columns;) {
      const double middle_y = (y + 0.5) * pattern.cell_mm;
      const bool open = in_notch((x + 0.5) * pattern.cell_mm, middle_y);
      int end = x + 1;
      while (end < pattern.columns && pattern.at(end, y) == pattern.at(x, y) &&
             in_notch((end + 0.5) * pattern.cell_mm, middle_y) == open)
        ++end;
      if (!open)
        add_box(pattern.at(x, y) ? mesh.ink : mesh.paper, sheet, x * pattern.cell_mm,
                y * pattern.cell_mm, end * pattern.cell_mm, (y + 1) * pattern.cell_mm, 0);
      x = end;
    }
  add_box(mesh.paper, sheet, x0, y0, x1, 0, 0);
  add_box(mesh.paper, sheet, x0, 0, 0, down, 0);
  add_box(mesh.paper, sheet, right, 0, x1, down, 0);
  const auto side = [&](double xa, double ya, double xb, double yb) {
    mesh.paper.quad(mesh.paper.add(sheet.world(xa, ya)), mesh.paper.add(sheet.world(xb, yb)),
                    mesh.paper.add(sheet.world(xb, yb, thick)),
                    mesh.paper.add(sheet.world(xa, ya, thick)));
  };
  side(x0, y0, x1, y0);
  side(x0, y0, x0, y1);
  side(x1, y0, x1, y1);
  if (cut.is_null()) {
    add_box(mesh.paper, sheet, x0, down, x1, y1, 0);
    add_box(mesh.paper, sheet, x0, y0, x1, y1, thick);
    side(x0, y1, x1, y1);
    return mesh;
  }
  const double a = cut.at("x_min"), b = cut.at("x_max"), top = cut.at("y_min");
  for (const auto& [from, to] : {std::pair{x0, a}, std::pair{b, x1}}) {
    add_box(mesh.paper, sheet, from, down, to, y1, 0);
    add_box(mesh.paper, sheet, from, top, to, y1, thick);
    side(from, y1, to, y1);
  }
  add_box(mesh.paper, sheet, x0, y0, x1, top, thick);
  side(a, top, b, top);
  side(a, top, a, y1);
  side(b, top, b, y1);
  return mesh;
}

}  // namespace scantling::made
