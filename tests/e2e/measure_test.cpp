// `scantling measure` on the demo's made pictures, whose true sizes are known.

#include <gmock/gmock.h>

#include <nlohmann/json.hpp>
#include <opencv2/core.hpp>

#include "photo/photo.h"
#include "support/run_program.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

using Json = nlohmann::ordered_json;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;
using ::testing::StartsWith;

const std::string kPhoto = SCANTLING_SOURCE_DIR "/assets/demo/pad_left_outer.jpg";
const std::string kOtherPhoto = SCANTLING_SOURCE_DIR "/assets/demo/pad_right_outer.jpg";
constexpr double kTrueFriction_mm = 6.20;  // of kPhoto, by assets/demo/README.md
constexpr double kTruePlate_mm = 5.80;

/// As the demo's job says: the sheet was checked, the pad stands 0.3 mm behind the card.
const std::vector<std::string> kDemoSheet = {"--sheet-scale", "1.004,0.998,0.001", "--offset",
                                             "0.3,0.1"};

ProgramResult measure(std::vector<std::string> words,
                      const std::vector<std::string>& environment = {}) {
  words.insert(words.begin(), {SCANTLING_EXECUTABLE, "measure"});
  return run_program(words, environment);
}

ProgramResult measure_pad(std::vector<std::string> words,
                          const std::vector<std::string>& environment = {}) {
  words.insert(words.begin(), {"--view", "pad"});
  words.insert(words.end(), kDemoSheet.begin(), kDemoSheet.end());
  return measure(words, environment);
}

std::vector<std::string> keys(const Json& object) {
  std::vector<std::string> names;
  for (const auto& item : object.items()) names.push_back(item.key());
  return names;
}

const Json& named(const Json& list, const std::string& name) {
  for (const Json& item : list)
    if (item.at("name") == name) return item;
  throw std::out_of_range("no " + name);
}

TEST(Measure, PrintsTheContractsObjectAndNothingElse) {
  const ProgramResult run = measure_pad({"--json", kPhoto});
  ASSERT_EQ(run.exit_status, 0) << run.errors;
  const Json json = Json::parse(run.output);
  EXPECT_THAT(keys(json),
              ElementsAre("view", "dimensions", "edges", "card", "checks", "timing_ms"));
  EXPECT_EQ(json["view"], "pad");

  for (const char* name :
       {"overall_thickness", "plate_thickness", "friction_thickness", "friction_taper"}) {
    const Json& d = named(json["dimensions"], name);
    EXPECT_GT(d.at("standard_uncertainty_mm").get<double>(), 0) << name;
    EXPECT_GT(d.at("expanded_95_mm").get<double>(), d.at("standard_uncertainty_mm").get<double>());
    EXPECT_TRUE(d.at("degrees_of_freedom").is_null() || d["degrees_of_freedom"].get<double>() >= 1);
    const double confidence = d.at("confidence").get<double>();
    EXPECT_TRUE(confidence >= 0 && confidence <= 1);
    ASSERT_FALSE(d.at("budget").empty());
    double last = 1e9;
    for (const Json& line : d["budget"]) {
      EXPECT_FALSE(line.at("source").get<std::string>().empty());
      EXPECT_LE(line.at("standard_uncertainty_mm").get<double>(), last) << "largest first";
      last = line["standard_uncertainty_mm"].get<double>();
    }
  }
  EXPECT_GE(named(json["dimensions"], "friction_thickness").at("stations").size(), 3u);

  for (const char* name : {"plate_outer", "plate_friction", "friction_outer"}) {
    const Json& points = named(json["edges"], name).at("points_px");
    ASSERT_GE(points.size(), 2u);
    for (const Json& point : points) ASSERT_EQ(point.size(), 2u);
  }
  EXPECT_EQ(json["card"].at("name"), "notch");
  EXPECT_GE(json["card"].at("corners").get<int>(), 20);
  EXPECT_LT(json["card"].at("residual_px").get<double>(), 0.5);
  EXPECT_GT(json["timing_ms"].at("total").get<double>(),
            json["timing_ms"].at("decode").get<double>());
}

TEST(Measure, FindsTheTrueSizesWithinTheirUncertainty) {
  const Json json = Json::parse(measure_pad({"--json", kPhoto}).output);
  const auto check = [&](const char* name, double truth) {
    const Json& d = named(json["dimensions"], name);
    EXPECT_NEAR(d.at("value_mm").get<double>(), truth, d.at("expanded_95_mm").get<double>())
        << name;
    EXPECT_LT(d["expanded_95_mm"].get<double>(), 1.0) << name;
  };
  check("friction_thickness", kTrueFriction_mm);
  check("plate_thickness", kTruePlate_mm);
  check("overall_thickness", kTrueFriction_mm + kTruePlate_mm);
}

TEST(Measure, TakesTheSheetsScaleIntoAccount) {
  const auto friction = [](const char* scale) {
    const Json json =
        Json::parse(measure({"--view", "pad", "--sheet-scale", scale, "--json", kPhoto}).output);
    return named(json["dimensions"], "friction_thickness");
  };
  const Json plain = friction("1,1,0.001");
  const Json larger = friction("1.02,1.02,0.001");
  EXPECT_NEAR(larger["value_mm"].get<double>() / plain["value_mm"].get<double>(), 1.02, 0.002);
  const Json vague = friction("1,1,0.02");
  EXPECT_GT(vague["standard_uncertainty_mm"].get<double>(),
            plain["standard_uncertainty_mm"].get<double>());
}

TEST(Measure, SetsMonteCarloBesideFirstOrderWhenAsked) {
  const ProgramResult run = measure_pad({"--json", "--monte-carlo", kPhoto});
  ASSERT_EQ(run.exit_status, 0) << run.errors;
  for (const Json& d : Json::parse(run.output).at("dimensions")) {
    const Json& drawn = d.at("monte_carlo");
    const double u = d.at("standard_uncertainty_mm");
    EXPECT_NEAR(drawn.at("standard_uncertainty_mm").get<double>() / u, 1, 0.15);
    EXPECT_NEAR(drawn.at("mean_mm").get<double>(), d.at("value_mm").get<double>(), 0.2 * u);
    EXPECT_LT(drawn.at("interval_95_mm")[0], drawn.at("interval_95_mm")[1]);
    EXPECT_FALSE(drawn.at("message").get<std::string>().empty());
    EXPECT_TRUE(drawn.at("first_order_holds").is_boolean());
  }
  const ProgramResult again = measure_pad({"--json", "--monte-carlo", kPhoto});
  EXPECT_EQ(Json::parse(run.output).at("dimensions"), Json::parse(again.output).at("dimensions"))
      << "seeded: the same again";
  EXPECT_THAT(measure_pad({"--monte-carlo", kPhoto}).output, HasSubstr("Monte Carlo"));
}

TEST(Measure, GivesSeveralPhotosInOneObject) {
  const ProgramResult run = measure_pad({"--json", kPhoto, kOtherPhoto});
  ASSERT_EQ(run.exit_status, 0) << run.errors;
  const Json json = Json::parse(run.output);
  ASSERT_EQ(json.at("photos").size(), 2u);
  EXPECT_EQ(json["photos"][0].at("photo"), kPhoto);
  EXPECT_EQ(json["photos"][1].at("photo"), kOtherPhoto);
  EXPECT_FALSE(json["photos"][1].at("dimensions").empty());
}

TEST(Measure, StillGivesTheGoodPhotoBesideABadOne) {
  const ProgramResult run = measure_pad({"--json", kPhoto, "/nowhere/pad.jpg"});
  EXPECT_EQ(run.exit_status, 3);
  const Json json = Json::parse(run.output);
  EXPECT_FALSE(json.at("photos")[0].at("dimensions").empty());
  EXPECT_EQ(json["photos"][1].at("checks")[0].at("id"), "photo_missing");
  EXPECT_THAT(run.errors, HasSubstr("There is no file \"pad.jpg\""));
}

TEST(Measure, PrintsATableForPeople) {
  const ProgramResult run = measure_pad({kPhoto});
  ASSERT_EQ(run.exit_status, 0) << run.errors;
  EXPECT_THAT(run.output, HasSubstr("friction material"));
  EXPECT_THAT(run.output, HasSubstr("backing plate"));
  EXPECT_THAT(run.output, HasSubstr("\u00a0±\u00a0"));
  EXPECT_THAT(run.output, HasSubstr("Where the uncertainty comes from, largest first"));
  EXPECT_THAT(run.output, HasSubstr("Card: notch"));
  EXPECT_THAT(run.output, HasSubstr("cracks"));  // what a photo cannot tell
  EXPECT_THAT(run.output, Not(HasSubstr("nan")));
}

TEST(Measure, WritesNumbersWithAPointWhateverTheLocale) {
  const std::vector<std::string> german = {"LC_ALL=de_DE.UTF-8", "LANG=de_DE.UTF-8"};
  const ProgramResult here = measure_pad({kPhoto}, {"LC_ALL=C"});
  const ProgramResult there = measure_pad({kPhoto}, german);
  EXPECT_EQ(here.output, there.output);
  EXPECT_TRUE(Json::accept(measure_pad({"--json", kPhoto}, german).output));
}

TEST(Measure, DrawsTheEdgesOverThePhoto) {
  const TemporaryFolder folder;
  const std::string overlay = folder / "edges.png";
  const ProgramResult run = measure_pad({"--overlay", overlay, kPhoto});
  ASSERT_EQ(run.exit_status, 0) << run.errors;
  const cv::Mat plain = load_colour(kPhoto);
  const cv::Mat drawn = load_colour(overlay);
  ASSERT_EQ(drawn.size(), plain.size());
  cv::Mat difference;
  cv::absdiff(drawn, plain, difference);
  const int changed = cv::countNonZero(difference.reshape(1) > 60);
  EXPECT_GT(changed, plain.cols);
  EXPECT_LT(changed, plain.cols * plain.rows / 10);
}

TEST(Measure, SaysSoWhenTheOverlayCantBeWritten) {
  const ProgramResult run = measure_pad({"--json", "--overlay", "/nowhere/edges.png", kPhoto});
  EXPECT_EQ(run.exit_status, 2);
  EXPECT_THAT(run.errors, HasSubstr("/nowhere/edges.png"));
  EXPECT_FALSE(Json::parse(run.output).at("dimensions").empty());
}

struct WrongUse {
  std::vector<std::string> words;
  const char* sentence;
};

TEST(Measure, RefusesWrongUseWithASentence) {
  const WrongUse cases[] = {
      {{}, "--view is required"},
      {{"--view", "pad"}, "PHOTO is required"},
      {{kPhoto}, "--view is required"},
      {{"--view", "side", kPhoto}, "'side' is no view"},
      {{"--view", "pile", kPhoto}, "scantling planes --view pile"},
      {{"--view", "lip", "--card", "notch", kPhoto}, "--card track"},
      {{"--view", "rim", "--card", "track", kPhoto}, "--card notch"},
      {{"--view", "rim", "--disc-diameter", "12", kPhoto}, "no brake disc"},
      {{"--view", "pad", "--card", "track", kPhoto}, "--card notch"},
      {{"--view", "pad", "--card", "ace", kPhoto}, "is no card"},
      {{"--view", "lip", "--card", "id1", kPhoto}, "track card only"},
      {{"--view", "pad", "--card", "id1", "--sheet-scale", "1,1", kPhoto}, "its standard's size"},
      {{"--view", "pad", "--camera", "phone.json", kPhoto},
       "There is no camera profile \"phone.json\""},
      {{"--view", "pad", "--sheet-scale", "1.0", kPhoto}, "--sheet-scale"},
      {{"--view", "pad", "--sheet-scale", "1,2", kPhoto}, "nominal length"},
      {{"--view", "pad", "--sheet-scale", "nan,1", kPhoto}, "nominal length"},
      {{"--view", "pad", "--sheet-scale", "1,1,0", kPhoto}, "above 0"},
      {{"--view", "pad", "--sheet-scale", "one,1", kPhoto}, "is not a number"},
      {{"--view", "pad", "--offset", "400", kPhoto}, "at most 30 mm"},
      {{"--view", "pad", "--offset", "1,-1", kPhoto}, "between 0 and 10 mm"},
      {{"--view", "pad", "--offset", "", kPhoto}, "--offset"},
      {{"--view", "pad", "--disc-diameter", "3", kPhoto}, "is no brake disc"},
      {{"--view", "pad", "--overlay", "o.png", kPhoto, kOtherPhoto}, "one photo"},
      {{"--view", "pad", "--overlay", "-", kPhoto}, "name of a file"},
      {{"--view", "pad", "--overlay", "", kPhoto}, "name of a file"},
      {{"--view", "pad", "--fast", kPhoto}, "--fast"},
  };
  for (const WrongUse& wrong : cases) {
    const ProgramResult run = measure(wrong.words);
    SCOPED_TRACE(wrong.sentence);
    EXPECT_EQ(run.exit_status, 2);
    EXPECT_THAT(run.errors, HasSubstr(wrong.sentence));
    EXPECT_THAT(run.output, IsEmpty());
  }
}

TEST(Measure, SaysWhereNoIdCardIsToBeSeen) {
  const ProgramResult run = measure({"--view", "pad", "--card", "id1", "--json", kPhoto});
  EXPECT_EQ(run.exit_status, 3);
  EXPECT_NE(run.errors.find("No ID-1 card is to be seen"), std::string::npos) << run.errors;
  EXPECT_TRUE(Json::parse(run.output).at("dimensions").empty());
}

TEST(Measure, TakesTheOptionsThatThePadViewDoesWithout) {
  const ProgramResult run =
      measure_pad({"--card", "notch", "--disc-diameter", "280", "--json", kPhoto});
  EXPECT_EQ(run.exit_status, 0) << run.errors;
  // A part that stands proud of the card has a negative offset.
  const ProgramResult proud = measure({"--view", "pad", "--offset", "-0.5,0.1", "--json", kPhoto});
  EXPECT_EQ(proud.exit_status, 0) << proud.errors;
}

TEST(Measure, ShowsAnExampleInItsHelp) {
  const ProgramResult run = measure({"--help"});
  EXPECT_EQ(run.exit_status, 0);
  EXPECT_THAT(run.output, HasSubstr("Example: scantling measure --view pad"));
}

}  // namespace
}  // namespace scantling
