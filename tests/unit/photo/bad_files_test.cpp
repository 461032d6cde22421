#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>
#include <zlib.h>

#include <chrono>

#include "picture_matchers.h"
#include "support/picture_files.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

using test::asymmetric_picture;
using test::Bytes;

Bytes cut(Bytes bytes, double part) {
  bytes.resize(static_cast<std::size_t>(static_cast<double>(bytes.size()) * part));
  return bytes;
}

Bytes text(std::string_view s) {
  return {s.begin(), s.end()};
}

/// A JPEG whose frame header claims another size.
Bytes jpeg_claiming(int width, int height) {
  Bytes bytes = test::jpeg_file(asymmetric_picture(640, 480));
  for (std::size_t i = 2; i + 9 < bytes.size(); ++i)
    if (bytes[i] == 0xff && bytes[i + 1] == 0xc0) {
      bytes[i + 5] = static_cast<std::uint8_t>(height >> 8);
      bytes[i + 6] = static_cast<std::uint8_t>(height);
      bytes[i + 7] = static_cast<std::uint8_t>(width >> 8);
      bytes[i + 8] = static_cast<std::uint8_t>(width);
      return bytes;
    }
  throw std::logic_error("no frame header");
}

/// A PNG whose header claims another size, with a right checksum.
Bytes png_claiming(std::uint32_t width, std::uint32_t height) {
  Bytes bytes = test::png_file(asymmetric_picture(640, 480));
  const auto put = [&](std::size_t at, std::uint32_t value) {
    for (std::size_t i = 0; i < 4; ++i)
      bytes[at + i] = static_cast<std::uint8_t>(value >> (24 - 8 * i));
  };
  put(16, width);
  put(20, height);
  put(29, static_cast<std::uint32_t>(crc32(0, bytes.data() + 12, 17)));
  return bytes;
}

Bytes with_flipped_middle(Bytes bytes) {
  for (std::size_t i = bytes.size() / 2; i < bytes.size() / 2 + 40; ++i) bytes[i] ^= 0xff;
  return bytes;
}

/// A progressive JPEG with one scan written a thousand times: small to store, endless to decode.
Bytes jpeg_with_a_thousand_scans() {
  const Bytes bytes = test::jpeg_file(asymmetric_picture(640, 480), {.progressive = true});
  std::size_t scan = 0;
  for (std::size_t i = 2; i + 1 < bytes.size(); ++i)
    if (bytes[i] == 0xff && bytes[i + 1] == 0xda) scan = i;
  Bytes many(bytes.begin(), bytes.end() - 2);
  for (int i = 0; i < 1000; ++i)
    many.insert(many.end(), bytes.begin() + static_cast<std::ptrdiff_t>(scan), bytes.end() - 2);
  many.insert(many.end(), {0xff, 0xd9});
  return many;
}

struct BadFile {
  const char* name;
  Bytes bytes;
  const char* id;
  const char* words;  ///< must be in the sentence
};

std::vector<BadFile> bad_files() {
  const cv::Mat rgb = asymmetric_picture(640, 480);
  const Bytes jpeg = test::jpeg_file(rgb);
  const Bytes progressive = test::jpeg_file(rgb, {.progressive = true});
  const Bytes png = test::png_file(rgb);
  const Bytes tiff = test::tiff_file(rgb);
  return {
      {"empty.jpg", {}, "photo_truncated", "is empty"},
      {"one-byte.jpg", {0xff}, "photo_not_a_photo", "JPEG, PNG, TIFF or HEIC"},
      {"text.jpg", text("Pads bought in May.\nNothing else.\n"), "photo_not_a_photo",
       "a text file"},
      {"paper.jpg", text("%PDF-1.7\n%\xe2\xe3"), "photo_not_a_photo", "a PDF document"},
      {"archive.heic", text(std::string_view("PK\x03\x04\x14\0\0\0", 8)), "photo_not_a_photo",
       "a ZIP archive"},
      {"moving.png", text("GIF89a......."), "photo_not_a_photo", "a GIF animation"},
      {"web.jpg", text("RIFF....WEBPVP8 "), "photo_not_a_photo", "a WebP picture"},
      {"film.jpg",
       text(std::string_view("\0\0\0\x18"
                             "ftypmp42\0\0\0\0",
                             16)),
       "photo_not_a_photo", "a video"},
      {"zeros.jpg", Bytes(10'000, 0), "photo_not_a_photo", "not a photo"},
      {"head-only.jpg", {0xff, 0xd8, 0xff}, "photo_truncated", "breaks off"},
      {"head-only.png", Bytes(png.begin(), png.begin() + 12), "photo_truncated", "breaks off"},
      {"head-only.tif", Bytes(tiff.begin(), tiff.begin() + 6), "photo_truncated", "breaks off"},
      {"cut-1.jpg", cut(jpeg, 0.02), "photo_truncated", "copy it from the phone"},
      {"cut-2.jpg", cut(jpeg, 0.5), "photo_truncated", "copy it from the phone"},
      {"cut-3.jpg", Bytes(jpeg.begin(), jpeg.end() - 30), "photo_truncated",
       "copy it from the phone"},
      {"cut-4.jpg", cut(progressive, 0.5), "photo_truncated", "copy it from the phone"},
      {"cut.png", cut(png, 0.5), "photo_truncated", "copy it from the phone"},
      {"cut.tif", cut(tiff, 0.5), "photo_truncated", "copy it from the phone"},
      {"hurt.png", with_flipped_middle(png), "photo_damaged", "is damaged"},
      {"hurt.tif", with_flipped_middle(tiff), "photo_damaged", "is damaged"},
      {"dot.jpg", test::jpeg_file(asymmetric_picture(1, 1)), "photo_too_small", "1 x 1"},
      {"dot.png", test::png_file(asymmetric_picture(1, 1)), "photo_too_small", "1 x 1"},
      {"dot.tif", test::tiff_file(asymmetric_picture(1, 1)), "photo_too_small", "1 x 1"},
      {"thumbnail.jpg", test::jpeg_file(asymmetric_picture(640, 479)), "photo_too_small",
       "640 x 479"},
      {"bomb.jpg", jpeg_claiming(60'000, 60'000), "photo_too_large", "60000 x 60000"},
      {"wide.jpg", jpeg_claiming(32'001, 600), "photo_too_large", "32001 x 600"},
      {"area.jpg", jpeg_claiming(12'000, 12'000), "photo_too_large", "120 million"},
      {"bomb.png", png_claiming(60'000, 60'000), "photo_too_large", "60000 x 60000"},
      {"huge.png", png_claiming(2'000'000'000, 2'000'000'000), "photo_damaged", "is damaged"},
      {"nothing.png", png_claiming(0, 600), "photo_damaged", "is damaged"},
      {"lie.png", png_claiming(8'000, 8'000), "photo_damaged", "is damaged"},
      {"lie.jpg", jpeg_claiming(8'000, 8'000), "photo_damaged", "is damaged"},
      {"scans.jpg", jpeg_with_a_thousand_scans(), "photo_damaged", "is damaged"},
      {"print.jpg", test::cmyk_jpeg_file(640, 480), "photo_unsupported", "CMYK"},
  };
}

TEST(BadFiles, AreEachRefusedWithOneSentence) {
  const TemporaryFolder folder;
  for (const BadFile& bad : bad_files()) {
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
  const auto jpeg = folder.file("a.jpg", jpeg_claiming(60'000, 60'000));
  const auto png = folder.file("a.png", png_claiming(60'000, 60'000));
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
