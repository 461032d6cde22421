#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/points.h"

namespace scantling {

enum class CutState { present, cut, on_cut_edge };

/// Where four squares meet. Only `present` corners may be measured.
struct CardCorner {
  int id = 0;
  Point_mm at;
  CutState state = CutState::present;
};

struct CardMarker {
  int id = 0;
  std::array<Point_mm, 4> corners;  ///< top-left, top-right, bottom-right, bottom-left
  CutState state = CutState::present;
};

struct Rectangle_mm {
  double x_min = 0, y_min = 0, x_max = 0, y_max = 0;
};

/// A printed chessboard card with ArUco markers on its white squares (4x4 dictionary of 250).
/// Frame: origin at the outer corner of the top-left square, x right, y down, z into the card.
struct CardDefinition {
  std::string name;  ///< "notch", "track", "track_b", "ground"
  int columns = 0;
  int rows = 0;
  double square_mm = 0;
  double marker_mm = 0;
  double margin_mm = 0;
  double thickness_mm = 0;
  Rectangle_mm sheet;                 ///< the cut-out card's outline
  std::optional<Rectangle_mm> notch;  ///< open at the bottom
  int first_marker_id = 0;
  std::vector<CardCorner> corners;  ///< index = corner id
  std::vector<CardMarker> markers;  ///< marker id - first_marker_id = index
};

/// The built-in definition's JSON text by the card's name ("notch", ...); empty for another name.
std::string_view card_definition_text(std::string_view name);

/// Whether two definitions say the same, however their JSON is written. A text that is no JSON is
/// the same as none but itself.
bool same_definition(std::string_view a, std::string_view b);

/// The four pieces, read once from the definitions under calibration/ that are built in.
const CardDefinition& notch_card();
const CardDefinition& track_card();
const CardDefinition& track_card_b();
const CardDefinition& ground_sheet();

/// Parses one definition. @throws std::runtime_error with the reason when the text is not a card.
CardDefinition parse_card_definition(const std::string& json_text);

}  // namespace scantling
