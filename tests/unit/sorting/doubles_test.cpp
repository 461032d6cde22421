#include "sorting/doubles.h"

#include <gtest/gtest.h>

#include "unit/sorting/made_sights.h"

namespace scantling {
namespace {

PhotoSight seen_from(const std::string& name, double seconds, double x_mm, double confidence) {
  PhotoSight sight = made_pad(name, seconds / 60, 10);
  sight.stand = made_stance({x_mm, 0, -300}, {0, 0, 1});
  sight.surest_edges = confidence;
  return sight;
}

TEST(Doubles, TheSameContentUnderTwoNames) {
  std::vector<PhotoSight> photos = {made_pad("a", 0, 10), made_pad("b", 5, 12),
                                    made_pad("a copy", 0, 10)};
  photos[2].sha256 = photos[0].sha256;
  const auto doubles = find_doubles(photos);
  EXPECT_FALSE(doubles[0]);
  EXPECT_FALSE(doubles[1]);
  ASSERT_TRUE(doubles[2]);
  EXPECT_EQ(doubles[2]->of, 0u);
  EXPECT_TRUE(doubles[2]->same_file);
}

TEST(Doubles, OfABurstTheSurestIsKept) {
  const std::vector<PhotoSight> photos = {seen_from("1", 0, 0, 0.6), seen_from("2", 1, 2, 0.9),
                                          seen_from("3", 2, 3, 0.7)};
  const auto doubles = find_doubles(photos);
  EXPECT_FALSE(doubles[1]);
  for (const std::size_t i : {0u, 2u}) {
    ASSERT_TRUE(doubles[i]) << i;
    EXPECT_EQ(doubles[i]->of, 1u) << i;
    EXPECT_FALSE(doubles[i]->same_file);
  }
}

TEST(Doubles, AnotherStandOrAnotherTimeOrAnotherViewIsNone) {
  EXPECT_FALSE(find_doubles({seen_from("1", 0, 0, 1), seen_from("2", 1, 30, 1)})[1]);
  EXPECT_FALSE(find_doubles({seen_from("1", 0, 0, 1), seen_from("2", 60, 0, 1)})[1]);
  std::vector<PhotoSight> photos = {seen_from("1", 0, 0, 1), seen_from("2", 1, 0, 1)};
  ASSERT_TRUE(find_doubles(photos)[1]);
  photos[1].view = View::rim;
  EXPECT_FALSE(find_doubles(photos)[1]);
  photos[1].view = View::pad;
  photos[1].taken_s.reset();
  EXPECT_FALSE(find_doubles(photos)[1]) << "without a time nobody knows";
}

TEST(Doubles, AnUnusablePhotoIsNeverKeptInsteadOfAUsableOne) {
  std::vector<PhotoSight> photos = {seen_from("1", 0, 0, 0.99), seen_from("2", 1, 0, 0.2)};
  photos[0].checks = {{"blurred", Severity::stop, "The photo is blurred."}};
  const auto doubles = find_doubles(photos);
  EXPECT_TRUE(doubles[0]);
  EXPECT_FALSE(doubles[1]);
}

}  // namespace
}  // namespace scantling
