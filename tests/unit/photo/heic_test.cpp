#include <opencv2/core.hpp>

#include "picture_matchers.h"
#include "support/picture_files.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

using test::asymmetric_picture;
using test::luma_of;

class Heic : public ::testing::Test {
 protected:
  TemporaryFolder folder_;
  const cv::Mat upright_ = asymmetric_picture(656, 496);
};

TEST_F(Heic, ReadsLumaColourAndTags) {
  const auto path = folder_.file(
      "a.heic", test::heic_file(upright_, {.exif = test::exif_block({.make = "Testmaker",
                                                                     .focal_length_35mm = 26,
                                                                     .width_px = 656,
                                                                     .height_px = 496})}));
  const PhotoLoad load = load_photo(path);
  ASSERT_TRUE(load.photo.has_value()) << ids_of(load.checks);
  EXPECT_EQ(load.photo->format, PhotoFormat::heic);
  EXPECT_THAT(load.photo->luma, LooksLike(luma_of(upright_), 8));
  EXPECT_EQ(load.photo->tags.make, "Testmaker");
  EXPECT_EQ(load.photo->tags.focal_length_35mm, 26.0);
  EXPECT_THAT(load_colour(path), LooksLike(upright_, 24));
}

TEST_F(Heic, IgnoresTheExifOrientation) {
  // A converter turned the pixels and left the old tag: the picture is upright as it is.
  const auto exif = test::exif_block({.orientation = 6, .width_px = 656, .height_px = 496});
  const PhotoLoad load =
      load_photo(folder_.file("a.heic", test::heic_file(upright_, {.exif = exif})));
  ASSERT_TRUE(load.photo.has_value()) << ids_of(load.checks);
  EXPECT_THAT(load.photo->luma, LooksLike(luma_of(upright_), 8));
  EXPECT_EQ(load.photo->exif_orientation, 1);
}

TEST_F(Heic, IsTurnedOnceByItsContainer) {
  for (int orientation : {3, 6, 8}) {
    const cv::Mat stored = test::stored_for_orientation(upright_, orientation);
    const auto exif = test::exif_block(
        {.orientation = orientation, .width_px = stored.cols, .height_px = stored.rows});
    const PhotoLoad load = load_photo(folder_.file(
        "a.heic", test::heic_file(stored, {.exif = exif, .container_turn = orientation})));
    ASSERT_TRUE(load.photo.has_value()) << ids_of(load.checks);
    EXPECT_THAT(load.photo->luma, LooksLike(luma_of(upright_), 8)) << orientation;
    EXPECT_EQ(load.photo->exif_orientation, orientation);
    EXPECT_EQ(ids_of(load.checks), "");
  }
}

TEST_F(Heic, IsRefusedWhenDamaged) {
  const test::Bytes good = test::heic_file(upright_);
  test::Bytes garbage = good;
  for (std::size_t i = 40; i < garbage.size(); ++i) garbage[i] = 0x5a;
  const PhotoLoad broken = load_photo(folder_.file("garbage.heic", garbage));
  EXPECT_FALSE(broken.photo.has_value());
  EXPECT_TRUE(any_stop(broken.checks)) << ids_of(broken.checks);

  for (const double part : {0.02, 0.3, 0.6, 0.95}) {
    test::Bytes cut = good;
    cut.resize(static_cast<std::size_t>(static_cast<double>(cut.size()) * part));
    const PhotoLoad load = load_photo(folder_.file("cut.heic", cut));
    EXPECT_FALSE(load.photo.has_value()) << part;
    EXPECT_TRUE(any_stop(load.checks)) << part;
  }
}

}  // namespace
}  // namespace scantling
