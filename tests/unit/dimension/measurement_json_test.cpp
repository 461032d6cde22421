#include "dimension/measurement_json.h"

#include <gmock/gmock.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <stdexcept>

namespace scantling {
namespace {

using Json = nlohmann::ordered_json;
using ::testing::HasSubstr;
using ::testing::Not;

std::vector<std::string> keys(const Json& object) {
  std::vector<std::string> names;
  for (const auto& item : object.items()) names.push_back(item.key());
  return names;
}

Measurement full_measurement() {
  Dimension friction;
  friction.name = "friction_thickness";
  friction.quantity = {5.0234567890123,
                       0.031,
                       41.5,
                       {{"print scale", 0.02, kUnlimitedDegreesOfFreedom, "measure the check bars"},
                        {"edge places", 0.01, 12.0, ""}}};
  friction.confidence = 0.97;
  friction.stations = {{-20.0, 5.01}, {0.0, 5.02}, {20.0, 5.04}};
  MeasuredEdge edge;
  edge.name = "plate_outer";
  edge.points_px = {{100.25, 200.5}, {1100.125, 210.0 / 3.0}};
  edge.confidence = 0.98;
  edge.origin = EdgeOrigin::moved;
  edge.blur_px = 1.1;
  edge.residual_px = 0.21;
  edge.rivals = {{{{100, 190}, {1100, 203}}, -0.4, 0.7, "where the chamfer begins"}};
  Measurement m;
  m.view = View::pad;
  m.dimensions = {friction};
  m.edges = {edge};
  m.card = CardSummary{"notch", "the photo's EXIF focal length", 61, 0.14, 9.8, 6.2, 310.0};
  m.checks = {{"scale_unchecked", Severity::warn, "Measure the check bars."},
              {"camera_unknown", Severity::info, "The photo doesn't say which lens took it."}};
  m.timing_ms = {28.5, 41, 18, 90.25};
  return m;
}

std::string reading_fault(const Json& json) {
  try {
    measurement_from_json(json);
  } catch (const std::runtime_error& error) {
    return error.what();
  }
  return "no fault";
}

TEST(MeasurementJson, HasTheContractsFieldsInItsOrder) {
  const Json json = measurement_to_json(full_measurement());
  using ::testing::ElementsAre;
  EXPECT_THAT(keys(json),
              ElementsAre("view", "dimensions", "edges", "card", "checks", "timing_ms"));
  const Json& d = json["dimensions"][0];
  EXPECT_THAT(keys(d), ElementsAre("name", "value_mm", "standard_uncertainty_mm", "expanded_95_mm",
                                   "degrees_of_freedom", "confidence", "stations", "budget"));
  EXPECT_THAT(keys(d["stations"][0]), ElementsAre("position_mm", "value_mm"));
  EXPECT_THAT(keys(d["budget"][0]),
              ElementsAre("source", "standard_uncertainty_mm", "degrees_of_freedom", "advice"));
  EXPECT_THAT(keys(json["edges"][0]), ElementsAre("name", "points_px", "confidence", "origin",
                                                  "blur_px", "residual_px", "rivals"));
  EXPECT_THAT(keys(json["card"]), ElementsAre("name", "corners", "residual_px", "px_per_mm",
                                              "tilt_deg", "distance_mm", "camera"));
  EXPECT_THAT(keys(json["checks"][0]), ElementsAre("id", "severity", "message"));
  EXPECT_THAT(keys(json["timing_ms"]), ElementsAre("decode", "card", "edges", "total"));
  EXPECT_EQ(json["view"], "pad");
  EXPECT_EQ(json["edges"][0]["points_px"][0], Json::array({100.25, 200.5}));
  EXPECT_EQ(json["edges"][0]["origin"], "moved");
  EXPECT_EQ(json["checks"][0]["severity"], "warn");
  EXPECT_EQ(json["card"]["corners"].dump(), "61");
  // t of 41 degrees of freedom at 97.5 % is 2.0195.
  EXPECT_NEAR(d["expanded_95_mm"].get<double>(), 0.031 * 2.0195, 1e-5);
}

TEST(MeasurementJson, SurvivesTextAndBack) {
  const Json json = measurement_to_json(full_measurement());
  const Measurement back = measurement_from_json(Json::parse(json.dump()));
  EXPECT_EQ(measurement_to_json(back), json);
  EXPECT_EQ(back.view, View::pad);
  ASSERT_EQ(back.dimensions.size(), 1u);
  const Dimension& d = back.dimensions[0];
  EXPECT_EQ(d.quantity.value_mm, 5.0234567890123);
  EXPECT_EQ(d.quantity.degrees_of_freedom, 41.5);
  ASSERT_EQ(d.quantity.budget.size(), 2u);
  EXPECT_EQ(d.quantity.budget[0].degrees_of_freedom, kUnlimitedDegreesOfFreedom);
  EXPECT_EQ(d.quantity.budget[0].advice, "measure the check bars");
  ASSERT_EQ(back.edges.size(), 1u);
  EXPECT_EQ(back.edges[0].origin, EdgeOrigin::moved);
  EXPECT_EQ(back.edges[0].points_px[1].y, 210.0 / 3.0);
  ASSERT_EQ(back.edges[0].rivals.size(), 1u);
  EXPECT_EQ(back.edges[0].rivals[0].reading, "where the chamfer begins");
  ASSERT_TRUE(back.card.has_value());
  EXPECT_EQ(back.card->corners, 61);
  EXPECT_EQ(back.checks[0].severity, Severity::warn);
  EXPECT_EQ(back.timing_ms.total, 90.25);
}

TEST(MeasurementJson, WritesUnlimitedDegreesOfFreedomAsNull) {
  Measurement m = full_measurement();
  m.dimensions[0].quantity.degrees_of_freedom = kUnlimitedDegreesOfFreedom;
  const Json json = measurement_to_json(m);
  EXPECT_TRUE(json["dimensions"][0]["degrees_of_freedom"].is_null());
  EXPECT_EQ(measurement_from_json(json).dimensions[0].quantity.degrees_of_freedom,
            kUnlimitedDegreesOfFreedom);
}

TEST(MeasurementJson, KeepsEveryPartWhenThereIsNoResult) {
  Measurement m;
  m.view = View::rim;
  m.checks = {{"card_missing", Severity::stop, "Put the card in the photo."}};
  const Json json = measurement_to_json(m);
  EXPECT_TRUE(json["dimensions"].is_array() && json["dimensions"].empty());
  EXPECT_TRUE(json["edges"].is_array() && json["edges"].empty());
  EXPECT_TRUE(json["card"].is_null());
  const Measurement back = measurement_from_json(json);
  EXPECT_EQ(back.view, View::rim);
  EXPECT_FALSE(back.card.has_value());
  EXPECT_FALSE(back.usable());
}

TEST(MeasurementJson, RefusesToWriteWhatIsNotANumber) {
  Measurement m = full_measurement();
  m.dimensions[0].quantity.value_mm = std::nan("");
  EXPECT_THROW(measurement_to_json(m), std::invalid_argument);
  m = full_measurement();
  m.dimensions[0].quantity.standard_uncertainty_mm = std::numeric_limits<double>::infinity();
  EXPECT_THROW(measurement_to_json(m), std::invalid_argument);
  m = full_measurement();
  m.dimensions[0].quantity.degrees_of_freedom = std::nan("");
  EXPECT_THROW(measurement_to_json(m), std::invalid_argument);
  m = full_measurement();
  m.edges[0].points_px[0].x = std::nan("");
  EXPECT_THROW(measurement_to_json(m), std::invalid_argument);
}

TEST(MeasurementJson, ReadsTheShortestForm) {
  const Measurement m = measurement_from_json(Json::parse(
      R"({"view": "lip", "later_field": 1, "card": {"name": "track"},
          "dimensions": [{"name": "lip_height", "value_mm": 1, "standard_uncertainty_mm": 0.1}],
          "edges": [{"name": "wall_foot", "points_px": [[1, 2], [3, 4]]}]})"));
  EXPECT_EQ(m.view, View::lip);
  EXPECT_EQ(m.dimension("lip_height")->quantity.value_mm, 1.0);
  EXPECT_EQ(m.dimension("lip_height")->quantity.degrees_of_freedom, kUnlimitedDegreesOfFreedom);
  EXPECT_EQ(m.edge("wall_foot")->origin, EdgeOrigin::found);
  EXPECT_EQ(m.card->name, "track");
  EXPECT_TRUE(m.checks.empty());
}

TEST(MeasurementJson, NamesTheFaultyField) {
  const Json good = measurement_to_json(full_measurement());
  const auto fault_of = [&](const char* pointer, Json value) {
    Json bad = good;
    bad[Json::json_pointer(pointer)] = std::move(value);
    return reading_fault(bad);
  };
  EXPECT_THAT(reading_fault(Json::array()), HasSubstr("should be an object"));
  EXPECT_THAT(reading_fault(Json::object()), HasSubstr("\"view\" is missing"));
  EXPECT_THAT(fault_of("/view", "side"), HasSubstr("\"view\" should be \"pad\""));
  EXPECT_THAT(fault_of("/dimensions", "x"), HasSubstr("\"dimensions\" should be a list"));
  EXPECT_THAT(fault_of("/dimensions/0/value_mm", "5"),
              HasSubstr("\"dimensions[0].value_mm\" should be a number"));
  EXPECT_THAT(fault_of("/dimensions/0/value_mm", nullptr),
              HasSubstr("\"dimensions[0].value_mm\" is missing"));
  EXPECT_THAT(fault_of("/dimensions/0/name", 3), HasSubstr("should be text"));
  EXPECT_THAT(fault_of("/edges/0/points_px/1", Json::array({1})), HasSubstr("pair [x, y]"));
  EXPECT_THAT(fault_of("/edges/0/origin", "guessed"), HasSubstr("\"edges[0].origin\""));
  EXPECT_THAT(fault_of("/checks/0/severity", "loud"), HasSubstr("\"checks[0].severity\""));
  EXPECT_THAT(fault_of("/card/corners", -1), HasSubstr("\"card.corners\""));
  EXPECT_THAT(fault_of("/timing_ms", 5), HasSubstr("\"timing_ms\" should be an object"));
  EXPECT_THAT(reading_fault(good), Not(HasSubstr("can't be used")));
}

}  // namespace
}  // namespace scantling
