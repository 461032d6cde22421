#include "app/session.h"

#include <gtest/gtest.h>

#include "dimension/size_budget.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

constexpr PartSlot kLeftOuter{Side::left, PadPlace::outer};
constexpr PartSlot kRightInner{Side::right, PadPlace::inner};

class SessionOnRecord : public testing::Test {
 protected:
  SessionOnRecord() : session_(folder_ / "record.sqlite") {}

  void start_job() {
    Job job;
    job.date = "2026-11-25";
    job.odometer_km = 81250;
    session_.start_job({0, "Blue estate", "", "", ""}, job);
  }
  // A photo whose friction face was found with this confidence, as if just measured.
  void add_measured_photo(double friction_mm, double confidence) {
    const PhotoEntry photo = session_.record().add_photo(
        session_.part_id(), View::pad, folder_.file("pad.jpg", std::to_string(friction_mm)));
    MeasurementEntry entry;
    entry.photo_id = photo.id;
    for (const char* name : {"plate_outer", "plate_friction", "friction_outer"}) {
      MeasuredEdge edge;
      edge.name = name;
      edge.points_px = {{0, 0}, {10, 0}};
      edge.confidence = edge.name == "friction_outer" ? confidence : 0.97;
      entry.measurement.edges.push_back(edge);
    }
    Dimension friction;
    friction.name = "friction_thickness";
    friction.confidence = confidence;
    friction.quantity = combine_independent(friction_mm, {{"print scale", 0.03, 1e9, ""}});
    entry.measurement.dimensions.push_back(friction);
    session_.record().add_measurement(entry);
    session_.photo_added(photo);
  }

  std::int64_t row_of(const PartAddress& of) {
    for (const Part& part : session_.record().parts(of.job_id))
      if (slot_of(part) == of.slot) return part.id;
    return 0;
  }

  TemporaryFolder folder_;
  Session session_;
};

TEST_F(SessionOnRecord, PhotosWithoutAJobAreKeptInADraft) {
  session_.start_unsorted_job();
  ASSERT_TRUE(session_.job());
  EXPECT_TRUE(session_.job_is_unsorted());
  EXPECT_EQ(session_.job()->job.date, today());
  session_.start_unsorted_job();
  EXPECT_EQ(session_.record().vehicles().size(), 1u);
}

TEST_F(SessionOnRecord, ADraftIsPutRightAndThatCanBeUndone) {
  session_.start_unsorted_job();
  Job job = session_.job()->job;
  job.axle = Axle::rear;
  session_.change_job("change the job", {0, "Red van", "", "", ""}, job);
  EXPECT_EQ(session_.job()->vehicle.name, "Red van");
  EXPECT_EQ(session_.job()->job.axle, Axle::rear);
  ASSERT_TRUE(session_.undo());
  EXPECT_TRUE(session_.job_is_unsorted());
  EXPECT_EQ(session_.job()->job.axle, Axle::front);
}

TEST_F(SessionOnRecord, TheDetailsOfAJobAreOneStep) {
  start_job();
  Vehicle vehicle = session_.job()->vehicle;
  vehicle.registration = "XQ 417 T";
  Job job = session_.job()->job;
  job.note = "squeal when cold";
  session_.change_job("change the job", vehicle, job);
  EXPECT_EQ(session_.job()->vehicle.registration, "XQ 417 T");
  EXPECT_EQ(session_.job()->job.note, "squeal when cold");
  ASSERT_TRUE(session_.undo());
  EXPECT_EQ(session_.job()->vehicle.registration, "");
  EXPECT_EQ(session_.job()->job.note, "");
  EXPECT_EQ(*session_.history().undo_name(), "start job");
  session_.change_job("change the job", session_.job()->vehicle, session_.job()->job);
  EXPECT_EQ(*session_.history().undo_name(), "start job") << "nothing was changed";
}

TEST_F(SessionOnRecord, PhotosOfAChangedScaleCountForNothingUntilMeasuredAgain) {
  start_job();
  session_.select_part(kLeftOuter);
  add_measured_photo(5.0, 0.9);
  session_.set_minimum(3, "workshop manual");
  EXPECT_EQ(session_.summary()->state, "keep");
  Job job = session_.job()->job;
  Sheet sheet;
  sheet.name = "checked elsewhere";
  sheet.scale = {1.01, 1.02, 0.001, true};
  job.sheet_id = session_.record().add_sheet(sheet);
  session_.record().update_job(job);
  session_.reload();
  EXPECT_EQ(session_.summary()->state, "gauge it");
  const auto wanted = session_.wanted_photos();
  ASSERT_EQ(wanted.size(), 1u);
  EXPECT_TRUE(wanted[0].due);
  EXPECT_EQ(wanted[0].options.sheet_scale, sheet.scale);
}

TEST_F(SessionOnRecord, ADoubtfulEdgeIsNoResultUntilConfirmed) {
  start_job();
  session_.select_part(kLeftOuter);
  add_measured_photo(5.0, 0.5);
  session_.set_minimum(3, "workshop manual");
  EXPECT_EQ(session_.summary()->standing, PartStanding::confirm_first);
  EXPECT_EQ(session_.photo_size(), nullptr);

  session_.confirm_edge("friction_outer", "Sam");
  EXPECT_EQ(session_.summary()->standing, PartStanding::judged);
  ASSERT_NE(session_.photo_size(), nullptr);
  EXPECT_EQ(session_.photo_size()->quantity.value_mm, 5.0);
  EXPECT_EQ(session_.photo()->confirmations.at(0).confirmed_by, "Sam");

  ASSERT_TRUE(session_.undo());
  EXPECT_EQ(session_.summary()->standing, PartStanding::confirm_first);
  ASSERT_TRUE(session_.redo());
  EXPECT_EQ(session_.summary()->verdict->state, VerdictState::keep);
  session_.withdraw_confirmation("friction_outer");
  EXPECT_EQ(session_.photo_size(), nullptr);
}

// What confirming gains is worked out from the confirmations: the record keeps what was measured.
TEST_F(SessionOnRecord, ConfirmingMakesASizeSurerAndLeavesTheRecordedOne) {
  start_job();
  session_.select_part(kLeftOuter);
  add_measured_photo(5.0, 0.97);
  MeasurementEntry entry = *session_.record().newest_measurement(session_.photo()->photo.id);
  Quantity& size = entry.measurement.dimensions[0].quantity;
  size.budget.push_back({mistaken_source("friction_outer"), 0.2, 20, ""});
  size = combine_independent(size.value_mm, size.budget);
  session_.record().add_measurement(entry);
  session_.reload();
  const double before_95_mm = session_.photo_size()->quantity.expanded_95_mm();
  const auto recorded_95_mm = [&] {
    return session_.record()
        .newest_measurement(session_.photo()->photo.id)
        ->measurement.dimensions[0]
        .quantity.expanded_95_mm();
  };
  session_.confirm_edge("plate_outer", "Sam");
  EXPECT_EQ(session_.photo_size()->quantity.expanded_95_mm(), before_95_mm);
  session_.confirm_edge("friction_outer", "Sam");
  EXPECT_LT(session_.photo_size()->quantity.expanded_95_mm(), 0.3 * before_95_mm);
  EXPECT_EQ(recorded_95_mm(), before_95_mm);
  session_.undo();
  EXPECT_EQ(session_.photo_size()->quantity.expanded_95_mm(), before_95_mm);
  session_.redo();
  session_.withdraw_confirmation("friction_outer");
  EXPECT_EQ(session_.photo_size()->quantity.expanded_95_mm(), before_95_mm);
  EXPECT_EQ(recorded_95_mm(), before_95_mm);
}

TEST_F(SessionOnRecord, ConfirmingAllIsOneStepAndConfirmingAgainNone) {
  start_job();
  add_measured_photo(5.0, 0.5);
  session_.confirm_all_edges("Sam");
  EXPECT_EQ(session_.photo()->confirmations.size(), 3u);
  EXPECT_EQ(*session_.history().undo_name(), "confirm all edges");
  session_.undo();
  EXPECT_TRUE(session_.photo()->confirmations.empty());
  session_.redo();
  session_.confirm_all_edges("Robin");
  EXPECT_EQ(session_.photo()->confirmations.at(0).confirmed_by, "Sam");
}

TEST_F(SessionOnRecord, APadTakesTheMinimumOverFromItsAxle) {
  start_job();
  session_.select_part(kLeftOuter);
  session_.set_minimum(2.5, "workshop manual");
  session_.select_part(kRightInner);
  EXPECT_EQ(session_.part(), nullptr);
  session_.part_id();
  ASSERT_NE(session_.part(), nullptr);
  EXPECT_EQ(session_.part()->part.minimum_mm, 2.5);
  EXPECT_EQ(session_.part()->part.minimum_origin, "workshop manual");
}

TEST_F(SessionOnRecord, UndoShowsThePadThatItChanged) {
  start_job();
  session_.select_part(kLeftOuter);
  session_.set_minimum(2.5, "workshop manual");
  session_.select_part(kRightInner);
  ASSERT_TRUE(session_.undo());
  EXPECT_EQ(session_.slot(), kLeftOuter);
  EXPECT_EQ(session_.part()->part.minimum_mm, std::nullopt);
}

TEST_F(SessionOnRecord, UndoReachesBackIntoTheJobBefore) {
  start_job();
  session_.set_minimum(2.5, "workshop manual");
  const auto first = session_.job()->job.id;
  start_job();
  ASSERT_NE(session_.job()->job.id, first);
  EXPECT_EQ(session_.job_lines().size(), 2u);
  ASSERT_TRUE(session_.undo());  // the second job itself
  EXPECT_FALSE(session_.job());
  EXPECT_EQ(session_.job_lines().size(), 1u);
  ASSERT_TRUE(session_.undo());
  ASSERT_TRUE(session_.job());
  EXPECT_EQ(session_.job()->job.id, first);
  EXPECT_EQ(session_.summary()->part.minimum_mm, std::nullopt);
}

TEST_F(SessionOnRecord, AddingAPhotoCanBeUndone) {
  start_job();
  session_.select_part(kRightInner);
  add_measured_photo(5.0, 0.9);
  EXPECT_EQ(*session_.history().undo_name(), "add photo");
  session_.undo();
  EXPECT_EQ(session_.photo(), nullptr);
  session_.redo();
  ASSERT_NE(session_.photo(), nullptr);
  session_.remove_photo();
  EXPECT_EQ(session_.photo(), nullptr);
  session_.undo();
  ASSERT_NE(session_.photo(), nullptr);
}

TEST_F(SessionOnRecord, APhotoCopiedForAJobThatWasLeftWaitsThere) {
  start_job();
  const std::int64_t first = session_.job()->job.id, part = session_.part_id();
  const PhotoEntry photo =
      session_.record().add_photo(part, View::pad, folder_.file("pad.jpg", "late"));
  session_.close_job();
  session_.photo_added(photo);
  EXPECT_FALSE(session_.job());
  start_job();
  const PartSlot here = session_.slot();
  session_.photo_added(photo);
  EXPECT_EQ(session_.slot(), here);
  EXPECT_EQ(session_.photo(), nullptr);
  ASSERT_TRUE(session_.open_job(first));
  ASSERT_NE(session_.photo(), nullptr);
  EXPECT_EQ(session_.photo()->photo.id, photo.id);
}

TEST_F(SessionOnRecord, APhotoCopiedForAPartThatWasLeftChoosesNothing) {
  start_job();
  session_.select_part(kLeftOuter);
  const PhotoEntry photo =
      session_.record().add_photo(session_.part_id(), View::pad, folder_.file("pad.jpg", "late"));
  session_.select_part(kRightInner);
  session_.photo_added(photo);
  EXPECT_EQ(session_.slot(), kRightInner);
  EXPECT_EQ(session_.photo(), nullptr);
  session_.set_minimum(2.5, "workshop manual");  // typed meanwhile
  EXPECT_EQ(session_.part()->part.minimum_mm, 2.5);
  session_.undo();
  EXPECT_EQ(*session_.history().undo_name(), "add photo");
  session_.undo();
  session_.redo();
  EXPECT_EQ(session_.slot(), kLeftOuter) << "shown where it changed something";
  EXPECT_EQ(session_.photo()->photo.id, photo.id);
}

TEST_F(SessionOnRecord, APhotoCopiedWhileHandsAreNotFreeIsThereButNotShown) {
  start_job();
  const PhotoEntry first =
      session_.record().add_photo(session_.part_id(), View::pad, folder_.file("a.jpg", "a"));
  session_.photo_added(first);
  const PhotoEntry second =
      session_.record().add_photo(session_.part_id(), View::pad, folder_.file("b.jpg", "b"));
  session_.photo_added(second, false);
  EXPECT_EQ(session_.photo()->photo.id, first.id);
  EXPECT_EQ(session_.part()->photos.size(), 2u);
}

TEST_F(SessionOnRecord, AFigureGoesToThePartItWasTypedFor) {
  start_job();
  session_.select_part(kLeftOuter);
  const PartAddress typed_for = session_.address();
  session_.select_part(kRightInner);
  session_.part_id();
  session_.set_minimum(typed_for, 2.5, "workshop manual");
  session_.add_reading(typed_for, {0, 0, "5.1", 5.1, 0.03, "vernier calliper", ""});
  EXPECT_EQ(session_.part()->part.minimum_mm, std::nullopt);
  EXPECT_TRUE(session_.part()->readings.empty());
  const PartSummary* left = find_part(*session_.job(), kLeftOuter);
  ASSERT_NE(left, nullptr);
  EXPECT_EQ(left->part.minimum_mm, 2.5);
  EXPECT_EQ(left->readings.size(), 1u);

  start_job();  // another one comes up before the field is left
  session_.set_minimum(typed_for, 3.0, "workshop manual");
  EXPECT_EQ(session_.record().part(row_of(typed_for))->minimum_mm, 3.0);
  EXPECT_NE(session_.job()->job.id, typed_for.job_id);
  ASSERT_TRUE(session_.undo());
  EXPECT_EQ(session_.address(), typed_for) << "shown where it changed something";
  EXPECT_EQ(session_.part()->part.minimum_mm, 2.5);
}

TEST_F(SessionOnRecord, ADiametersDiscIsTheOneItWasEnteredFor) {
  start_job();
  session_.select_part(PartSlot::disc(Side::left));
  const PartAddress left = session_.address();
  session_.select_part(PartSlot::disc(Side::right));
  session_.part_id();
  session_.set_disc_diameter(left, 280.0);  // typed before the other disc was chosen
  EXPECT_EQ(session_.part()->part.disc_diameter_mm, std::nullopt);
  ASSERT_TRUE(session_.undo());
  ASSERT_TRUE(session_.redo());
  EXPECT_EQ(session_.slot(), PartSlot::disc(Side::left)) << "shown where it changed something";
  EXPECT_EQ(session_.part()->part.disc_diameter_mm, 280.0);
}

TEST_F(SessionOnRecord, AHandReadingOutranksThePhoto) {
  start_job();
  add_measured_photo(5.0, 0.95);
  session_.set_minimum(3, "stamped on the part");
  EXPECT_EQ(session_.summary()->verdict->state, VerdictState::keep);
  session_.add_reading({0, 0, "2.4", 2.4, 0.03, "vernier calliper", ""});
  EXPECT_EQ(session_.summary()->verdict->state, VerdictState::replace);
  session_.remove_reading(session_.part()->readings.front());
  EXPECT_EQ(session_.summary()->verdict->state, VerdictState::keep);
}

TEST_F(SessionOnRecord, EdgesAreGoneThroughInTurn) {
  start_job();
  add_measured_photo(5.0, 0.95);
  EXPECT_EQ(session_.edge(), "");
  session_.select_next_edge(1);
  EXPECT_EQ(session_.edge(), "plate_outer");
  session_.select_next_edge(-1);
  EXPECT_EQ(session_.edge(), "friction_outer");
  session_.select_next_edge(1);
  EXPECT_EQ(session_.edge(), "plate_outer");
}

TEST_F(SessionOnRecord, AnotherStartFindsEverythingAgain) {
  start_job();
  session_.select_part(kRightInner);
  add_measured_photo(4.4, 0.5);
  session_.set_minimum(3, "workshop manual");
  session_.confirm_all_edges("Sam");
  const auto job = session_.job()->job.id;

  Session later(folder_ / "record.sqlite");
  ASSERT_TRUE(later.open_job(job));
  EXPECT_EQ(later.slot(), kRightInner);
  ASSERT_NE(later.photo_size(), nullptr);
  EXPECT_EQ(later.photo_size()->quantity.value_mm, 4.4);
  EXPECT_EQ(later.photo()->confirmations.size(), 3u);
  EXPECT_FALSE(later.open_job(job + 1000));
}

TEST_F(SessionOnRecord, ADiscAsksForItsRimThenForTwoPhotosOfEachLip) {
  start_job();
  session_.select_part(PartSlot::disc(Side::left));
  const PhotoKind rim{View::rim, {}}, out{View::lip, DiscFace::outboard},
      in{View::lip, DiscFace::inboard};
  for (const PhotoKind& wanted : {rim, out, out, in, in}) {
    EXPECT_EQ(session_.kind_to_add(), wanted);
    const std::string name = std::to_string(session_.part() ? session_.part()->photos.size() : 0);
    const PhotoEntry photo = session_.record().add_photo(
        session_.part_id(), wanted.view, folder_.file(name + ".jpg", name), wanted.face);
    session_.photo_added(photo);
  }
  EXPECT_EQ(session_.kind_to_add(), rim) << "all there: one more of the rim";
  session_.choose_kind_to_add(in);
  EXPECT_EQ(session_.kind_to_add(), in);
  session_.select_part({Side::left, PadPlace::inner});
  EXPECT_EQ(session_.kind_to_add(), (PhotoKind{View::pad, {}}));
}

}  // namespace
}  // namespace scantling
