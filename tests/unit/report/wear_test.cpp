#include "report/wear.h"

#include <gmock/gmock.h>

#include "report/summary.h"
#include "support/temporary_folder.h"
#include "unit/record/sample_record.h"

namespace scantling {
namespace {

using ::testing::HasSubstr;
using ::testing::SizeIs;

/// The sample's pad at earlier jobs and today, read by hand; minimum 2.0 mm, now 81 250.5 km.
struct WearTest : ::testing::Test {
  TemporaryFolder folder;
  Record record{folder / "record.sqlite"};
  SampleJob ids = add_sample_job(record);

  void read(std::int64_t part, double size_mm) {
    record.add_hand_reading({0, part, "", size_mm, 0.05, "calliper", ""});
  }
  void earlier(const char* date, double km, double size_mm) {
    Job job = record.job(ids.job).value();
    job.date = date;
    job.odometer_km = km;
    Part pad = record.part(ids.pad).value();
    pad.job_id = record.add_job(job);
    read(record.add_part(pad), size_mm);
  }
  PartSummary today() const { return summarise_job(record, ids.job)->parts.at(0); }
  void plan(std::optional<double> km, const std::string& date) {
    Job job = record.job(ids.job).value();
    job.next_check_km = km;
    job.next_check_date = date;
    record.update_job(job);
  }
};

TEST_F(WearTest, TwoSizesTellWearAndTheDistanceLeft) {
  earlier("2025-11-21", 71250.5, 5.0);
  read(ids.pad, 4.0);
  const PartSummary part = today();
  ASSERT_TRUE(part.outlook);
  EXPECT_EQ(part.outlook->sizes, 2u);
  EXPECT_NEAR(part.outlook->forecast.wear_mm_per_1000_km, 0.1, 1e-9);
  EXPECT_NEAR(*part.outlook->forecast.distance_left_km, 20000, 1e-6);
  EXPECT_THAT(part.outlook->sentence, HasSubstr("20\u00A0000\u00A0km"));
  EXPECT_EQ(part.state, "keep") << "no next check is planned";
}

TEST_F(WearTest, AMinimumBeforeTheNextCheckMakesItDueSoon) {
  earlier("2025-11-21", 71250.5, 5.0);
  read(ids.pad, 4.0);
  plan(90000, "");
  EXPECT_EQ(today().state, "keep");
  plan(105000, "");
  const PartSummary part = today();
  EXPECT_EQ(part.state, "keep, due soon");
  EXPECT_THAT(part.outlook->sentence, HasSubstr("check it before that"));
}

TEST_F(WearTest, ADateIsTurnedIntoADistanceAtTheRateDriven) {
  earlier("2025-11-21", 71250.5, 5.0);  // 10 000 km in 365 days
  read(ids.pad, 4.0);
  plan(std::nullopt, "2029-11-20");  // three years later
  const PartSummary part = today();
  ASSERT_TRUE(part.outlook->next_check_km);
  EXPECT_NEAR(*part.outlook->next_check_km, 81250.5 + 30000 * 1095 / 1095.0, 30);
  EXPECT_EQ(part.state, "keep, due soon");
}

TEST_F(WearTest, SizesOfThePadBeforeThisOneDoNotCount) {
  earlier("2024-11-21", 55000, 3.0);  // worn out: a new one followed
  earlier("2025-11-21", 71250.5, 9.0);
  read(ids.pad, 8.5);
  const PartSummary part = today();
  ASSERT_TRUE(part.outlook);
  EXPECT_EQ(part.outlook->sizes, 2u);
  EXPECT_NEAR(part.outlook->forecast.wear_mm_per_1000_km, 0.05, 1e-9);
}

TEST_F(WearTest, AnotherPlaceAnotherAxleAndALaterJobDoNotCount) {
  earlier("2027-01-01", 90000, 1.0);
  Job job = record.job(ids.job).value();
  job.date = "2025-01-01";
  job.odometer_km = 60000;
  Part pad = record.part(ids.pad).value();
  pad.job_id = record.add_job(job);
  pad.place = PadPlace::inner;
  read(record.add_part(pad), 7.0);
  job.axle = Axle::front;
  pad.job_id = record.add_job(job);
  pad.place = PadPlace::outer;
  read(record.add_part(pad), 7.0);
  read(ids.pad, 4.0);
  EXPECT_THAT(earlier_sizes(record, record.job(ids.job).value(), record.part(ids.pad).value()),
              SizeIs(0));
  EXPECT_FALSE(today().outlook);
}

}  // namespace
}  // namespace scantling
