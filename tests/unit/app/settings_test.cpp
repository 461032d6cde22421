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
