#include "app/settings.h"

#include <gtest/gtest.h>

#include <fstream>

#include "support/temporary_folder.h"

namespace scantling {
namespace {

TEST(Settings, ComeBackAsTheyWereSaved) {
  const TemporaryFolder folder;
  const auto file = folder.path() / "deep" / "window.json";
  Settings settings;
  settings.person = "Zoë “Z” Ångström";
  settings.light_theme = true;
  settings.window_width = 1500;
  settings.last_job = 7;
  settings.record = "/somewhere/record.sqlite";
  settings.watched_folder = "/home/zoë/Phone photos";
  ASSERT_TRUE(save_settings(settings, file));
  const Settings back = load_settings(file);
  EXPECT_EQ(back.person, settings.person);
  EXPECT_TRUE(back.light_theme);
  EXPECT_EQ(back.window_width, 1500);
  EXPECT_EQ(back.last_job, 7);
  EXPECT_EQ(back.record, settings.record);
  EXPECT_EQ(back.watched_folder, settings.watched_folder);
}

TEST(Settings, MissingOrDamagedOnesAreNoFault) {
  const TemporaryFolder folder;
  const auto file = folder.path() / "window.json";
  EXPECT_EQ(load_settings(file).window_width, 1280);
  for (const char* text :
       {"", "{", "[1]", "{\"window_width\": \"wide\"}", "{\"person\": 3}", "{\"last_job\": []}"}) {
    std::ofstream(file) << text;
    const Settings back = load_settings(file);
    EXPECT_EQ(back.window_width, 1280) << text;
    EXPECT_EQ(back.person, "") << text;
  }
}

TEST(Settings, FiguresTextSizeAndRecentJobsComeBack) {
  const TemporaryFolder folder;
  const auto file = folder.path() / "window.json";
  Settings settings;
  settings.inches = settings.miles = settings.decimal_comma = true;
  settings.text_percent = 130;
  settings.check_every_km = 15'000;
  for (const std::int64_t job : {3, 5, 3, 9}) remember_job(settings, job);
  ASSERT_TRUE(save_settings(settings, file));
  const Settings back = load_settings(file);
  EXPECT_EQ(figure_style(back),
            (FigureStyle{LengthUnit::inch, DistanceUnit::mile, DecimalMark::comma}));
  EXPECT_EQ(back.text_percent, 130);
  EXPECT_EQ(back.check_every_km, 15'000);
  EXPECT_EQ(back.recent_jobs, (std::vector<std::int64_t>{9, 3, 5}));
  for (std::int64_t job = 10; job < 40; ++job) remember_job(settings, job);
  EXPECT_EQ(settings.recent_jobs.size(), kMostRecentJobs);
  EXPECT_EQ(settings.recent_jobs.front(), 39);
}

TEST(Settings, OneDamagedValueLeavesTheOthers) {
  const TemporaryFolder folder;
  const auto file = folder.path() / "window.json";
  std::ofstream(file) << R"({"person": "Ása", "text_percent": "huge", "check_every_km": -4,
      "recent_jobs": [1, "two", 3], "miles": 1, "window_width": 1e300, "inches": true})";
  Settings back = load_settings(file);
  EXPECT_EQ(back.person, "Ása");
  EXPECT_TRUE(back.inches);
  EXPECT_FALSE(back.miles);
  EXPECT_EQ(back.text_percent, 100);
  EXPECT_EQ(back.check_every_km, 0);
  EXPECT_EQ(back.recent_jobs, (std::vector<std::int64_t>{1, 3}));
  EXPECT_EQ(back.window_width, 8000);
  std::ofstream(file) << R"({"text_percent": 1000, "recent_jobs": {"a": 1}})";
  back = load_settings(file);
  EXPECT_EQ(back.text_percent, 130);
  EXPECT_TRUE(back.recent_jobs.empty());
}

TEST(Settings, AnAbsurdWindowIsBroughtBack) {
  const TemporaryFolder folder;
  const auto file = folder.path() / "window.json";
  std::ofstream(file) << R"({"window_width": 3, "window_height": 999999})";
  EXPECT_EQ(load_settings(file).window_width, 800);
  EXPECT_EQ(load_settings(file).window_height, 8000);
}

TEST(Settings, AFolderThatCannotBeWrittenIsTold) {
  EXPECT_FALSE(save_settings({}, "/proc/no/window.json"));
}

TEST(Settings, ThePersonHasAName) {
  EXPECT_FALSE(system_person().empty());
}

}  // namespace
}  // namespace scantling
