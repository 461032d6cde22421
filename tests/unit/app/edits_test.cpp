#include "app/edits.h"

#include <gtest/gtest.h>

#include "record/record_error.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

// A record with one pad and one photo, measured once.
class Edits : public testing::Test {
 protected:
  Edits() : record_(folder_ / "record.sqlite") {
    Job job;
    job.vehicle_id = record_.add_vehicle({0, "Blue estate", "", "", ""});
    job.date = "2026-11-25";
    focus_.job_id = record_.add_job(job);
    part_.job_id = focus_.job_id;
    part_.id = focus_.part_id = record_.add_part(part_);
    focus_.photo_id =
        record_.add_photo(part_.id, View::pad, folder_.file("pad.jpg", std::string("photo"))).id;
  }

  MeasurementEntry measured(double friction_mm) const {
    MeasurementEntry entry;
    entry.photo_id = focus_.photo_id;
    Dimension friction;
    friction.name = "friction_thickness";
    friction.quantity.value_mm = friction_mm;
    entry.measurement.dimensions.push_back(friction);
    return entry;
  }
  double friction_mm() const {
    return record_.newest_measurement(focus_.photo_id)
        ->measurement.dimension("friction_thickness")
        ->quantity.value_mm;
  }
  Part part_with(std::optional<double> minimum_mm) const {
    Part part = part_;
    part.minimum_mm = minimum_mm;
    return part;
  }
  std::optional<double> minimum_mm() const {
    return record_.parts(focus_.job_id).front().minimum_mm;
  }

  TemporaryFolder folder_;
  Record record_;
  EditFocus focus_;
  Part part_;
  EditHistory history_;
};

TEST_F(Edits, AreUndoneAndRedoneInOrder) {
  for (int i = 1; i <= 50; ++i)
    history_.perform(record_,
                     edit_part("set the minimum", focus_, part_with(minimum_mm()), part_with(i)));
  EXPECT_EQ(minimum_mm(), 50.0);
  for (int i = 49; i >= 1; --i) {
    ASSERT_TRUE(history_.undo(record_));
    EXPECT_EQ(minimum_mm(), static_cast<double>(i));
  }
  ASSERT_TRUE(history_.undo(record_));
  EXPECT_EQ(minimum_mm(), std::nullopt);
  EXPECT_FALSE(history_.undo(record_));
  for (int i = 1; i <= 50; ++i) ASSERT_TRUE(history_.redo(record_));
  EXPECT_EQ(minimum_mm(), 50.0);
  EXPECT_FALSE(history_.redo(record_));
}

TEST_F(Edits, HaveNamesAndANewOneEndsTheRedoing) {
  EXPECT_EQ(history_.undo_name(), nullptr);
  history_.perform(record_, edit_part("set the minimum", focus_, part_, part_with(3)));
  EXPECT_EQ(*history_.undo_name(), "set the minimum");
  history_.undo(record_);
  EXPECT_EQ(*history_.redo_name(), "set the minimum");
  history_.perform(record_, edit_part("clear the minimum", focus_, part_, part_));
  EXPECT_EQ(history_.redo_name(), nullptr);
  EXPECT_EQ(*history_.undo_name(), "clear the minimum");
}

TEST_F(Edits, OneThatTheRecordRefusesIsNotOnTheStack) {
  Edit refused = edit_part("set the minimum", focus_, part_, part_with(3));
  refused.apply = [](Record&) { throw RecordError("The disk is full."); };
  EXPECT_THROW(history_.perform(record_, std::move(refused)), RecordError);
  EXPECT_EQ(history_.undo_name(), nullptr);
}

TEST_F(Edits, AreKeptWholeOrNotAtAll) {
  record_.add_measurement(measured(5.0));
  const auto refuse = [](Record&) { throw RecordError("The disk is full."); };
  Edit half = edit_photo("move friction face", focus_, {measured(5.0), {}}, {measured(4.2), {}});
  Edit refused = edit_part("set the minimum", focus_, part_, part_with(3));
  refused.apply = refuse;
  EXPECT_THROW(history_.perform(record_, edit_together("both", focus_, {half, refused})),
               RecordError);
  EXPECT_EQ(record_.measurements(focus_.photo_id).size(), 1u) << "what came before the refusal";

  refused = edit_part("set the minimum", focus_, part_, part_with(3));
  refused.revert = refuse;
  history_.perform(record_, edit_together("both", focus_, {refused, half}));
  EXPECT_THROW(history_.undo(record_), RecordError);
  EXPECT_EQ(friction_mm(), 4.2);
  EXPECT_EQ(*history_.undo_name(), "both");
}

TEST_F(Edits, AJobOnANewVehicleMakesItOnce) {
  const Job before = *record_.job(focus_.job_id);
  history_.perform(record_, edit_job_of_new_vehicle("change the job", before, before,
                                                    {0, "Red van", "", "", ""}));
  const auto vehicle = [&] { return record_.vehicle(record_.job(before.id)->vehicle_id)->name; };
  EXPECT_EQ(vehicle(), "Red van");
  history_.undo(record_);
  EXPECT_EQ(vehicle(), "Blue estate");
  history_.redo(record_);
  EXPECT_EQ(vehicle(), "Red van");
  EXPECT_EQ(record_.vehicles().size(), 2u);
}

TEST_F(Edits, UndoOfAMoveAppendsAndDeletesNothing) {
  record_.add_measurement(measured(5.0));
  const std::vector<EdgeConfirmation> confirmed = {
      {focus_.photo_id, "friction_outer", "Sam", "2026-11-25T10:00:00Z"}};
  history_.perform(record_, edit_photo("move friction face", focus_, {measured(5.0), {}},
                                       {measured(4.2), confirmed}));
  EXPECT_EQ(friction_mm(), 4.2);
  ASSERT_EQ(record_.confirmations(focus_.photo_id).size(), 1u);
  EXPECT_EQ(record_.confirmations(focus_.photo_id)[0].confirmed_by, "Sam");
  history_.undo(record_);
  EXPECT_EQ(friction_mm(), 5.0);
  EXPECT_TRUE(record_.confirmations(focus_.photo_id).empty());
  history_.redo(record_);
  EXPECT_EQ(friction_mm(), 4.2);
  EXPECT_EQ(record_.measurements(focus_.photo_id).size(), 4u);
}

TEST_F(Edits, APhotoTakenOffComesBack) {
  history_.perform(record_, edit_remove_photo("remove photo", focus_));
  EXPECT_TRUE(record_.photos(part_.id).empty());
  const auto touched = history_.undo(record_);
  ASSERT_TRUE(touched);
  EXPECT_EQ(touched->photo_id, focus_.photo_id);
  ASSERT_EQ(record_.photos(part_.id).size(), 1u);
}

TEST_F(Edits, AReadingIsOneRowHoweverOftenItIsRedone) {
  HandReadingEntry reading;
  reading.part_id = part_.id;
  reading.as_typed = "5,2 mm";
  reading.value_mm = 5.2;
  reading.standard_uncertainty_mm = 0.03;
  history_.perform(record_, edit_add_reading(focus_, reading));
  ASSERT_EQ(record_.hand_readings(part_.id).size(), 1u);
  EXPECT_EQ(record_.hand_readings(part_.id)[0].as_typed, "5,2 mm");
  for (int i = 0; i < 3; ++i) {
    history_.undo(record_);
    EXPECT_TRUE(record_.hand_readings(part_.id).empty());
    history_.redo(record_);
    EXPECT_EQ(record_.hand_readings(part_.id).size(), 1u);
  }
  history_.perform(record_, edit_remove_reading(focus_, record_.hand_readings(part_.id).front()));
  EXPECT_TRUE(record_.hand_readings(part_.id).empty());
  history_.undo(record_);
  EXPECT_EQ(record_.hand_readings(part_.id).size(), 1u);
}

}  // namespace
}  // namespace scantling
