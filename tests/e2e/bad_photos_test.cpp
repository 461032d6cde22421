// Photos that show what people get wrong: each must be refused through the real program with its
// own sentence, exit status 3 and no number.

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "support/bad_photos.h"
#include "support/run_program.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

using Json = nlohmann::json;

class BadPhotos : public testing::TestWithParam<test::BadPhoto> {};

TEST_P(BadPhotos, GetTheirOwnSentenceAndNoNumber) {
  const test::BadPhoto& bad = GetParam();
  const TemporaryFolder folder;
  const auto photo = folder.file(std::string(bad.name) + ".jpg", bad.jpeg());
  const ProgramResult run = run_program({SCANTLING_EXECUTABLE, "measure", "--view", bad.view,
                                         "--sheet-scale", "1,1,0.002", "--json", photo});
  EXPECT_EQ(run.exit_status, 3) << run.errors;
  const Json json = Json::parse(run.output);
  EXPECT_TRUE(json.at("dimensions").empty()) << json.at("dimensions").dump();
  bool found = false;
  for (const Json& check : json.at("checks")) {
    EXPECT_EQ(check.at("message").get<std::string>().back(), '.');
    if (check.at("id") != bad.id) continue;
    found = true;
    EXPECT_EQ(check.at("severity"), "stop");
    EXPECT_THAT(check.at("message").get<std::string>(), testing::HasSubstr(bad.words));
    EXPECT_THAT(run.errors, testing::HasSubstr(check.at("message").get<std::string>()));
  }
  EXPECT_TRUE(found) << json.at("checks").dump(1);
}

INSTANTIATE_TEST_SUITE_P(Each, BadPhotos, testing::ValuesIn(test::bad_photos()),
                         [](const auto& photo) { return std::string(photo.param.name); });

TEST(BadPhotoCorpus, IsLargeEnough) {
  EXPECT_GE(test::bad_photos().size(), 25u);
}

}  // namespace
}  // namespace scantling
