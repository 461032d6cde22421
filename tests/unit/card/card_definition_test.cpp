#include "card/card_definition.h"

#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <functional>
#include <nlohmann/json.hpp>
#include <set>
#include <stdexcept>

namespace scantling {
namespace {

using nlohmann::json;
using ::testing::HasSubstr;

json definition(const std::string& file) {
  std::ifstream stream(std::string(SCANTLING_SOURCE_DIR) + "/calibration/cards/" + file);
  return json::parse(stream);
}

template <typename Entries>
auto count_state(const Entries& entries, CutState state) {
  return std::count_if(entries.begin(), entries.end(),
                       [state](const auto& entry) { return entry.state == state; });
}

TEST(CardDefinition, NotchCardIsThePieceDescribed) {
  const CardDefinition& card = notch_card();
  EXPECT_EQ(card.name, "notch");
  EXPECT_EQ(card.columns, 16);
  EXPECT_EQ(card.rows, 9);
  EXPECT_DOUBLE_EQ(card.square_mm, 8.0);
  EXPECT_DOUBLE_EQ(card.marker_mm, 6.0);
  EXPECT_DOUBLE_EQ(card.thickness_mm, 0.3);
  EXPECT_DOUBLE_EQ(card.sheet.x_max - card.sheet.x_min, 140.0);
  EXPECT_DOUBLE_EQ(card.sheet.y_max, 78.0);
  ASSERT_TRUE(card.notch);
  EXPECT_DOUBLE_EQ(card.notch->x_min, 32.0);
  EXPECT_DOUBLE_EQ(card.notch->x_max, 96.0);
  EXPECT_DOUBLE_EQ(card.notch->y_min, 32.0);
  EXPECT_EQ(card.corners.size(), 120u);
  EXPECT_EQ(count_state(card.corners, CutState::present), 75);
  EXPECT_EQ(count_state(card.corners, CutState::cut), 28);
  EXPECT_EQ(count_state(card.corners, CutState::on_cut_edge), 17);
  EXPECT_EQ(card.markers.size(), 72u);
  EXPECT_EQ(count_state(card.markers, CutState::present), 52);
}

TEST(CardDefinition, TheOtherPiecesAreWhole) {
  EXPECT_EQ(track_card().name, "track");
  EXPECT_EQ(track_card_b().name, "track_b");
  EXPECT_EQ(ground_sheet().name, "ground");
  for (const CardDefinition* card : {&track_card(), &track_card_b(), &ground_sheet()}) {
    EXPECT_FALSE(card->notch) << card->name;
    EXPECT_EQ(count_state(card->corners, CutState::present),
              (card->columns - 1) * (card->rows - 1));
    EXPECT_EQ(count_state(card->markers, CutState::present), card->columns * card->rows / 2);
  }
  EXPECT_DOUBLE_EQ(ground_sheet().corners.back().at.x, 225.0);
  EXPECT_DOUBLE_EQ(ground_sheet().corners.back().at.y, 150.0);
}

TEST(CardDefinition, NoTwoMarkersShareAnId) {
  std::set<int> ids;
  std::size_t markers = 0;
  for (const CardDefinition* card :
       {&notch_card(), &track_card(), &track_card_b(), &ground_sheet()}) {
    markers += card->markers.size();
    for (std::size_t i = 0; i < card->markers.size(); ++i) {
      EXPECT_EQ(card->markers[i].id, card->first_marker_id + static_cast<int>(i));
      ids.insert(card->markers[i].id);
    }
  }
  EXPECT_EQ(ids.size(), markers);
}

TEST(CardDefinition, BuiltInTextIsTheFileInTheSourceTree) {
  const CardDefinition card = parse_card_definition(definition("notch_card.json").dump());
  ASSERT_EQ(card.corners.size(), notch_card().corners.size());
  for (std::size_t i = 0; i < card.corners.size(); ++i) {
    EXPECT_DOUBLE_EQ(card.corners[i].at.x, notch_card().corners[i].at.x);
    EXPECT_DOUBLE_EQ(card.corners[i].at.y, notch_card().corners[i].at.y);
  }
}

struct Broken {
  const char* what;
  std::function<void(json&)> damage;
  const char* sentence;  ///< part of the message
};

class BrokenCardDefinition : public ::testing::TestWithParam<Broken> {};

TEST_P(BrokenCardDefinition, IsRefusedWithItsReason) {
  json root = definition("notch_card.json");
  GetParam().damage(root);
  try {
    parse_card_definition(root.dump());
    FAIL() << "accepted: " << GetParam().what;
  } catch (const std::runtime_error& error) {
    EXPECT_THAT(error.what(), HasSubstr("Not a card definition: "));
    EXPECT_THAT(error.what(), HasSubstr(GetParam().sentence));
  }
}

const Broken kBroken[] = {
    {"UnknownName", [](json& j) { j["name"] = "other"; }, "\"other\" is no card"},
    {"NameMissing", [](json& j) { j.erase("name"); }, "\"name\" is missing"},
    {"NameNumber", [](json& j) { j["name"] = 3; }, "\"name\" must be text"},
    {"Inches", [](json& j) { j["units"] = "in"; }, "unit must be mm"},
    {"Dictionary", [](json& j) { j["dictionary"] = "DICT_5X5_50"; }, "dictionary"},
    {"ColumnsHalf", [](json& j) { j["columns"] = 16.5; }, "columns must be a whole number"},
    {"ColumnsHuge", [](json& j) { j["columns"] = 1e6; }, "columns must be a whole number"},
    {"RowsMany", [](json& j) { j["rows"] = 1001; }, "rows is 1001, outside"},
    {"RowsEven", [](json& j) { j["rows"] = 8; }, "must be odd"},
    {"SquareZero", [](json& j) { j["square_mm"] = 0; }, "\"square_mm\" is 0, outside"},
    {"SquareText", [](json& j) { j["square_mm"] = "8"; }, "square_mm must be a number"},
    // The JSON writer turns a NaN into null, which is how one arrives.
    {"SquareNaN", [](json& j) { j["square_mm"] = std::nan(""); }, "square_mm must be a number"},
    {"SquareOther", [](json& j) { j["square_mm"] = 8.1; }, "where the squares give"},
    {"MarkerTooLarge", [](json& j) { j["marker_mm"] = 8.0; }, "smaller than a square"},
    {"MarginNegative", [](json& j) { j["margin_mm"] = -1; }, "\"margin_mm\" is -1"},
    {"MarginOther", [](json& j) { j["margin_mm"] = 5.0; }, "sheet's first corner"},
    {"ThicknessNegative", [](json& j) { j["thickness_mm"] = -0.3; }, "\"thickness_mm\""},
    {"FirstIdLate", [](json& j) { j["first_id"] = 200; }, "ids beyond 249"},
    {"LastIdOther", [](json& j) { j["last_id"] = 70; }, "gives 71 as the last marker id"},
    {"SheetOther", [](json& j) { j["sheet_extent_mm"]["y"][1] = 79.0; }, "sheet's last corner"},
    {"NotchOutside", [](json& j) { j["notch"]["x_max"] = 200.0; }, "inside the sheet"},
    {"NotchTurned", [](json& j) { j["notch"]["x_max"] = 30.0; }, "inside the sheet"},
    {"NotchClosed", [](json& j) { j["notch"]["y_max"] = 60.0; }, "open end"},
    {"NotchMoved", [](json& j) { j["notch"]["x_min"] = 40.0; }, "contradicts the notch"},
    {"NotchMissing", [](json& j) { j.erase("notch"); }, "\"notch\" is missing"},
    {"CornersFew", [](json& j) { j["chessboard_corners"].erase(5); }, "has 119 entries, not 120"},
    {"CornersObject", [](json& j) { j["chessboard_corners"] = json::object(); }, "must be a list"},
    {"CornerId", [](json& j) { j["chessboard_corners"][4]["id"] = 5; }, "place of corner 4"},
    {"CornerIdFar", [](json& j) { j["chessboard_corners"][4]["id"] = 120; }, "outside 0 to 119"},
    {"CornerMoved", [](json& j) { j["chessboard_corners"][4]["xy_mm"][0] = 40.01; },
     "x of corner 4"},
    {"CornerSingle", [](json& j) { j["chessboard_corners"][4]["xy_mm"] = 40.0; }, "must be a pair"},
    {"CornerInfinite", [](json& j) { j["chessboard_corners"][4]["xy_mm"][1] = nullptr; },
     "corner 4 must be a number"},
    {"CornerState", [](json& j) { j["chessboard_corners"][4]["state"] = "gone"; },
     "the state of corner 4 is \"gone\""},
    {"CornerCut", [](json& j) { j["chessboard_corners"][4]["state"] = "cut"; },
     "the state of corner 4 contradicts the notch"},
    {"MarkerId", [](json& j) { j["markers"][3]["id"] = 72; }, "place of marker 3"},
    {"MarkerMoved", [](json& j) { j["markers"][3]["corners_mm"][2][1] = 7.5; }, "y of marker 3"},
    {"MarkerThreeCorners", [](json& j) { j["markers"][3]["corners_mm"].erase(3); },
     "has 3 entries, not 4"},
    {"MarkerCut", [](json& j) { j["markers"][3]["state"] = "cut"; },
     "the state of marker 3 contradicts the notch"},
    {"List", [](json& j) { j = json::array(); }, "an object with \"name\""},
};

INSTANTIATE_TEST_SUITE_P(Damage, BrokenCardDefinition, ::testing::ValuesIn(kBroken),
                         [](const auto& one) { return std::string(one.param.what); });

TEST(CardDefinition, RefusesWhatIsNoJson) {
  for (const char* text : {"", "{", "card", "\xff\xfe", "{\"name\": \"notch_card\",}"})
    EXPECT_THROW(parse_card_definition(text), std::runtime_error) << text;
}

TEST(CardDefinition, RefusesNumbersBeyondADouble) {
  std::string text = definition("notch_card.json").dump();
  const std::string key = "\"square_mm\":8.0";
  const auto at = text.find(key);
  ASSERT_NE(at, std::string::npos);
  text.replace(at, key.size(), "\"square_mm\":1e999");
  EXPECT_THROW(parse_card_definition(text), std::runtime_error);
}

}  // namespace
}  // namespace scantling
