#include "app/ruler.h"

#include <gtest/gtest.h>

#include "app/capture_guide.h"
#include "app/light_inset.h"

namespace scantling {
namespace {

constexpr ScreenRect kCanvas{300, 20, 640, 480};

TEST(Ruler, IsLaidAcrossTheMiddleOfWhatIsSeen) {
  const ViewTransform view = ViewTransform::centred({1000, 800}, kCanvas.middle(), 2);
  Ruler ruler;
  EXPECT_FALSE(ruler.on());
  ruler.lay(view, kCanvas);
  EXPECT_TRUE(ruler.on());
  EXPECT_NEAR(ruler.places().a.x, 1000 - 64, 1e-9);  // a fifth of the canvas to each side
  EXPECT_NEAR(ruler.places().b.x, 1000 + 64, 1e-9);
  EXPECT_NEAR(ruler.places().a.y, 800, 1e-9);
}

TEST(Ruler, AnEndIsTakenWhereItIsGraspedElseANewLengthBegins) {
  const ViewTransform view = ViewTransform::centred({1000, 800}, kCanvas.middle(), 2);
  Ruler ruler;
  ruler.lay(view, kCanvas);
  const Point_px b = ruler.places().b;
  ScreenPoint near = view.to_screen(ruler.places().a);
  near.x += 4;  // not quite on it: the end keeps its distance from the pointer
  ruler.press(view, near, 14);
  ASSERT_TRUE(ruler.holding());
  ruler.drag_to({902, 810});
  EXPECT_NEAR(ruler.places().a.x, 900, 1e-9);
  EXPECT_NEAR(ruler.places().a.y, 810, 1e-9);
  EXPECT_EQ(ruler.places().b.x, b.x);
  ruler.let_go();
  ruler.drag_to({0, 0});
  EXPECT_NEAR(ruler.places().a.x, 900, 1e-9);

  ruler.press(view, view.to_screen({1000, 700}), 14);
  ruler.drag_to({1040, 730});
  EXPECT_NEAR(ruler.places().a.x, 1000, 1e-9);
  EXPECT_NEAR(ruler.places().a.y, 700, 1e-9);
  EXPECT_NEAR(ruler.places().b.x, 1040, 1e-9);
}

TEST(Ruler, KeysMoveTheChosenEnd) {
  Ruler ruler;
  ruler.lay(ViewTransform::centred({1000, 800}, kCanvas.middle(), 2), kCanvas);
  const EdgeSegment before = ruler.places();
  ruler.move_chosen(0, 3);
  EXPECT_EQ(ruler.places().b.y, before.b.y + 3);
  EXPECT_EQ(ruler.places().a.y, before.a.y);
  ruler.choose_other();
  ruler.move_chosen(-1, 0);
  EXPECT_EQ(ruler.places().a.x, before.a.x - 1);
  ruler.end();
  EXPECT_FALSE(ruler.on());
}

TEST(Ruler, WithoutACardItSaysWhatToDo) {
  PhotoLoad load;
  load.photo = Photo{};
  load.photo->luma = cv::Mat(600, 800, CV_8UC1, cv::Scalar(120));
  const Analysis nothing = Analysis::run(std::move(load), {});
  EXPECT_NE(ruler_note(nothing, {{10, 10}, {300, 300}}).find("Take a photo with the whole card"),
            std::string::npos);
}

TEST(LightWords, SayWhereTheStepLiesHowSurelyAndHowBlurred) {
  EdgeLight light;
  light.mm_per_px = 0.1;
  light.profile.fitted = true;
  light.profile.place_px = -0.42;
  light.profile.place_u_px = 0.031;
  light.profile.blur_px = 1.37;
  EXPECT_EQ(light_words(light),
            "The step lies 0.42 px (0.042 mm) before the line, standard uncertainty 0.03 px; its "
            "blur is 1.4 px.");
  light.profile.fitted = false;
  EXPECT_NE(light_words(light).find("No step fits here"), std::string::npos);
}

TEST(CaptureGuide, EveryViewHasItsStepsAndWhatRuinsIt) {
  for (const View view : {View::pad, View::rim, View::lip, View::faces, View::pile}) {
    const CaptureGuide& guide = capture_guide(view);
    EXPECT_EQ(guide.view, view);
    EXPECT_EQ(guide.steps.size(), 3u) << guide.title;
    EXPECT_GE(guide.ruins.size(), 2u) << guide.title;
    EXPECT_LE(guide.ruins.size(), 4u) << guide.title;
    for (const char* ruin : guide.ruins) EXPECT_LE(std::string(ruin).size(), 52u) << ruin;
  }
  // A lip is read with the printed card only; planes need their own cards.
  EXPECT_TRUE(capture_guide(View::pad).id_card);
  EXPECT_TRUE(capture_guide(View::rim).id_card);
  EXPECT_FALSE(capture_guide(View::lip).id_card);
}

}  // namespace
}  // namespace scantling
