// `cmake --install`: program, demo job, desktop entry and icon, found again from where they lie.

#include <gmock/gmock.h>

#include <filesystem>
#include <fstream>
#include <sstream>

#include "support/run_program.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

namespace fs = std::filesystem;
using ::testing::HasSubstr;

std::string content(const fs::path& file) {
  std::ostringstream text;
  text << std::ifstream(file).rdbuf();
  return text.str();
}

TEST(Install, TheInstalledProgramFindsItsOwnAssets) {
  const TemporaryFolder folder;
  const fs::path prefix = folder / "usr";
  // Only what the program needs: the build's other folders have nothing to install.
  const ProgramResult installed =
      run_program({SCANTLING_CMAKE, "--install", SCANTLING_BUILD_DIR, "--prefix", prefix.string()});
  ASSERT_EQ(installed.exit_status, 0) << installed.errors;
  const std::string program = (prefix / "bin/scantling").string();
  EXPECT_EQ(run_program({program, "--help"}).exit_status, 0);
  EXPECT_FALSE(fs::exists(prefix / "share/scantling/demo/scenes")) << "for making photos only";

  // desktop-entry-spec 1.5: what a menu needs to show and start it.
  const std::string entry = content(prefix / "share/applications/scantling.desktop");
  EXPECT_THAT(entry, HasSubstr("[Desktop Entry]\nType=Application\n"));
  EXPECT_THAT(entry, HasSubstr("\nExec=scantling %F\n"));
  EXPECT_THAT(entry, HasSubstr("\nIcon=scantling\n"));
  EXPECT_TRUE(fs::exists(prefix / "share/icons/hicolor/scalable/apps/scantling.svg"));

  std::ofstream(prefix / "share/scantling/demo/job.json") << "no job";
  const ProgramResult demo = run_program({program, "demo", "--out", (folder / "out").string()});
  EXPECT_EQ(demo.exit_status, 3);
  EXPECT_THAT(demo.errors, HasSubstr(prefix.string())) << "its own demo, not the source tree's";
}

}  // namespace
}  // namespace scantling
