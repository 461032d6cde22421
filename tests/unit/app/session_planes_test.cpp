#include <gmock/gmock.h>

#include "app/session.h"
#include "report/planes_beside.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

class SessionWithFaces : public testing::Test {
 protected:
  SessionWithFaces() : session_(folder_ / "record.sqlite") {
    Job job;
    job.date = "2026-11-25";
    session_.start_job({0, "Blue estate", "", "", ""}, job);
    session_.select_part(PartSlot::disc(Side::left));
  }

  std::int64_t add(const std::string& name) {
    const PhotoEntry photo = session_.record().add_photo(session_.part_id(), session_.planes_view(),
                                                         folder_.file(name, name));
    session_.planes_photo_added(photo);
    return photo.id;
  }
  /// As if all its photos had been solved together.
  void solve(double value_mm) {
    const PartSummary& part = *session_.part();
    std::vector<MeasurementEntry> entries;
    for (const PhotoFinding* finding : Session::planes_photos(part)) {
      MeasurementEntry entry;
      entry.photo_id = finding->photo.id;
      entry.options = session_.planes_options(part);
      for (const PhotoFinding* other : Session::planes_photos(part))
        if (other != finding) entry.read_with.push_back(other->photo.sha256);
      entry.measurement.view = View::faces;
      Dimension worn;
      worn.name = "worn_thickness";
      worn.confidence = 0.95;
      worn.quantity = combine_independent(value_mm, {{"corners in the photos", 0.02, 99, ""}});
      entry.measurement.dimensions = {worn};
      entries.push_back(entry);
    }
    session_.keep_planes(part.part.id, entries);
  }
  bool kept() { return session_.planes_kept(*session_.part(), options()); }
  MeasureOptions options() { return session_.planes_options(*session_.part()); }
  std::optional<double> size_mm() {
    const PlanesBeside both = planes_beside(*session_.part());
    return both.planes ? std::optional(both.planes->quantity.value_mm) : std::nullopt;
  }

  TemporaryFolder folder_;
  Session session_;
};

TEST_F(SessionWithFaces, PhotosForThePlanesAreNoPhotosOfEdges) {
  add("a.jpg");
  EXPECT_EQ(session_.photo(), nullptr);
  session_.select_part(PartSlot::disc(Side::left));
  EXPECT_EQ(session_.photo(), nullptr);
  EXPECT_EQ(session_.kind_to_add().view, View::rim);
  EXPECT_EQ(Session::planes_photos(*session_.part()).size(), 1u);
}

TEST_F(SessionWithFaces, ARemovedPhotoTakesTheSizeWithItUntilTheOthersAreSolvedAnew) {
  add("a.jpg");
  const std::int64_t second = add("b.jpg");
  EXPECT_FALSE(kept());
  solve(21.5);
  EXPECT_TRUE(kept());
  EXPECT_EQ(size_mm(), 21.5);

  session_.remove_planes_photo(second);
  EXPECT_FALSE(kept());
  EXPECT_FALSE(size_mm()) << "the record must not hold a size from photos that are gone";
  EXPECT_EQ(*session_.history().undo_name(), "remove photo from the planes");
  solve(21.6);
  EXPECT_EQ(size_mm(), 21.6);

  ASSERT_TRUE(session_.undo());
  EXPECT_TRUE(session_.touched().planes);
  EXPECT_EQ(Session::planes_photos(*session_.part()).size(), 2u);
  EXPECT_FALSE(size_mm());
  ASSERT_TRUE(session_.redo());
  EXPECT_EQ(Session::planes_photos(*session_.part()).size(), 1u);
}

TEST_F(SessionWithFaces, UndoTakesAddedPhotosBackOneByOne) {
  add("a.jpg");
  add("b.jpg");
  solve(21.5);
  ASSERT_TRUE(session_.undo());
  EXPECT_EQ(Session::planes_photos(*session_.part()).size(), 1u);
  EXPECT_FALSE(size_mm());
  EXPECT_FALSE(kept());
  ASSERT_TRUE(session_.undo());
  EXPECT_TRUE(Session::planes_photos(*session_.part()).empty());
}

TEST_F(SessionWithFaces, TheSameResultIsKeptOnce) {
  const std::int64_t id = add("a.jpg");
  solve(21.5);
  solve(21.5);
  EXPECT_EQ(session_.record().measurements(id).size(), 1u);
  solve(21.7);
  EXPECT_EQ(session_.record().measurements(id).size(), 2u);
}

TEST_F(SessionWithFaces, AnotherCardOrSheetWantsAllSolvedAnew) {
  add("a.jpg");
  solve(21.5);
  session_.set_card_thickness({0.3, 0.012});
  EXPECT_EQ(options().part_offset.offset_mm, 0.3);
  EXPECT_FALSE(kept());
  EXPECT_FALSE(size_mm());
  ASSERT_TRUE(session_.undo());
  EXPECT_EQ(options().part_offset.offset_mm, 0.25);
  EXPECT_EQ(size_mm(), 21.5);

  Sheet sheet;
  sheet.name = "A4";
  sheet.scale = {0.999, 1.001, 0.001, true};
  session_.set_sheet(sheet);
  EXPECT_FALSE(kept());
}

TEST_F(SessionWithFaces, TheCardsThicknessServesTheOtherPartsOfTheJob) {
  session_.set_card_thickness({0.31, 0.012});
  add("a.jpg");
  solve(21.5);
  session_.select_part(PartSlot::disc(Side::right));
  add("b.jpg");
  EXPECT_EQ(options().part_offset.offset_mm, 0.31);
}

TEST_F(SessionWithFaces, WhatWasSolvedIsThereAgainAfterReopening) {
  add("a.jpg");
  add("b.jpg");
  solve(21.5);
  Session again(folder_ / "record.sqlite");
  ASSERT_TRUE(again.open_job(session_.job()->job.id));
  again.select_part(PartSlot::disc(Side::left));
  ASSERT_EQ(Session::planes_photos(*again.part()).size(), 2u);
  EXPECT_TRUE(again.planes_kept(*again.part(), again.planes_options(*again.part())));
  EXPECT_EQ(planes_beside(*again.part()).planes->quantity.value_mm, 21.5);
}

}  // namespace
}  // namespace scantling
