#include <cstdint>

#include "photo/camera_tags.h"
#include "picture_matchers.h"
#include "support/picture_files.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

using test::asymmetric_picture;
using ::testing::AllOf;
using ::testing::HasSubstr;

const test::ExifFields kGoodFields = {.make = "Testmaker",
                                      .model = "Pocket 7",
                                      .software = "Shutter 1.2",
                                      .taken_at = "2026:03:04 10:11:12",
                                      .focal_length_mm = {{425, 100}},
                                      .focal_length_35mm = 26,
                                      .orientation = 6,
                                      .width_px = 4032,
                                      .height_px = 3024};

TEST(Exif, ReadsWhatTheCameraWrote) {
  const ExifBlock block = read_exif(test::exif_block(kGoodFields));
  EXPECT_EQ(block.tags.make, "Testmaker");
  EXPECT_EQ(block.tags.model, "Pocket 7");
  EXPECT_EQ(block.tags.software, "Shutter 1.2");
  EXPECT_EQ(block.tags.taken_at, "2026:03:04 10:11:12");
  EXPECT_EQ(block.tags.focal_length_mm, 4.25);
  EXPECT_EQ(block.tags.focal_length_35mm, 26.0);
  EXPECT_EQ(block.tags.exif_width_px, 4032);
  EXPECT_EQ(block.tags.exif_height_px, 3024);
  EXPECT_EQ(block.orientation, 6);
}

TEST(Exif, DropsRubbishValues) {
  EXPECT_EQ(read_exif(test::exif_block({.focal_length_35mm = 0})).tags.focal_length_35mm,
            std::nullopt);
  EXPECT_EQ(read_exif(test::exif_block({.focal_length_35mm = 9})).tags.focal_length_35mm,
            std::nullopt);
  EXPECT_EQ(read_exif(test::exif_block({.focal_length_35mm = 201})).tags.focal_length_35mm,
            std::nullopt);
  EXPECT_EQ(read_exif(test::exif_block({.focal_length_35mm = 200})).tags.focal_length_35mm, 200.0);
  EXPECT_EQ(read_exif(test::exif_block({.focal_length_mm = {{4, 0}}})).tags.focal_length_mm,
            std::nullopt);
  EXPECT_EQ(read_exif(test::exif_block({.focal_length_mm = {{0, 1}}})).tags.focal_length_mm,
            std::nullopt);
  EXPECT_EQ(read_exif(test::exif_block({.width_px = 0})).tags.exif_width_px, std::nullopt);
  EXPECT_EQ(read_exif(test::exif_block({.width_px = 2'000'000})).tags.exif_width_px, std::nullopt);
  for (int orientation : {0, 9, 65535})
    EXPECT_EQ(read_exif(test::exif_block({.orientation = orientation})).orientation, 1)
        << orientation;
  EXPECT_EQ(read_exif(test::exif_block({.make = " A\x01\xff"
                                                "B  "}))
                .tags.make,
            "AB");
}

TEST(Exif, TakesABrokenBlockAsAbsent) {
  const test::Bytes good = test::exif_block(kGoodFields);
  EXPECT_EQ(read_exif({}).tags.make, "");
  EXPECT_EQ(read_exif(test::Bytes(5000, 0xff)).orientation, 1);
  for (std::size_t cut = 0; cut < good.size(); cut += 3) read_exif(std::span(good).first(cut));
  // Every byte turned over once: nothing may throw or crash, whatever it says then.
  for (std::size_t i = 0; i < good.size(); ++i) {
    test::Bytes bad = good;
    bad[i] = static_cast<std::uint8_t>(~bad[i]);
    const ExifBlock block = read_exif(bad);
    EXPECT_TRUE(block.orientation >= 1 && block.orientation <= 8);
  }
}

class ExifInFiles : public ::testing::Test {
 protected:
  PhotoLoad load(int width, int height, const test::ExifFields& fields) {
    return load_photo(folder_.file(
        "a.jpg", test::jpeg_with_exif(test::jpeg_file(asymmetric_picture(width, height)),
                                      test::exif_block(fields))));
  }
  TemporaryFolder folder_;
};

TEST_F(ExifInFiles, SaysNothingWhenTheSizeAgreesInEitherOrientation) {
  for (int orientation : {1, 6, 8}) {
    EXPECT_EQ(
        ids_of(
            load(800, 600, {.orientation = orientation, .width_px = 800, .height_px = 600}).checks),
        "");
    EXPECT_EQ(
        ids_of(
            load(800, 600, {.orientation = orientation, .width_px = 600, .height_px = 800}).checks),
        "");
  }
  EXPECT_EQ(ids_of(load(800, 600, {.width_px = 800}).checks), "");
}

TEST_F(ExifInFiles, FlagsResizedAndCroppedPhotos) {
  const PhotoLoad resized = load(800, 600, {.width_px = 4032, .height_px = 3024});
  EXPECT_EQ(ids_of(resized.checks), "warn:photo_resized");
  EXPECT_THAT(resized.checks[0].message, AllOf(HasSubstr("4032 x 3024"), HasSubstr("800 x 600")));
  EXPECT_TRUE(resized.photo.has_value());
  EXPECT_EQ(ids_of(load(600, 800, {.width_px = 4032, .height_px = 3024}).checks),
            "warn:photo_resized");
  EXPECT_EQ(ids_of(load(800, 500, {.width_px = 4032, .height_px = 3024}).checks),
            "warn:photo_cropped");
}

TEST_F(ExifInFiles, ReadsTagsOfPngAndPassesOverBrokenBlocks) {
  const test::Bytes png = test::png_file(asymmetric_picture(640, 480));
  const PhotoLoad load = load_photo(
      folder_.file("a.png", test::png_with_exif(png, test::exif_block({.make = "Testmaker"}))));
  ASSERT_TRUE(load.photo.has_value());
  EXPECT_EQ(load.photo->tags.make, "Testmaker");

  const test::Bytes jpeg = test::jpeg_file(asymmetric_picture(640, 480));
  const PhotoLoad broken =
      load_photo(folder_.file("b.jpg", test::jpeg_with_exif(jpeg, test::Bytes(300, 0x2a))));
  ASSERT_TRUE(broken.photo.has_value());
  EXPECT_EQ(ids_of(broken.checks), "");
  EXPECT_EQ(broken.photo->tags.make, "");
}

}  // namespace
}  // namespace scantling
