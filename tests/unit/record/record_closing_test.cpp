// Cameras, verdicts, cards, the work done, and several changes as one.
#include <gmock/gmock.h>

#include "record/record.h"
#include "record/record_error.h"
#include "support/temporary_folder.h"
#include "unit/record/sample_record.h"

namespace scantling {
namespace {

using ::testing::HasSubstr;
using ::testing::SizeIs;

struct RecordClosing : ::testing::Test {
  TemporaryFolder folder;
  std::filesystem::path path = folder / "record.sqlite";
  Record record{path};
  SampleJob ids = add_sample_job(record);
};

WorkDone sample_work() {
  WorkDone work;
  work.date = "2026-11-22";
  work.odometer_km = 81260;
  work.done_by = "Ása";
  FittedPart pad;
  pad.kind = PartKind::pad;
  pad.side = Side::right;
  pad.place = PadPlace::outer;
  pad.maker = "Hallow";
  pad.number = "H-4711";
  pad.new_size_mm = 11.5;
  pad.minimum_mm = 2.0;
  work.parts = {pad};
  Fastener bolt;
  bolt.name = "bracket bolts";
  bolt.count = 4;
  bolt.renewed = true;
  bolt.tightening = tightening_from_text("100 N m, then 90 deg").tightening;
  work.fasteners = {bolt};
  work.fluid_looked_at = true;
  work.fluid = "between the marks, clear";
  work.slides_looked_at = true;
  work.bedding_in_km = 300;
  work.next_check_km = 91000;
  work.next_check_date = "2027-11-22";
  return work;
}

TEST_F(RecordClosing, AClosingCanBeTakenBackAndMadeAgain) {
  EXPECT_THROW(record.reopen_job(4711), RecordError);
  record.set_work(ids.job, sample_work());
  record.reopen_job(ids.job);
  EXPECT_FALSE(Record(path).work(ids.job));
  record.set_work(ids.job, sample_work());
  EXPECT_EQ(Record(path).work(ids.job)->done_by, "Ása");
}

TEST_F(RecordClosing, KeepsTheWorkDoneAndPlansTheNextCheck) {
  EXPECT_FALSE(record.work(ids.job));
  record.set_work(ids.job, sample_work());
  Record again(path);
  const WorkDone work = again.work(ids.job).value();
  EXPECT_EQ(work.odometer_km, 81260);
  ASSERT_THAT(work.parts, SizeIs(1));
  EXPECT_EQ(work.parts[0].place, PadPlace::outer);
  EXPECT_EQ(work.parts[0].number, "H-4711");
  EXPECT_EQ(work.parts[0].new_size_mm, 11.5);
  ASSERT_THAT(work.fasteners, SizeIs(1));
  EXPECT_TRUE(work.fasteners[0].renewed);
  ASSERT_THAT(work.fasteners[0].tightening.stages, SizeIs(2));
  EXPECT_EQ(work.fasteners[0].tightening.stages[1].value, 90);
  EXPECT_TRUE(work.fluid_looked_at);
  EXPECT_EQ(work.bedding_in_km, 300);
  EXPECT_EQ(again.job(ids.job)->next_check_km, 91000);
  EXPECT_EQ(again.job(ids.job)->next_check_date, "2027-11-22");
  WorkDone corrected = work;
  corrected.parts[0].new_size_mm = 11.6;
  again.set_work(ids.job, corrected);
  EXPECT_EQ(again.work(ids.job)->parts[0].new_size_mm, 11.6) << "the newest counts";
}

TEST_F(RecordClosing, WorkThatPlansNothingLeavesAPlannedCheckStanding) {
  record.set_work(ids.job, sample_work());
  WorkDone by_date = sample_work();
  by_date.next_check_km.reset();
  by_date.next_check_date = "2027-05-01";
  record.set_work(ids.job, by_date);
  EXPECT_EQ(record.job(ids.job)->next_check_km, 91000);
  EXPECT_EQ(record.job(ids.job)->next_check_date, "2027-05-01");
}

TEST_F(RecordClosing, RefusesWorkThatMakesNoSense) {
  const std::pair<std::function<void(WorkDone&)>, const char*> cases[] = {
      {[](WorkDone& w) { w.date = "yesterday"; }, "is not a date"},
      {[](WorkDone& w) { w.next_check_date = "2020-01-01"; }, "before the work"},
      {[](WorkDone& w) { w.next_check_km = 80000; }, "behind the odometer"},
      {[](WorkDone& w) { w.bedding_in_km = 1e6; }, "bedding-in"},
      {[](WorkDone& w) { w.parts[0].new_size_mm = 1.0; }, "not thinner than its minimum"},
      {[](WorkDone& w) { w.fasteners[0].count = 0; }, "fastener"}};
  for (const auto& [spoil, says] : cases) {
    WorkDone work = sample_work();
    spoil(work);
    try {
      record.set_work(ids.job, work);
      ADD_FAILURE() << says;
    } catch (const RecordError& error) {
      EXPECT_THAT(error.what(), HasSubstr(says));
    }
  }
  EXPECT_FALSE(record.work(ids.job));
}

TEST_F(RecordClosing, KeepsCamerasWithTheirProfiles) {
  const std::int64_t id = record.keep_camera({0, "Fable", "F-5", ""});
  EXPECT_EQ(record.keep_camera({0, "Fable", "F-5", R"({"focal_px": 3000})"}), id);
  EXPECT_THAT(record.cameras(), SizeIs(1));
  EXPECT_EQ(record.camera(id)->profile, R"({"focal_px": 3000})");
  EXPECT_EQ(record.keep_camera({0, "Fable", "F-5", ""}), id);
  EXPECT_EQ(record.camera(id)->profile, R"({"focal_px": 3000})") << "none given takes none away";
  EXPECT_THROW(record.keep_camera({0, "Fable", "F-5", "{"}), RecordError);
}

TEST_F(RecordClosing, KeepsVerdictsWithRuleAndVersion) {
  VerdictEntry entry;
  entry.part_id = ids.pad;
  entry.state = "keep";
  entry.probability_below = 0.001;
  entry.size_mm = 5.02;
  entry.standard_uncertainty_mm = 0.03;
  entry.minimum_mm = 2.0;
  entry.minimum_origin = "workshop manual";
  entry.because = {"5.02 mm is clear of the minimum of 2.0 mm."};
  entry.rule = "rule 1";
  record.add_verdict(entry);
  const auto list = record.verdicts(ids.pad);
  ASSERT_THAT(list, SizeIs(1));
  EXPECT_EQ(list[0].because, entry.because);
  EXPECT_EQ(list[0].rule, "rule 1");
  EXPECT_FALSE(list[0].engine_version.empty());
  EXPECT_FALSE(list[0].degrees_of_freedom) << "unlimited";
}

TEST_F(RecordClosing, KeepsTheCardAsItWas) {
  const PhotoEntry photo = record.add_photo(ids.pad, View::pad, folder.file("p.jpg", "abc"));
  record.add_measurement(sample_entry(photo.id));
  const auto entry = record.newest_measurement(photo.id);
  EXPECT_THAT(entry->card_definition, HasSubstr("notch_card"));
  EXPECT_FALSE(photo.camera_id) << "the file says nothing of its camera";
}

// As one imported from another record: what an older card said is not the card of today.
TEST_F(RecordClosing, KeepsAnOlderCardThatComesWithTheMeasurement) {
  const PhotoEntry photo = record.add_photo(ids.pad, View::pad, folder.file("p.jpg", "abc"));
  MeasurementEntry entry = sample_entry(photo.id);
  entry.card_definition = R"({"notch_card": {"square_mm": 4.0}})";
  record.add_measurement(entry);
  EXPECT_EQ(record.newest_measurement(photo.id)->card_definition, entry.card_definition);
  // The same card written otherwise is the same card.
  record.add_measurement(sample_entry(photo.id));
  const std::string built_in = record.newest_measurement(photo.id)->card_definition;
  entry.card_definition = built_in + "\n ";
  record.add_measurement(entry);
  EXPECT_EQ(record.newest_measurement(photo.id)->card_definition, built_in);
}

TEST_F(RecordClosing, KeepsHowAReadingWasTaken) {
  HandReadingEntry reading;
  reading.part_id = ids.pad;
  reading.as_typed = "22,41";
  reading.value_mm = 22.39;
  reading.standard_uncertainty_mm = 0.01;
  reading.instrument = "micrometer";
  reading.clock = 4.5;
  reading.zero_as_typed = "0,02";
  reading.zero_error_mm = 0.02;
  reading.resolution_mm = 0.01;
  reading.permissible_error_mm = 0.004;
  record.add_hand_reading(reading);
  const HandReadingEntry kept = Record(path).hand_readings(ids.pad).at(0);
  EXPECT_EQ(kept.clock, 4.5);
  EXPECT_EQ(kept.zero_as_typed, "0,02");
  EXPECT_EQ(kept.permissible_error_mm, 0.004);
  reading.clock = 13;
  EXPECT_THROW(record.add_hand_reading(reading), RecordError);
}

TEST_F(RecordClosing, SeveralChangesAreOneOrNone) {
  EXPECT_THROW(record.as_one_change([&] {
    Vehicle vehicle;
    vehicle.name = "half";
    record.add_vehicle(vehicle);
    Job job;
    job.vehicle_id = 999;  // not there
    job.date = "2026-11-25";
    record.add_job(job);
  }),
               RecordError);
  EXPECT_THAT(record.vehicles(), SizeIs(1));
  record.as_one_change([&] {
    record.add_vehicle({});
    record.add_vehicle({});
  });
  EXPECT_THAT(record.vehicles(), SizeIs(3));
}

TEST_F(RecordClosing, AChangeWithinAChangeBelongsToIt) {
  const auto two = [&] {
    record.as_one_change([&] { record.add_vehicle({}); });
    record.add_vehicle({});  // still within the outer one
  };
  EXPECT_THROW(record.as_one_change([&] {
    two();
    throw RecordError("The disk is full.");
  }),
               RecordError);
  EXPECT_THAT(record.vehicles(), SizeIs(1));
  record.as_one_change(two);
  EXPECT_THAT(Record(path).vehicles(), SizeIs(3));
}

TEST_F(RecordClosing, ABackupOpensAsARecord) {
  const auto copy = record.back_up();
  EXPECT_THAT(Record(copy).jobs(), SizeIs(1));
  EXPECT_THAT(record.jobs(), SizeIs(1));
}

TEST_F(RecordClosing, ListsAnAxleThroughTime) {
  Job later = record.job(ids.job).value();
  later.date = "2027-06-01";
  record.add_job(later);
  Job other = later;
  other.axle = Axle::front;
  record.add_job(other);
  const auto list = record.jobs_of_axle(ids.vehicle, Axle::rear);
  ASSERT_THAT(list, SizeIs(2));
  EXPECT_EQ(list[0].id, ids.job);
  EXPECT_EQ(list[1].date, "2027-06-01");
}

}  // namespace
}  // namespace scantling
