#include "card/card_definition.h"

#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <stdexcept>
#include <string_view>

#include "card/marker_bits.h"

namespace scantling {

extern const char* const kNotchCardJson;
extern const char* const kTrackCardJson;
extern const char* const kTrackCardBJson;
extern const char* const kGroundSheetJson;

namespace {

using nlohmann::json;

constexpr double kLatticeTolerance_mm = 1e-6;
constexpr int kLargestCount = 64;

template <typename... Arguments>
[[noreturn]] void refuse(fmt::format_string<Arguments...> text, Arguments&&... arguments) {
  throw std::runtime_error(
      "Not a card definition: " + fmt::format(text, std::forward<Arguments>(arguments)...) + ".");
}

const json& member(const json& object, const char* key) {
  if (!object.is_object()) refuse("an object with \"{}\" was expected", key);
  const auto found = object.find(key);
  if (found == object.end()) refuse("\"{}\" is missing", key);
  return *found;
}

double number(const json& value, std::string_view what) {
  if (!value.is_number()) refuse("{} must be a number", what);
  const double result = value.get<double>();
  if (!std::isfinite(result)) refuse("{} must be finite", what);
  return result;
}

double number_between(const json& object, const char* key, double low, double high) {
  const double value = number(member(object, key), key);
  if (!(value >= low && value <= high))
    refuse("\"{}\" is {}, outside {} to {}", key, value, low, high);
  return value;
}

int whole_number(const json& value, std::string_view what, int low, int high) {
  if (!value.is_number_integer()) refuse("{} must be a whole number", what);
  const auto result = value.get<long long>();
  if (result < low || result > high) refuse("{} is {}, outside {} to {}", what, result, low, high);
  return static_cast<int>(result);
}

std::string text(const json& object, const char* key) {
  const json& value = member(object, key);
  if (!value.is_string()) refuse("\"{}\" must be text", key);
  return value.get<std::string>();
}

const json& list(const json& object, const char* key, std::size_t size) {
  const json& value = member(object, key);
  if (!value.is_array()) refuse("\"{}\" must be a list", key);
  if (value.size() != size) refuse("\"{}\" has {} entries, not {}", key, value.size(), size);
  return value;
}

Point_mm point(const json& value, std::string_view what) {
  if (!value.is_array() || value.size() != 2) refuse("{} must be a pair of numbers", what);
  return {number(value[0], what), number(value[1], what)};
}

void require_near(double value, double expected, std::string_view what) {
  if (!(std::abs(value - expected) <= kLatticeTolerance_mm))
    refuse("{} is {} mm, where the squares give {} mm", what, value, expected);
}

void require_near(Point_mm at, double x, double y, std::string_view what) {
  require_near(at.x, x, fmt::format("x of {}", what));
  require_near(at.y, y, fmt::format("y of {}", what));
}

CutState cut_state(const json& object, std::string_view what) {
  const std::string word = text(object, "state");
  if (word == "present") return CutState::present;
  if (word == "cut") return CutState::cut;
  if (word == "on_cut_edge") return CutState::on_cut_edge;
  refuse("the state of {} is \"{}\", not present, cut or on_cut_edge", what, word);
}

/// What the notch does to the closed box; a corner is a box without size.
CutState state_in_notch(const std::optional<Rectangle_mm>& notch, Point_mm low, Point_mm high) {
  if (!notch) return CutState::present;
  const double e = kLatticeTolerance_mm;
  if (high.x < notch->x_min - e || low.x > notch->x_max + e || high.y < notch->y_min - e ||
      low.y > notch->y_max + e)
    return CutState::present;
  if (low.x > notch->x_min + e && high.x < notch->x_max - e && low.y > notch->y_min + e &&
      high.y < notch->y_max - e)
    return CutState::cut;
  return CutState::on_cut_edge;
}

std::string short_name(const json& root) {
  const std::string name = text(root, "name");
  if (name == "notch_card") return "notch";
  if (name == "track_card") return "track";
  if (name == "track_card_b") return "track_b";
  if (name == "ground_sheet") return "ground";
  refuse("\"{}\" is no card of this program", name);
}

void read_sheet(const json& root, CardDefinition& card) {
  const json& extent = member(root, "sheet_extent_mm");
  const Point_mm across = point(member(extent, "x"), "the sheet's extent in x");
  const Point_mm down = point(member(extent, "y"), "the sheet's extent in y");
  require_near({across.x, down.x}, -card.margin_mm, -card.margin_mm, "the sheet's first corner");
  require_near({across.y, down.y}, card.columns * card.square_mm + card.margin_mm,
               card.rows * card.square_mm + card.margin_mm, "the sheet's last corner");
  card.sheet = {across.x, down.x, across.y, down.y};
}

void read_notch(const json& root, CardDefinition& card) {
  const json& value = member(root, "notch");
  if (value.is_null()) return;
  const Rectangle_mm notch{
      number(member(value, "x_min"), "x_min"), number(member(value, "y_min"), "y_min"),
      number(member(value, "x_max"), "x_max"), number(member(value, "y_max"), "y_max")};
  if (!(notch.x_min > card.sheet.x_min && notch.x_max < card.sheet.x_max &&
        notch.x_min < notch.x_max && notch.y_min > card.sheet.y_min && notch.y_min < notch.y_max))
    refuse("the notch does not lie inside the sheet");
  require_near(notch.y_max, card.sheet.y_max, "the notch's open end");
  card.notch = notch;
}

void read_corners(const json& root, CardDefinition& card) {
  const int across = card.columns - 1;
  const int count = across * (card.rows - 1);
  const json& entries = list(root, "chessboard_corners", static_cast<std::size_t>(count));
  for (int id = 0; id < count; ++id) {
    const json& entry = entries[static_cast<std::size_t>(id)];
    const std::string what = fmt::format("corner {}", id);
    if (whole_number(member(entry, "id"), "a corner's id", 0, count - 1) != id)
      refuse("the entry in the place of {} has another id", what);
    CardCorner corner{id, point(member(entry, "xy_mm"), what), cut_state(entry, what)};
    const int column = id % across + 1, row = id / across + 1;
    require_near(corner.at, column * card.square_mm, row * card.square_mm, what);
    if (corner.state != state_in_notch(card.notch, corner.at, corner.at))
      refuse("the state of {} contradicts the notch", what);
    card.corners.push_back(corner);
  }
}

void read_markers(const json& root, CardDefinition& card) {
  const int count = card.columns * card.rows / 2;
  const json& entries = list(root, "markers", static_cast<std::size_t>(count));
  const double inset = (card.square_mm - card.marker_mm) / 2;
  int index = 0;
  for (int row = 0; row < card.rows; ++row) {
    // The top-left square is black; markers sit where column + row is odd.
    for (int column = 1 - row % 2; column < card.columns; column += 2, ++index) {
      const json& entry = entries[static_cast<std::size_t>(index)];
      const int id = card.first_marker_id + index;
      const std::string what = fmt::format("marker {}", id);
      if (whole_number(member(entry, "id"), "a marker's id", 0, kMarkerCount - 1) != id)
        refuse("the entry in the place of {} has another id", what);
      CardMarker marker{id, {}, cut_state(entry, what)};
      const json& corners = list(entry, "corners_mm", 4);
      const double x[2] = {column * card.square_mm + inset, (column + 1) * card.square_mm - inset};
      const double y[2] = {row * card.square_mm + inset, (row + 1) * card.square_mm - inset};
      for (std::size_t k = 0; k < 4; ++k) {
        marker.corners[k] = point(corners[k], what);
        require_near(marker.corners[k], x[k == 1 || k == 2], y[k >= 2], what);
      }
      if (marker.state != state_in_notch(card.notch, marker.corners[0], marker.corners[2]))
        refuse("the state of {} contradicts the notch", what);
      card.markers.push_back(marker);
    }
  }
}

CardDefinition read_card(const json& root) {
  CardDefinition card;
  card.name = short_name(root);
  if (text(root, "units") != "mm") refuse("its unit must be mm");
  if (text(root, "dictionary") != "DICT_4X4_250") refuse("its dictionary must be DICT_4X4_250");
  card.columns = whole_number(member(root, "columns"), "columns", 3, kLargestCount);
  card.rows = whole_number(member(root, "rows"), "rows", 3, kLargestCount);
  // With an even number the releases of OpenCV disagree about the top-left square.
  if (card.rows % 2 == 0) refuse("the number of rows must be odd");
  card.square_mm = number_between(root, "square_mm", 1, 200);
  card.marker_mm = number_between(root, "marker_mm", 0.5, 200);
  if (!(card.marker_mm < card.square_mm)) refuse("a marker must be smaller than a square");
  card.margin_mm = number_between(root, "margin_mm", 0, 100);
  card.thickness_mm = number_between(root, "thickness_mm", 0, 10);
  card.first_marker_id = whole_number(member(root, "first_id"), "first_id", 0, kMarkerCount - 1);
  const int last_id = card.first_marker_id + card.columns * card.rows / 2 - 1;
  if (last_id >= kMarkerCount) refuse("its markers need ids beyond {}", kMarkerCount - 1);
  if (whole_number(member(root, "last_id"), "last_id", 0, kMarkerCount - 1) != last_id)
    refuse("the number of squares gives {} as the last marker id", last_id);
  read_sheet(root, card);
  read_notch(root, card);
  read_corners(root, card);
  read_markers(root, card);
  return card;
}

}  // namespace

CardDefinition parse_card_definition(const std::string& json_text) {
  json root;
  try {
    root = json::parse(json_text);
  } catch (const json::exception& error) {
    refuse("it is no JSON text ({})", error.what());
  }
  return read_card(root);
}

std::string_view card_definition_text(std::string_view name) {
  if (name == "notch") return kNotchCardJson;
  if (name == "track") return kTrackCardJson;
  if (name == "track_b") return kTrackCardBJson;
  if (name == "ground") return kGroundSheetJson;
  return {};
}

bool same_definition(std::string_view a, std::string_view b) {
  if (a == b) return true;
  const json first = json::parse(a, nullptr, false), second = json::parse(b, nullptr, false);
  return !first.is_discarded() && first == second;
}

const CardDefinition& notch_card() {
  static const CardDefinition card = parse_card_definition(kNotchCardJson);
  return card;
}

const CardDefinition& track_card() {
  static const CardDefinition card = parse_card_definition(kTrackCardJson);
  return card;
}

const CardDefinition& track_card_b() {
  static const CardDefinition card = parse_card_definition(kTrackCardBJson);
  return card;
}

const CardDefinition& ground_sheet() {
  static const CardDefinition card = parse_card_definition(kGroundSheetJson);
  return card;
}

}  // namespace scantling
