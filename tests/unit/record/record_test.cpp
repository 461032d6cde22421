#include "record/record.h"

#include <gmock/gmock.h>
#include <sys/stat.h>

#include <cmath>
#include <limits>

#include "record/record_error.h"
#include "support/temporary_folder.h"
#include "unit/record/sample_record.h"

namespace scantling {
namespace {

using ::testing::ElementsAre;
using ::testing::Field;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::SizeIs;

struct RecordTest : ::testing::Test {
  TemporaryFolder folder;
  std::filesystem::path path = folder / "jobs/record.sqlite";
  Record record{path};
  SampleJob ids = add_sample_job(record);

  void reopen() {
    record = Record(folder / "passing.sqlite");  // closes the first one
    record = Record(path);
  }
};

TEST_F(RecordTest, KeepsVehicleSheetJobAndPartOverReopening) {
  reopen();
  const auto vehicle = record.vehicle(ids.vehicle);
  ASSERT_TRUE(vehicle);
  EXPECT_EQ(vehicle->name, "Bödvar's estate");
  EXPECT_EQ(vehicle->registration, "XQ 417 T");
  EXPECT_EQ(vehicle->make_model, "Hallow 1.6");
  EXPECT_EQ(vehicle->owner, "Ása Þórsdóttir");
  const auto job = record.job(ids.job);
  ASSERT_TRUE(job);
  EXPECT_EQ(job->vehicle_id, ids.vehicle);
  EXPECT_EQ(job->date, "2026-11-21");
  EXPECT_EQ(job->odometer_km, 81250.5);
  EXPECT_EQ(job->axle, Axle::rear);
  EXPECT_EQ(job->note, "squeal when cold");
  EXPECT_EQ(job->sheet_id, ids.sheet);
  const auto sheet = record.sheet(ids.sheet);
  ASSERT_TRUE(sheet);
  EXPECT_EQ(sheet->name, "A4, kitchen printer");
  EXPECT_EQ(sheet->scale.x, 0.9975);
  EXPECT_EQ(sheet->scale.y, 1.0015);
  EXPECT_EQ(sheet->scale.standard_uncertainty, 0.0004);
  EXPECT_TRUE(sheet->scale.checked);
  EXPECT_EQ(sheet->how_checked, "check bars with a steel rule");
  EXPECT_EQ(sheet->checked_at, "2026-11-20T18:00:00Z");
  const auto part = record.part(ids.pad);
  ASSERT_TRUE(part);
  EXPECT_EQ(part->kind, PartKind::pad);
  EXPECT_EQ(part->side, Side::right);
  EXPECT_EQ(part->place, PadPlace::outer);
  EXPECT_EQ(part->minimum_mm, 2.0);
  EXPECT_EQ(part->minimum_origin, "workshop manual");
}

TEST_F(RecordTest, KeepsTheNextCheckADiscsDiameterAndALipsFace) {
  Job job = record.job(ids.job).value();
  job.next_check_km = 95000;
  job.next_check_date = "2027-11-20";
  record.update_job(job);
  Part disc;
  disc.job_id = ids.job;
  disc.kind = PartKind::disc;
  disc.disc_diameter_mm = 280;
  const auto id = record.add_part(disc);
  const auto lip = folder.file("lip.jpg", "lip");
  record.add_photo(id, View::lip, lip, DiscFace::inboard);
  record.add_photo(id, View::rim, folder.file("rim.jpg", "rim"));
  reopen();
  EXPECT_EQ(record.job(ids.job)->next_check_km, 95000);
  EXPECT_EQ(record.job(ids.job)->next_check_date, "2027-11-20");
  EXPECT_EQ(record.part(id)->disc_diameter_mm, 280);
  EXPECT_EQ(record.photos(id).at(0).face, DiscFace::inboard);
  EXPECT_EQ(record.photos(id).at(1).face, std::nullopt);
  record.add_photo(id, View::lip, lip, DiscFace::outboard);  // put right by adding it once more
  EXPECT_EQ(record.photos(id).at(0).face, DiscFace::outboard);
  job.next_check_date = "next spring";
  EXPECT_THROW(record.update_job(job), RecordError);
  disc.disc_diameter_mm = 28;
  EXPECT_THROW(record.add_part(disc), RecordError);
}

TEST_F(RecordTest, UpdatesEachKindOfRow) {
  Vehicle vehicle = record.vehicle(ids.vehicle).value();
  vehicle.owner = "someone else";
  record.update_vehicle(vehicle);
  Sheet sheet = record.sheet(ids.sheet).value();
  sheet.scale = {};
  record.update_sheet(sheet);
  Job job = record.job(ids.job).value();
  job.odometer_km.reset();
  job.sheet_id.reset();
  record.update_job(job);
  Part part = record.part(ids.pad).value();
  part.kind = PartKind::disc;
  part.minimum_mm.reset();
  record.update_part(part);
  reopen();
  EXPECT_EQ(record.vehicles().at(0).owner, "someone else");
  EXPECT_FALSE(record.sheets().at(0).scale.checked);
  EXPECT_EQ(record.sheets().at(0).checked_at, "") << "an unchecked sheet has no time of checking";
  EXPECT_FALSE(record.jobs().at(0).odometer_km);
  EXPECT_FALSE(record.jobs().at(0).sheet_id);
  EXPECT_EQ(record.parts(ids.job).at(0).kind, PartKind::disc);
  EXPECT_FALSE(record.parts(ids.job).at(0).minimum_mm);
}

TEST_F(RecordTest, ListsNewestJobFirst) {
  Job job = record.job(ids.job).value();
  job.date = "2025-01-31";
  const auto older = record.add_job(job);
  job.date = "2026-12-01";
  const auto newer = record.add_job(job);
  EXPECT_THAT(record.jobs(), ElementsAre(Field(&Job::id, newer), Field(&Job::id, ids.job),
                                         Field(&Job::id, older)));
}

TEST_F(RecordTest, RemovedJobsAndPartsComeBack) {
  record.remove_part(ids.pad);
  EXPECT_THAT(record.parts(ids.job), IsEmpty());
  EXPECT_FALSE(record.part(ids.pad));
  record.restore_part(ids.pad);
  EXPECT_THAT(record.parts(ids.job), SizeIs(1));
  record.remove_job(ids.job);
  EXPECT_THAT(record.jobs(), IsEmpty());
  EXPECT_FALSE(record.job(ids.job));
  reopen();
  record.restore_job(ids.job);
  EXPECT_THAT(record.jobs(), SizeIs(1));
}

TEST_F(RecordTest, KeepsHandReadingsAsTypedAndTakesRemovalBack) {
  HandReadingEntry reading;
  reading.part_id = ids.pad;
  reading.as_typed = "4,98 ± 0,02 mm";
  reading.value_mm = 4.98;
  reading.standard_uncertainty_mm = 0.01;
  reading.instrument = "micrometer";
  const auto first = record.add_hand_reading(reading);
  reading.value_mm = 5.01;
  reading.read_at = "2026-11-21T10:15:00Z";
  const auto second = record.add_hand_reading(reading);
  record.remove_hand_reading(first);
  ASSERT_THAT(record.hand_readings(ids.pad), SizeIs(1));
  EXPECT_EQ(record.hand_readings(ids.pad)[0].id, second);
  record.restore_hand_reading(first);
  reopen();
  const auto readings = record.hand_readings(ids.pad);
  ASSERT_THAT(readings, SizeIs(2));
  EXPECT_EQ(readings[0].as_typed, "4,98 ± 0,02 mm");
  EXPECT_EQ(readings[0].value_mm, 4.98);
  EXPECT_EQ(readings[0].standard_uncertainty_mm, 0.01);
  EXPECT_EQ(readings[0].instrument, "micrometer");
  EXPECT_THAT(readings[0].read_at, ::testing::MatchesRegex("....-..-..T..:..:..Z"));
  EXPECT_EQ(readings[1].read_at, "2026-11-21T10:15:00Z");
}

TEST_F(RecordTest, RefusesNonsenseWithASentenceAndChangesNothing) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  Job job = record.job(ids.job).value();
  for (const char* date :
       {"", "2026-02-30", "21.11.2026", "2026-1-02", "2026-11-21x", "2026-11-2"}) {
    job.date = date;
    EXPECT_THROW(record.add_job(job), RecordError) << date;
  }
  job.date = "2028-02-29";
  job.odometer_km = -1;
  EXPECT_THROW(record.add_job(job), RecordError);
  job.odometer_km = nan;
  EXPECT_THROW(record.add_job(job), RecordError);
  job.odometer_km = 1;
  job.vehicle_id = 999;
  EXPECT_THROW(record.add_job(job), RecordError) << "no such vehicle";
  job.vehicle_id = ids.vehicle;
  EXPECT_NO_THROW(record.remove_job(record.add_job(job))) << "29 February of a leap year";

  Part part = record.part(ids.pad).value();
  for (double minimum : {0.0, -2.0, nan, 1e9}) {
    part.minimum_mm = minimum;
    EXPECT_THROW(record.update_part(part), RecordError) << minimum;
  }
  HandReadingEntry reading;
  reading.part_id = ids.pad;
  for (double value : {-0.1, nan, std::numeric_limits<double>::infinity()}) {
    reading.value_mm = value;
    EXPECT_THROW(record.add_hand_reading(reading), RecordError) << value;
  }
  Sheet sheet = record.sheet(ids.sheet).value();
  for (double scale : {0.0, 0.5, 1.5, nan}) {
    sheet.scale.x = scale;
    EXPECT_THROW(record.update_sheet(sheet), RecordError) << scale;
  }
  EXPECT_THAT(record.jobs(), SizeIs(1));
  EXPECT_EQ(record.part(ids.pad)->minimum_mm, 2.0);
  EXPECT_THAT(record.hand_readings(ids.pad), IsEmpty());
  EXPECT_EQ(record.sheet(ids.sheet)->scale.x, 0.9975);
}

TEST_F(RecordTest, TellsWhenWhatIsChangedIsNotThere) {
  Vehicle vehicle;
  vehicle.id = 77;
  EXPECT_THROW(record.update_vehicle(vehicle), RecordError);
  EXPECT_THROW(record.remove_part(77), RecordError);
  EXPECT_THROW(record.restore_photo(77), RecordError);
  EXPECT_FALSE(record.vehicle(77));
  EXPECT_FALSE(record.sheet(77));
  try {
    HandReadingEntry reading;
    reading.part_id = 77;
    record.add_hand_reading(reading);
    FAIL();
  } catch (const RecordError& error) {
    EXPECT_THAT(error.what(), HasSubstr("Open the job again"));
  }
}

TEST_F(RecordTest, RepairsTextThatIsNotUtf8) {
  Vehicle vehicle;
  vehicle.name = std::string("caf\xE9 \0 car", 10);
  const auto id = record.add_vehicle(vehicle);
  EXPECT_EQ(record.vehicle(id)->name, "caf\xEF\xBF\xBD  car");
}

TEST_F(RecordTest, FoldersAndFileAreTheOwnersAlone) {
  struct stat status {};
  ASSERT_EQ(::stat(path.parent_path().c_str(), &status), 0);
  EXPECT_EQ(status.st_mode & 0777, 0700u);
  ASSERT_EQ(::stat(path.c_str(), &status), 0);
  EXPECT_EQ(status.st_mode & 0777, 0600u);
}

TEST_F(RecordTest, TwoConnectionsSeeEachOthersChanges) {
  Record second(path);
  Part part = second.part(ids.pad).value();
  part.minimum_mm = 3.5;
  second.update_part(part);
  EXPECT_EQ(record.part(ids.pad)->minimum_mm, 3.5);
  part.minimum_mm = 2.5;
  record.update_part(part);
  EXPECT_EQ(second.part(ids.pad)->minimum_mm, 2.5);
}

TEST(RecordPath, FollowsTheEnvironment) {
  ::setenv("XDG_DATA_HOME", "/somewhere", 1);
  EXPECT_EQ(Record::default_path(), "/somewhere/scantling/record.sqlite");
  ::unsetenv("XDG_DATA_HOME");
}

TEST(RecordSearch, FindsJobsByAllOfTheWords) {
  const TemporaryFolder folder;
  Record record(folder / "record.sqlite");
  const SampleJob ids = add_sample_job(record);
  Job other = record.job(ids.job).value();
  other.date = "2027-05-02";
  other.axle = Axle::front;
  other.note = "100% new, snake_case";
  const std::int64_t newer = record.add_job(other);
  const auto found = [&](const char* words) {
    std::vector<std::int64_t> list;
    for (const Job& job : record.find_jobs(words)) list.push_back(job.id);
    return list;
  };
  using ::testing::ElementsAre;
  using ::testing::IsEmpty;
  EXPECT_THAT(found(""), ElementsAre(newer, ids.job)) << "newest first";
  EXPECT_THAT(found("  HALLOW  rear "), ElementsAre(ids.job));
  EXPECT_THAT(found("xq 417"), ElementsAre(newer, ids.job));
  EXPECT_THAT(found("2026-11"), ElementsAre(ids.job));
  EXPECT_THAT(found("squeal front"), IsEmpty());
  // What stands for anything elsewhere is a letter like any other here.
  EXPECT_THAT(found("100%"), ElementsAre(newer));
  EXPECT_THAT(found("1%w"), IsEmpty());
  EXPECT_THAT(found("snake_"), ElementsAre(newer));
  EXPECT_THAT(found("sn_ke"), IsEmpty());
  EXPECT_THAT(found("'); DROP TABLE job; --"), IsEmpty());
  record.remove_job(newer);
  EXPECT_THAT(found("hallow"), ElementsAre(ids.job));
}

}  // namespace
}  // namespace scantling
