// The Debian package: what it holds, what it asks for, and that the program runs from it.

#include <gmock/gmock.h>

#include <filesystem>
#include <fstream>

#include "support/run_program.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

namespace fs = std::filesystem;
using ::testing::ContainsRegex;
using ::testing::HasSubstr;

/// Packs the build; an empty path where that fails.
fs::path packed_into(const fs::path& folder) {
  const ProgramResult packed = run_program(
      {SCANTLING_CPACK, "-G", "DEB", "--config",
       (fs::path(SCANTLING_BUILD_DIR) / "CPackConfig.cmake").string(), "-B", folder.string()});
  EXPECT_EQ(packed.exit_status, 0) << packed.output << packed.errors;
  for (const auto& entry : fs::directory_iterator(folder))
    if (entry.path().extension() == ".deb") return entry.path();
  return {};
}

// Debian Policy 5.3 and 7.2: a control file names the package and what it needs.
void expect_control(const fs::path& package) {
  const std::string control = run_program({"dpkg-deb", "--field", package.string()}).output;
  EXPECT_THAT(control, HasSubstr("Package: scantling\n"));
  EXPECT_THAT(control, ContainsRegex("Version: [0-9]"));
  EXPECT_THAT(control, ContainsRegex("Maintainer: .+@"));
  for (const char* needed : {"libc6", "libopencv-core", "libglfw3", "libheif1", "fonts-inter"})
    EXPECT_THAT(control, HasSubstr(needed));
}

// One test, as packing takes its time.
TEST(Package, NamesWhatItNeedsAndRunsFromWhereItIsUnpacked) {
  const TemporaryFolder folder;
  const fs::path package = packed_into(folder.path());
  ASSERT_FALSE(package.empty());
  expect_control(package);
  const fs::path root = folder / "root";
  ASSERT_EQ(run_program({"dpkg-deb", "-x", package.string(), root.string()}).exit_status, 0);
  for (const char* file : {"applications/scantling.desktop", "doc/scantling/copyright",
                           "scantling/demo/job.json", "icons/hicolor/scalable/apps/scantling.svg"})
    EXPECT_TRUE(fs::exists(root / "usr/share" / file)) << file;
  EXPECT_FALSE(fs::exists(root / "usr/share/scantling/demo/scenes"));
  const std::string program = (root / "usr/bin/scantling").string();
  const fs::path sheet = folder / "card.pdf";
  EXPECT_EQ(run_program({program, "sheet", "--paper", "a4", "--out", sheet.string()}).exit_status,
            0);
  EXPECT_TRUE(fs::exists(sheet));
  const ProgramResult measured =
      run_program({program, "measure", "--view", "pad", "--json",
                   (root / "usr/share/scantling/demo/pad_left_inner.jpg").string()});
  EXPECT_EQ(measured.exit_status, 0) << measured.errors;
  EXPECT_THAT(measured.output, HasSubstr("friction_thickness"));
}

}  // namespace
}  // namespace scantling
