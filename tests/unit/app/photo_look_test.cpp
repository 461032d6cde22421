#include "app/photo_look.h"

#include <gtest/gtest.h>

namespace scantling {
namespace {

int shown(int brightness, int code) {
  return brightness_table(brightness).at<unsigned char>(code);
}

TEST(PhotoLook, AsTakenChangesNoCode) {
  for (int code = 0; code < 256; ++code) EXPECT_EQ(shown(0, code), code);
  EXPECT_TRUE(PhotoLook{}.as_taken());
}

TEST(PhotoLook, EveryStepKeepsBlackWhiteAndTheOrderOfGreys) {
  for (int step = PhotoLook::kDarkest; step <= PhotoLook::kBrightest; ++step) {
    EXPECT_EQ(shown(step, 0), 0);
    EXPECT_EQ(shown(step, 255), 255);
    for (int code = 1; code < 256; ++code) EXPECT_GE(shown(step, code), shown(step, code - 1));
  }
}

TEST(PhotoLook, LiftsADarkPhotoToAMiddleGrey) {
  EXPECT_GT(shown(1, 20), 35);
  EXPECT_GT(shown(PhotoLook::kBrightest, 12), 128);
  EXPECT_LT(shown(PhotoLook::kDarkest, 200), 150);
}

TEST(PhotoLook, StopsAtItsEndsAndComesBack) {
  PhotoLook look;
  for (int i = 0; i < 20; ++i) look.brighten(1);
  EXPECT_EQ(look.brightness, PhotoLook::kBrightest);
  for (int i = 0; i < 40; ++i) look.brighten(-1);
  EXPECT_EQ(look.brightness, PhotoLook::kDarkest);
  look.turn(-1);
  EXPECT_EQ(look.quarter_turns, 3);
  look.turn(1);
  EXPECT_EQ(look.quarter_turns, 0);
}

}  // namespace
}  // namespace scantling
