#include "app/sorting_page.h"

#include <gmock/gmock.h>

#include "sorting/sorting_words.h"
#include "unit/sorting/made_sights.h"

namespace scantling {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;
using testing::SizeIs;

struct SortingPageTest : testing::Test {
  SortingPage page;

  /// Pads ten minutes apart, taken in the order of their names.
  void add_pads(int count) {
    std::vector<std::filesystem::path> files;
    for (int i = 0; i < count; ++i) files.push_back("/phone/" + std::to_string(i) + ".jpg");
    const std::vector<int> ids = page.add(files);
    for (int i = 0; i < count; ++i)
      page.take_sight(ids[static_cast<std::size_t>(i)],
                      made_pad(std::to_string(i) + ".jpg", 10 * i, 6 + 2 * i));
  }
  std::vector<std::string> places() const {
    std::vector<std::string> words;
    for (const SortingRow& row : page.rows())
      words.push_back(row.seen ? place_words(row.proposal.place) : "waits");
    return words;
  }
};

TEST_F(SortingPageTest, APhotoIsListedOnceAndWaitsUntilItWasLookedAt) {
  const std::vector<int> ids = page.add({"/phone/a.jpg", "/phone/b.jpg", "/phone/../phone/a.jpg"});
  ASSERT_THAT(ids, SizeIs(2));
  EXPECT_THAT(page.add({"/phone/b.jpg"}), IsEmpty());
  EXPECT_THAT(places(), ElementsAre("waits", "waits"));
  page.take_sight(ids[1], made_pad("b.jpg", 0, 8));
  EXPECT_EQ(page.seen(), 1u);
  EXPECT_THAT(page.outcome().files, SizeIs(1));
  EXPECT_THAT(page.outcome().rows, ElementsAre(ids[1])) << "what was not looked at stays";
}

TEST_F(SortingPageTest, TimesPutTheRowsInOrderBeforeTheyAreLookedAt) {
  const std::vector<int> ids = page.add({"/phone/a.jpg", "/phone/b.jpg"});
  page.take_times({{ids[0], "2026:05:16 11:00:00"}, {ids[1], "2026:05:16 10:00:00"}});
  EXPECT_EQ(page.rows()[0].id, ids[1]);
}

TEST_F(SortingPageTest, StepsThroughThePlacesAndTheLaterPadsFollow) {
  add_pads(3);
  EXPECT_THAT(places(), ElementsAre("Left inner pad", "Left outer pad", "Right inner pad"));
  page.step_place(1);
  EXPECT_THAT(places(), ElementsAre("Left outer pad", "Right inner pad", "Right outer pad"));
  EXPECT_TRUE(page.rows()[0].chosen());
  page.step_place(-1);
  page.step_place(-1);
  EXPECT_THAT(places()[0], "Left out") << "round the corner";
  ASSERT_TRUE(page.undo_choice());
  ASSERT_TRUE(page.undo_choice());
  ASSERT_TRUE(page.undo_choice());
  EXPECT_FALSE(page.undo_choice());
  EXPECT_THAT(places(), ElementsAre("Left inner pad", "Left outer pad", "Right inner pad"));
}

TEST_F(SortingPageTest, WhatWasTakenBackIsSaidAgainUntilSomethingElseIsSaid) {
  add_pads(2);
  EXPECT_FALSE(page.redo_choice());
  page.step_place(1);
  page.step_place(1);
  const auto said = places();
  page.undo_choice();
  page.undo_choice();
  ASSERT_TRUE(page.redo_choice());
  ASSERT_TRUE(page.redo_choice());
  EXPECT_FALSE(page.redo_choice());
  EXPECT_EQ(places(), said);
  ASSERT_TRUE(page.undo_choice()) << "and back once more";
  page.step_place(-1);
  EXPECT_FALSE(page.redo_choice()) << "another choice was made meanwhile";
}

TEST_F(SortingPageTest, AnotherViewGivesAPlaceOfThatView) {
  add_pads(2);
  page.select(1);
  page.choose_view(View::rim);
  EXPECT_THAT(places(), ElementsAre("Left inner pad", "Left disc, rim"));
  page.step_view(-1);
  EXPECT_EQ(page.rows()[1].view(), View::pad);
  page.choose_bare_sheet();
  EXPECT_THAT(places()[1], "Your phone's camera");
  EXPECT_THAT(page.outcome().camera, SizeIs(1));
}

TEST_F(SortingPageTest, LeavesOutAndTakesBack) {
  add_pads(2);
  page.leave_out_or_take();
  EXPECT_THAT(places(), ElementsAre("Left out", "Left inner pad"));
  EXPECT_EQ(page.outcome().left_out, 1u);
  page.leave_out_or_take();
  EXPECT_THAT(places(), ElementsAre("Left inner pad", "Left outer pad"));
}

TEST_F(SortingPageTest, GoesToTheNextRowThatWantsTheEye) {
  add_pads(6);  // the fifth and sixth have no place of their own
  page.step_to_look();
  EXPECT_EQ(page.selected(), 4u);
  page.step_to_look();
  EXPECT_EQ(page.selected(), 5u);
  page.step_to_look();
  EXPECT_EQ(page.selected(), 4u);
  EXPECT_EQ(page.outcome().look, 2u);
  page.choose_place(PhotoPlace::aside());
  EXPECT_EQ(page.outcome().look, 1u);
}

TEST_F(SortingPageTest, TheRowInHandStaysInHandWhenAnEarlierPhotoComes) {
  const std::vector<int> ids = page.add({"/phone/b.jpg", "/phone/c.jpg"});
  page.take_sight(ids[0], made_pad("b.jpg", 10, 8));
  page.take_sight(ids[1], made_pad("c.jpg", 20, 12));
  page.select(1);
  const std::vector<int> early = page.add({"/phone/a.jpg"});
  page.take_sight(early[0], made_pad("a.jpg", 0, 15));
  EXPECT_EQ(page.row()->id, ids[1]);
  EXPECT_EQ(page.selected(), 2u);
}

TEST_F(SortingPageTest, WhatTheJobHasChangesTheProposal) {
  add_pads(1);
  SortingContext context;
  context.filed.push_back(
      {"x", PhotoPlace::part(PartSlot::pad(Side::left, PadPlace::inner), {View::pad, {}}), {}});
  page.set_context(context);
  EXPECT_THAT(places(), ElementsAre("Left outer pad"));
}

TEST_F(SortingPageTest, WhatIsFiledLeavesTheListAndTheRestStays) {
  add_pads(2);
  page.add({"/phone/late.jpg"});
  page.remove(page.outcome().rows);
  ASSERT_THAT(page.rows(), SizeIs(1));
  EXPECT_FALSE(page.rows()[0].seen);
  page.clear();
  EXPECT_TRUE(page.empty());
  EXPECT_EQ(page.row(), nullptr);
  page.step(1);
  page.step_to_look();
  page.leave_out_or_take();  // nothing to act on
}

}  // namespace
}  // namespace scantling
