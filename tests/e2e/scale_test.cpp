#include <gmock/gmock.h>

#include <nlohmann/json.hpp>

#include "support/made_sheet_photo.h"
#include "support/picture_files.h"
#include "support/run_program.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

using nlohmann::json;
using test::MadeSheetPhoto;
using ::testing::HasSubstr;

class Scale : public ::testing::Test {
 protected:
  std::string photo(const MadeSheetPhoto& made) const {
    const test::Bytes jpeg = test::jpeg_file(test::made_sheet_photo(made));
    return folder.file("sheet.jpg", std::string(jpeg.begin(), jpeg.end())).string();
  }
  static ProgramResult scale(const std::vector<std::string>& arguments) {
    std::vector<std::string> all{SCANTLING_EXECUTABLE, "scale"};
    all.insert(all.end(), arguments.begin(), arguments.end());
    return run_program(all);
  }
  const TemporaryFolder folder;
};

TEST_F(Scale, FindsThePrintScaleInAJpeg) {
  MadeSheetPhoto made;
  made.scale_x = 0.987;
  made.scale_y = 1.008;
  const std::string path = photo(made);
  const ProgramResult result = scale({"--json", path});
  ASSERT_EQ(result.exit_status, 0) << result.errors;
  const json found = json::parse(result.output);
  EXPECT_NEAR(found["scale"]["x"].get<double>(), 0.987, 0.0006);
  EXPECT_NEAR(found["scale"]["y"].get<double>(), 1.008, 0.0006);
  EXPECT_NEAR(found["scale"]["x_standard_uncertainty"].get<double>(), 0.0015, 0.0005);
  EXPECT_EQ(found["sheet"], "ground");
  EXPECT_EQ(found["id_card"]["outline_px"].size(), 4u);
  EXPECT_NEAR(found["id_card"]["angle_deg"].get<double>(), 4, 0.2);
  EXPECT_THAT(found["sheet_scale"].get<std::string>(), HasSubstr("0.98"));
  EXPECT_GT(found["timing_ms"]["total"].get<double>(), 0);
  EXPECT_THAT(found["checks"].dump(), HasSubstr("Never photograph a bank card's number"));

  const ProgramResult words = scale({path});
  EXPECT_EQ(words.exit_status, 0);
  EXPECT_THAT(words.output, HasSubstr("--sheet-scale " + found["sheet_scale"].get<std::string>()));
}

TEST_F(Scale, NoCardOnTheSheetIsUnusableInput) {
  MadeSheetPhoto made;
  made.card.reset();
  const ProgramResult result = scale({"--json", photo(made)});
  EXPECT_EQ(result.exit_status, 3);
  const json found = json::parse(result.output);
  EXPECT_TRUE(found["scale"].is_null());
  EXPECT_THAT(found["checks"].dump(), HasSubstr("id_card_missing"));
  EXPECT_THAT(result.errors, HasSubstr("stop: No ID-1 card is to be seen."));
}

TEST_F(Scale, NoPhotoIsUnusableInput) {
  for (const std::string& path :
       {(folder / "none.jpg").string(), folder.file("text.jpg", "no picture").string()}) {
    const ProgramResult result = scale({"--json", path});
    EXPECT_EQ(result.exit_status, 3) << path;
    EXPECT_TRUE(json::parse(result.output)["scale"].is_null());
    EXPECT_THAT(result.errors, HasSubstr("stop: "));
  }
}

TEST_F(Scale, WantsOnePhoto) {
  EXPECT_EQ(scale({}).exit_status, 2);
  EXPECT_EQ(scale({"--json"}).exit_status, 2);
  EXPECT_EQ(scale({"a.jpg", "b.jpg"}).exit_status, 2);
  EXPECT_EQ(scale({"--help"}).exit_status, 0);
}

}  // namespace
}  // namespace scantling
