#include <gmock/gmock.h>

#include "app/session.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

using testing::IsEmpty;
using testing::SizeIs;

struct SessionSorting : testing::Test {
  TemporaryFolder folder;
  Session session{folder / "record.sqlite"};

  std::vector<PhotoToFile> heap() {
    return {
        {folder.file("p.jpg", "p"), PartSlot::pad(Side::left, PadPlace::inner), {View::pad, {}}},
        {folder.file("a.jpg", "a"), PartSlot::disc(Side::right), {View::lip, DiscFace::outboard}},
        {folder.file("b.jpg", "b"), PartSlot::disc(Side::right), {View::lip, DiscFace::outboard}},
        {folder.file("f.jpg", "f"), PartSlot::disc(Side::right), {View::faces, {}}}};
  }
  FiledHeap file() {
    const NewJob job = session.unsorted_job();
    const bool begins = !session.job();
    FiledHeap filed = file_photos(session.record(), begins ? 0 : session.job()->job.id, heap(),
                                  begins ? &job : nullptr);
    session.heap_filed(filed);
    return filed;
  }
  std::size_t photos() const {
    std::size_t count = 0;
    if (session.job())
      for (const PartSummary& part : session.job()->parts) count += part.photos.size();
    return count;
  }
};

TEST_F(SessionSorting, AHeapIsFiledAndTakenBackAsOneChange) {
  session.start_unsorted_job();
  file();
  EXPECT_EQ(photos(), 4u);
  EXPECT_EQ(*session.history().undo_name(), "file 4 photos");
  EXPECT_EQ(session.slot(), PartSlot::pad(Side::left, PadPlace::inner));
  ASSERT_TRUE(session.undo());
  EXPECT_EQ(photos(), 0u);
  EXPECT_TRUE(session.touched().sorted);
  ASSERT_TRUE(session.redo());
  EXPECT_EQ(photos(), 4u);
}

TEST_F(SessionSorting, AJobThatTheHeapBeganGoesWithIt) {
  file();
  ASSERT_TRUE(session.job());
  EXPECT_TRUE(session.job_is_unsorted());
  ASSERT_TRUE(session.undo());
  EXPECT_FALSE(session.job());
  EXPECT_THAT(session.job_lines(), IsEmpty());
  ASSERT_TRUE(session.redo());
  EXPECT_EQ(photos(), 4u);
}

TEST_F(SessionSorting, WhoeverHasGoneOnIsNotTakenAway) {
  session.start_unsorted_job();
  session.select_part(PartSlot::pad(Side::right, PadPlace::outer));
  const PartAddress here = session.address();
  FiledHeap filed = file_photos(session.record(), here.job_id, heap());
  session.heap_filed(filed, false);
  EXPECT_EQ(session.address(), here);
  EXPECT_EQ(photos(), 4u);
  EXPECT_EQ(*session.history().undo_name(), "file 4 photos");

  session.start_unsorted_job();
  const std::int64_t second = session.job()->job.id;
  filed = file_photos(session.record(), here.job_id, {heap()[1]});
  session.heap_filed(filed, false);
  EXPECT_EQ(session.job()->job.id, second) << "filed into the job that was left";
}

TEST_F(SessionSorting, TellsTheSortingWhatTheJobHas) {
  EXPECT_THAT(session.sorting_context().filed, IsEmpty());
  file();
  const SortingContext context = session.sorting_context();
  ASSERT_THAT(context.filed, SizeIs(4));
  EXPECT_EQ(context.filed[0].place,
            PhotoPlace::part(PartSlot::pad(Side::left, PadPlace::inner), {View::pad, {}}));
  ASSERT_TRUE(context.start);
}

TEST_F(SessionSorting, AnEmptyJobHasNoPartInHandBeforeTheUserChoosesOne) {
  session.start_unsorted_job();
  EXPECT_FALSE(session.sorting_context().start);
  session.select_part(PartSlot::disc(Side::right));
  EXPECT_EQ(session.sorting_context().start, PartSlot::disc(Side::right));
}

TEST_F(SessionSorting, GoesRoundThePhotosThatWantTheirEdgesConfirmed) {
  const FiledHeap filed = file();
  EXPECT_FALSE(session.select_next_to_confirm()) << "nothing was measured yet";
  const auto measure = [&](const PhotoEntry& photo, double confidence) {
    MeasurementEntry entry;
    entry.photo_id = photo.id;
    entry.measurement.view = photo.view;
    for (const char* name : {"plate_outer", "plate_friction", "friction_outer"}) {
      MeasuredEdge edge;
      edge.name = name;
      edge.points_px = {{0, 0}, {10, 0}};
      edge.confidence = confidence;
      entry.measurement.edges.push_back(edge);
    }
    Dimension friction;
    friction.name = "friction_thickness";
    friction.quantity = combine_independent(5, {{"print scale", 0.03, 1e9, ""}});
    entry.measurement.dimensions.push_back(friction);
    session.record().add_measurement(entry);
  };
  measure(filed.photos[0], 0.5);
  session.reload();
  session.select_part(PartSlot::disc(Side::right));
  EXPECT_TRUE(session.select_next_to_confirm());
  EXPECT_EQ(session.photo()->photo.id, filed.photos[0].id);
  session.confirm_all_edges("Sam");
  EXPECT_FALSE(session.select_next_to_confirm());
}

}  // namespace
}  // namespace scantling
