#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include <chrono>

#include "picture_matchers.h"
#include "support/bad_files.h"
#include "support/picture_files.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

using test::asymmetric_picture;

TEST(BadFiles, AreEachRefusedWithOneSentence) {
  const TemporaryFolder folder;
  for (const test::BadFile& bad : test::bad_files()) {
    SCOPED_TRACE(bad.name);
    const auto start = std::chrono::steady_clock::now();
    const PhotoLoad load = load_photo(folder.file(bad.name, bad.bytes));
    const std::chrono::duration<double> taken = std::chrono::steady_clock::now() - start;
    EXPECT_FALSE(load.photo.has_value());
    EXPECT_EQ(ids_of(load.checks), std::string("stop:") + bad.id);
    ASSERT_FALSE(load.checks.empty());
    EXPECT_THAT(load.checks.back().message, ::testing::HasSubstr(bad.words));
    EXPECT_THAT(load.checks.back().message, ::testing::HasSubstr(bad.name));
    EXPECT_THAT(load.checks.back().message, ::testing::EndsWith("."));
    EXPECT_LT(taken.count(), 5.0);
  }
}

TEST(BadFiles, TakeNoMemoryForPixelsThatAHeaderOnlyClaims) {
  const TemporaryFolder folder;
  const auto jpeg = folder.file("a.jpg", test::jpeg_claiming(60'000, 60'000));
  const auto png = folder.file("a.png", test::png_claiming(60'000, 60'000));
  const auto peak_kb = [] {
    rusage usage;
    getrusage(RUSAGE_SELF, &usage);
    return usage.ru_maxrss;
  };
  const long before = peak_kb();
  load_photo(jpeg);
  load_photo(png);
  EXPECT_LT(peak_kb() - before, 20'000);
}

TEST(BadFiles, IncludeWhatIsNoFile) {
  const TemporaryFolder folder;
  EXPECT_EQ(ids_of(load_photo(folder / "missing.jpg").checks), "stop:photo_missing");
  EXPECT_EQ(ids_of(load_photo("").checks), "stop:photo_missing");
  EXPECT_EQ(ids_of(load_photo(folder.path()).checks), "stop:photo_not_a_photo");
  EXPECT_EQ(ids_of(load_photo("/dev/zero").checks), "stop:photo_not_a_photo");
  ASSERT_EQ(mkfifo((folder / "pipe.jpg").c_str(), 0600), 0);
  EXPECT_EQ(ids_of(load_photo(folder / "pipe.jpg").checks), "stop:photo_not_a_photo");
  EXPECT_EQ(ids_of(load_photo(folder.file("file", "x") / "below.jpg").checks),
            "stop:photo_missing");
  std::filesystem::create_symlink(folder / "loop.jpg", folder / "loop.jpg");
  EXPECT_EQ(ids_of(load_photo(folder / "loop.jpg").checks), "stop:photo_unreadable");
  EXPECT_EQ(ids_of(load_photo(folder / std::string(5000, 'x')).checks), "stop:photo_unreadable");
}

TEST(BadFiles, IncludeWhatTheUserMayNotRead) {
  const TemporaryFolder folder;
  const auto path = folder.file("locked.jpg", test::jpeg_file(asymmetric_picture(640, 480)));
  std::filesystem::permissions(folder.path(), std::filesystem::perms::all);
  std::filesystem::permissions(path, std::filesystem::perms::none);
  // The superuser may read everything, so become nobody for the moment.
  const bool superuser = geteuid() == 0;
  ASSERT_EQ(superuser ? seteuid(65534) : 0, 0);
  const PhotoLoad load = load_photo(path);
  ASSERT_EQ(superuser ? seteuid(0) : 0, 0);
  EXPECT_EQ(ids_of(load.checks), "stop:photo_unreadable");
  EXPECT_THAT(load.checks[0].message, ::testing::HasSubstr("Permission denied"));
}

TEST(BadFiles, KeepToTheGivenLimits) {
  const TemporaryFolder folder;
  const auto path = folder.file("a.jpg", test::jpeg_file(asymmetric_picture(640, 480)));
  const auto id_under = [&](PhotoLimits limits) { return ids_of(load_photo(path, limits).checks); };
  EXPECT_EQ(id_under({}), "");
  EXPECT_EQ(id_under({.file_bytes = 1000}), "stop:photo_too_large");
  EXPECT_EQ(id_under({.pixels = 640 * 480}), "");
  EXPECT_EQ(id_under({.pixels = 640 * 480 - 1}), "stop:photo_too_large");
  EXPECT_EQ(id_under({.side_px = 639}), "stop:photo_too_large");
  EXPECT_EQ(id_under({.smallest_side_px = 481}), "stop:photo_too_small");
}

}  // namespace
}  // namespace scantling
