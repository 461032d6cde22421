// A whole axle in the real window, from an empty record to the report; once as it is, once with the
// program killed after every step.
#include <gtest/gtest.h>

#include "support/run_program.h"
#include "window/whole_job.h"

namespace scantling {
namespace {

using nlohmann::json;

Look look(int dots_per_inch, DisplaySize size, bool light) {
  Look look;
  look.dots_per_inch = dots_per_inch;
  look.size = size;
  look.light = light;
  return look;
}

int count(const std::string& text, const std::string& words) {
  int found = 0;
  for (std::size_t at = 0; (at = text.find(words, at)) != std::string::npos; ++at) ++found;
  return found;
}

TEST(WholeJobWindow, AnEmptyRecordBecomesADecidedReportedAxle) {
  WholeJob job(look(96, {1280, 800}, false));
  job.run();
  const json now = job.window().state();
  EXPECT_EQ(now.at("sorting").at("judged"), 6);
  EXPECT_EQ(now.at("job").at("odometer_km"), 81250.0);
  const std::string text = run_program({"pdftotext", "-layout", job.report().string(), "-"}).output;
  EXPECT_GE(count(text, "Front left"), 3) << text;
  EXPECT_GE(count(text, "Front right"), 3) << text;
  EXPECT_NE(text.find("23.86"), std::string::npos) << "the micrometer's reading";
}

TEST(WholeJobWindow, AndTheSameAtTwiceTheScale) {
  WholeJob job(look(192, {2560, 1600}, true));
  job.run();
  EXPECT_EQ(job.window().state().at("sorting").at("judged"), 6);
}

TEST(WholeJobWindow, ASuddenEndAfterAnyStepLosesNothing) {
  WholeJob job(look(96, {1600, 1000}, true), true);
  job.run();
  EXPECT_EQ(job.window().state().at("sorting").at("judged"), 6);
}

}  // namespace
}  // namespace scantling
