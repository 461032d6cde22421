// What is entered is kept at once, and the photos it is about are due until they were measured with
// it.
#include <gmock/gmock.h>

#include "app/session.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;
using testing::UnorderedElementsAre;

class SessionMeasuring : public testing::Test {
 protected:
  SessionMeasuring() : session_(folder_ / "record.sqlite") {
    Job job;
    job.date = "2026-11-25";
    session_.start_job({0, "Blue estate", "", "", ""}, job);
  }

  std::int64_t add(PartSlot slot, PhotoKind kind, const std::string& name) {
    session_.select_part(slot);
    const PhotoEntry photo = session_.record().add_photo(session_.part_id(), kind.view,
                                                         folder_.file(name, name), kind.face);
    session_.photo_added(photo);
    return photo.id;
  }
  std::int64_t add_pad() { return add(kPad, {View::pad, {}}, "pad.jpg"); }

  /// As the background does it, without a photo: what was measured with the wanted options.
  std::vector<std::int64_t> measure(std::int64_t photo_id, double friction_mm) {
    return keep_measurements(session_.record(), measured(photo_id, friction_mm));
  }
  std::vector<NewMeasurement> measured(std::int64_t photo_id, double friction_mm) {
    std::vector<NewMeasurement> list;
    for (const DuePhoto& photo : session_.due_together(photo_id, nullptr)) {
      NewMeasurement one{{}, photo.after_id};
      one.entry.photo_id = photo.what.photo.id;
      one.entry.options = photo.what.options;
      one.entry.moved_edges = photo.moved_edges;
      one.entry.measurement.view = photo.what.options.view;
      Dimension friction;
      friction.name = "friction_thickness";
      friction.quantity = combine_independent(friction_mm, {{"print scale", 0.03, 1e9, ""}});
      one.entry.measurement.dimensions.push_back(friction);
      list.push_back(std::move(one));
    }
    session_.reload();
    return list;
  }
  void take(std::int64_t photo_id, double friction_mm) {
    EXPECT_THAT(measure(photo_id, friction_mm), IsEmpty());
    session_.reload();
  }
  std::vector<std::int64_t> due() const {
    std::vector<std::int64_t> ids;
    for (const Session::WantedPhoto& photo : session_.wanted_photos())
      if (photo.due) ids.push_back(photo.photo_id);
    return ids;
  }
  MeasureOptions wanted(std::int64_t photo_id) const {
    for (const Session::WantedPhoto& photo : session_.wanted_photos())
      if (photo.photo_id == photo_id) return photo.options;
    return {};
  }
  std::optional<double> friction_mm(std::int64_t photo_id) {
    const auto newest = session_.record().newest_measurement(photo_id);
    const Dimension* size = newest ? newest->measurement.dimension("friction_thickness") : nullptr;
    return size ? std::optional(size->quantity.value_mm) : std::nullopt;
  }
  static Sheet sheet(double x) {
    Sheet sheet;
    sheet.name = "A4";
    sheet.scale = {x, 1.0015, 0.0004, true};
    sheet.how_checked = "check bars with a steel rule";
    return sheet;
  }

  static constexpr PartSlot kPad{Side::left, PadPlace::inner};
  TemporaryFolder folder_;
  Session session_;
};

TEST_F(SessionMeasuring, APhotoIsDueUntilItWasMeasured) {
  const std::int64_t pad = add_pad();
  add(PartSlot::disc(Side::left), {View::faces, {}}, "faces.jpg");
  EXPECT_THAT(due(), ElementsAre(pad)) << "those for the planes are solved together";
  take(pad, 5.0);
  EXPECT_THAT(due(), IsEmpty());
  // As in another window, or at the next start.
  Session again(folder_ / "record.sqlite");
  ASSERT_TRUE(again.open_job(session_.job()->job.id));
  EXPECT_FALSE(again.wanted_photos().at(0).due) << "the record keeps the options to the last digit";
}

TEST_F(SessionMeasuring, APrintScaleIsKeptBeforeItsPhotosAreMeasured) {
  const std::int64_t pad = add_pad();
  take(pad, 5.0);
  session_.set_sheet(sheet(1.02));
  // Whatever happens now: the record has it, and the photo is due.
  Session later(folder_ / "record.sqlite");
  ASSERT_TRUE(later.open_job(session_.job()->job.id));
  ASSERT_TRUE(later.job()->sheet);
  EXPECT_EQ(later.job()->sheet->scale.x, 1.02);
  ASSERT_EQ(later.wanted_photos().size(), 1u);
  EXPECT_TRUE(later.wanted_photos()[0].due);
  EXPECT_EQ(later.wanted_photos()[0].options.sheet_scale.x, 1.02);

  take(pad, 5.1);
  EXPECT_THAT(due(), IsEmpty());
  ASSERT_TRUE(session_.undo());
  EXPECT_EQ(friction_mm(pad), 5.0) << "what had been measured before is there at once";
  EXPECT_FALSE(session_.job()->sheet);
  EXPECT_THAT(due(), IsEmpty());
  ASSERT_TRUE(session_.redo());
  EXPECT_EQ(friction_mm(pad), 5.1);
  EXPECT_EQ(session_.job()->sheet->scale.x, 1.02);
  EXPECT_THAT(due(), IsEmpty());
  EXPECT_EQ(session_.record().sheets().size(), 1u);
}

TEST_F(SessionMeasuring, APhotoFiledMeanwhileIsMeasuredWithTheNewScale) {
  const std::int64_t pad = add_pad();
  const auto on_its_way = measured(pad, 5.0);  // with the old scale
  session_.set_sheet(sheet(1.02));
  EXPECT_THAT(keep_measurements(session_.record(), on_its_way), ElementsAre(pad));
  EXPECT_FALSE(friction_mm(pad)) << "measured with a scale that is no longer wanted";
  session_.reload();
  EXPECT_THAT(due(), ElementsAre(pad));
  take(pad, 5.1);
  EXPECT_EQ(friction_mm(pad), 5.1);
}

TEST_F(SessionMeasuring, AnEdgeMovedMeanwhileIsNotLost) {
  const std::int64_t pad = add_pad();
  take(pad, 5.0);
  session_.set_sheet(sheet(1.02));
  const auto on_its_way = measured(pad, 5.1);
  MeasurementEntry moved = *session_.record().newest_measurement(pad);
  moved.moved_edges = {{"friction_outer", {{0, 0}, {10, 0}}}};
  session_.record().add_measurement(moved);
  EXPECT_THAT(keep_measurements(session_.record(), on_its_way), ElementsAre(pad));
  session_.reload();
  EXPECT_THAT(due(), ElementsAre(pad));
  take(pad, 5.2);
  EXPECT_EQ(session_.record().newest_measurement(pad)->moved_edges.size(), 1u);
}

TEST_F(SessionMeasuring, AnOffsetIsKeptAtOnceAndGivesNoSizeUntilMeasured) {
  const std::int64_t pad = add_pad();
  take(pad, 5.0);
  session_.set_minimum(2, "workshop manual");
  EXPECT_EQ(session_.summary()->state, "keep");
  MeasureOptions options = wanted(pad);
  options.part_offset = {2, 0.3};
  session_.set_photo_options("set the offset", pad, options);
  EXPECT_EQ(*session_.history().undo_name(), "set the offset");
  EXPECT_FALSE(friction_mm(pad)) << "5.0 was measured with another offset";
  EXPECT_EQ(session_.summary()->state, "not measured");
  Session later(folder_ / "record.sqlite");
  ASSERT_TRUE(later.open_job(session_.job()->job.id));
  ASSERT_TRUE(later.wanted_photos().at(0).due);
  EXPECT_EQ(later.wanted_photos()[0].options.part_offset.offset_mm, 2);

  take(pad, 5.02);
  EXPECT_THAT(due(), IsEmpty());
  ASSERT_TRUE(session_.undo());
  EXPECT_EQ(friction_mm(pad), 5.0);
  EXPECT_THAT(due(), IsEmpty());
  ASSERT_TRUE(session_.redo());
  EXPECT_EQ(friction_mm(pad), 5.02);
  EXPECT_THAT(due(), IsEmpty());
}

TEST_F(SessionMeasuring, TakenBackBeforeItWasMeasuredItIsMeasuredWhenDoneAgain) {
  const std::int64_t pad = add_pad();
  take(pad, 5.0);
  MeasureOptions options = wanted(pad);
  options.part_offset = {2, 0.3};
  session_.set_photo_options("set the offset", pad, options);
  session_.undo();
  EXPECT_EQ(friction_mm(pad), 5.0);
  session_.redo();
  EXPECT_THAT(due(), ElementsAre(pad));
  EXPECT_EQ(wanted(pad).part_offset.offset_mm, 2);
}

TEST_F(SessionMeasuring, AnIdCardsPhotoDoesNotFollowThePrintedSheet) {
  const std::int64_t pad = add_pad();
  take(pad, 5.0);
  MeasureOptions options = wanted(pad);
  options.sheet_scale.id_card = true;
  session_.set_photo_options("measure by an ID-1 card", pad, options);
  EXPECT_THAT(due(), ElementsAre(pad));
  take(pad, 5.0);
  session_.set_sheet(sheet(1.02));
  EXPECT_THAT(due(), IsEmpty());
}

TEST_F(SessionMeasuring, EachPhotoGoesByTheDiameterOfItsOwnDisc) {
  const PhotoKind rim{View::rim, {}};
  const std::int64_t left = add(PartSlot::disc(Side::left), rim, "l.jpg");
  const PartAddress left_disc = session_.address();
  const std::int64_t right = add(PartSlot::disc(Side::right), rim, "r.jpg");
  const std::int64_t pad = add_pad();
  take(left, 24);
  take(right, 24);
  take(pad, 5);
  session_.set_disc_diameter(left_disc, 280.0);
  EXPECT_THAT(due(), ElementsAre(left)) << "while another part is selected";
  EXPECT_EQ(wanted(left).disc_diameter_mm, 280.0);
  EXPECT_EQ(wanted(right).disc_diameter_mm, std::nullopt);
  session_.select_part(PartSlot::disc(Side::left));
  EXPECT_EQ(wanted(right).disc_diameter_mm, std::nullopt) << "whichever is selected";
  EXPECT_EQ(wanted(pad).disc_diameter_mm, std::nullopt);
}

TEST_F(SessionMeasuring, APhotosOwnSheetCountsBeforeItsJobs) {
  const std::int64_t pad = add_pad();
  session_.set_sheet(sheet(1.02));
  session_.record().set_photo_sheet(pad, session_.record().add_sheet(sheet(0.99)));
  session_.reload();
  EXPECT_EQ(wanted(pad).sheet_scale.x, 0.99);
  take(pad, 5.0);
  EXPECT_THAT(due(), IsEmpty());
}

TEST_F(SessionMeasuring, ASecondPhotoOfALipBringsTheFirstAlong) {
  const PhotoKind lip{View::lip, DiscFace::outboard};
  const PartSlot disc = PartSlot::disc(Side::left);
  const std::int64_t first = add(disc, lip, "1.jpg");
  take(first, 1);
  const std::int64_t second = add(disc, lip, "2.jpg");
  const std::int64_t other_face = add(disc, {View::lip, DiscFace::inboard}, "3.jpg");
  EXPECT_THAT(due(), ElementsAre(second, other_face));
  std::vector<NewMeasurement> both = measured(second, 1.1);
  std::vector<std::int64_t> ids;
  for (NewMeasurement& one : both) {
    ids.push_back(one.entry.photo_id);
    one.entry.read_with = {"the other"};
  }
  EXPECT_THAT(ids, UnorderedElementsAre(first, second));
  EXPECT_THAT(keep_measurements(session_.record(), both), IsEmpty());
  session_.reload();
  EXPECT_EQ(friction_mm(first), 1.1) << "read again with the second";
  EXPECT_THAT(due(), ElementsAre(other_face));
}

TEST_F(SessionMeasuring, APhotoTakenOffMeanwhileGetsNothing) {
  const std::int64_t pad = add_pad();
  const auto on_its_way = measured(pad, 5.0);
  session_.remove_photo();
  EXPECT_THAT(keep_measurements(session_.record(), on_its_way), ElementsAre(pad));
  session_.undo();
  EXPECT_THAT(due(), ElementsAre(pad));
}

TEST_F(SessionMeasuring, WhatWasMeasuredOnALostPhotoStays) {
  const std::int64_t pad = add_pad();
  take(pad, 5.0);
  std::filesystem::remove(session_.record().photo_path(*session_.record().photo(pad)));
  session_.set_sheet(sheet(1.02));
  EXPECT_THAT(due(), IsEmpty());
  EXPECT_EQ(friction_mm(pad), 5.0);
}

}  // namespace
}  // namespace scantling
