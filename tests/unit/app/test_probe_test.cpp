#include "app/test_probe.h"

#include <gtest/gtest.h>

#include <cstdlib>
#include <fstream>
#include <nlohmann/json.hpp>

#include "support/temporary_folder.h"

namespace scantling {
namespace {

using nlohmann::ordered_json;

TEST(TestProbe, WritesOnlyWhenSomethingChanges) {
  const TemporaryFolder folder;
  const auto file = folder.path() / "probe.json";
  ASSERT_EQ(setenv("SCANTLING_PROBE", file.c_str(), 1), 0);
  TestProbe probe;
  unsetenv("SCANTLING_PROBE");
  ASSERT_TRUE(probe.on());
  const auto frame = [&](double x, const char* screen) {
    probe.begin_frame();
    probe.place("button:open", {x, 2, 30, 10});
    probe.end_frame({{"screen", screen}});
    std::ifstream in(file);
    return ordered_json::parse(in);
  };
  EXPECT_EQ(frame(1, "start")["frame"], 1);
  EXPECT_EQ(frame(1, "start")["frame"], 1);
  EXPECT_EQ(frame(1, "job")["frame"], 3);
  const ordered_json moved = frame(5, "job");
  EXPECT_EQ(moved["frame"], 4);
  EXPECT_EQ(moved["rects"]["button:open"], ordered_json({5, 2, 30, 10}));
}

TEST(TestProbe, IsOffWithoutItsVariable) {
  unsetenv("SCANTLING_PROBE");
  const TestProbe probe;
  EXPECT_FALSE(probe.on());
}

}  // namespace
}  // namespace scantling
