#include "report/axle_history.h"

#include <gmock/gmock.h>

#include "report/result_text.h"
#include "report/summary.h"
#include "report/wear_plot.h"
#include "support/temporary_folder.h"
#include "unit/report/sample_report.h"

namespace scantling {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

struct History : ::testing::Test {
  TemporaryFolder folder;
  Record record{folder / "record.sqlite"};
  std::int64_t vehicle = record.add_vehicle({});

  Job add_job(const std::string& date, std::optional<double> km, std::optional<double> disc_mm = {},
              Axle axle = Axle::front) {
    Job job;
    job.vehicle_id = vehicle;
    job.date = date;
    job.odometer_km = km;
    job.axle = axle;
    job.id = record.add_job(job);
    if (!disc_mm) return job;
    Part part;
    part.job_id = job.id;
    part.kind = PartKind::disc;
    part.side = Side::right;
    part.minimum_mm = 22;
    HandReadingEntry reading;
    reading.part_id = record.add_part(part);
    reading.as_typed = "typed";
    reading.value_mm = *disc_mm;
    reading.standard_uncertainty_mm = 0.01;
    record.add_hand_reading(reading);
    return job;
  }
  PartSummary disc_of(const Job& job) const { return summarise_job(record, job.id)->parts.at(0); }
};

TEST_F(History, HasAllJobsOfTheAxleNewestFirst) {
  const Job first = add_job("2024-01-10", 20'000, 24.0);
  add_job("2024-05-10", 25'000, {}, Axle::rear);
  const Job second = add_job("2025-01-10", 40'000, 23.6);
  const Job third = add_job("2026-01-10", 35'000);
  WorkDone work;
  work.date = "2025-01-11";
  FittedPart fitted;
  fitted.kind = PartKind::pad;
  fitted.side = Side::left;
  fitted.place = PadPlace::inner;
  work.parts = {fitted};
  record.set_work(second.id, work);

  const std::vector<HistoryJob> jobs = axle_history(record, second, {});
  ASSERT_EQ(jobs.size(), 3u);
  EXPECT_EQ(jobs[0].job.id, third.id);
  EXPECT_TRUE(jobs[0].odometer_backwards);
  EXPECT_TRUE(jobs[1].open);
  EXPECT_TRUE(jobs[1].closed);
  EXPECT_FALSE(jobs[1].odometer_backwards);
  EXPECT_EQ(jobs[2].job.id, first.id);
  constexpr std::size_t kRightDisc = 4, kLeftInner = 2;
  EXPECT_EQ(jobs[1].sizes[kRightDisc].size->value_mm, 23.6);
  EXPECT_TRUE(jobs[1].sizes[kRightDisc].by_hand);
  EXPECT_EQ(jobs[1].sizes[kRightDisc].state, "keep");
  EXPECT_TRUE(jobs[1].sizes[kLeftInner].fitted_new);
  EXPECT_EQ(jobs[1].sizes[kLeftInner].state, "");
  for (std::size_t i = 0; i < kAxlePlaces; ++i) EXPECT_EQ(axle_place(part_at(i)), i);
}

TEST_F(History, SaysWhyThereIsNoLineYet) {
  const Job first = add_job("2024-01-10", 20'000, 24.0);
  EXPECT_THAT(no_wear_line(disc_of(first)), ElementsAre(HasSubstr("from the second job on")));
  const Job without = add_job("2024-06-10", {}, 23.8);
  EXPECT_THAT(no_wear_line(disc_of(without)), ElementsAre(HasSubstr("from the second job on")));
  const Job grown = add_job("2025-01-10", 40'000, 25.0);
  EXPECT_THAT(no_wear_line(disc_of(grown)).front(), HasSubstr("grew from 24.00 mm to 25.00 mm"));
  EXPECT_THAT(no_wear_line(disc_of(grown)).back(), HasSubstr("no odometer reading"));
  const auto points = wear_points(disc_of(grown));
  ASSERT_TRUE(points);
  EXPECT_THAT(points->curve, IsEmpty());
  ASSERT_EQ(points->points.size(), 2u);
  EXPECT_EQ(points->points[0].job_id, first.id);
  EXPECT_LT(points->first_km, 20'000);
  EXPECT_GT(points->last_km, 40'000);
  EXPECT_FALSE(wear_plot(disc_of(grown)));
}

TEST_F(History, OnePointAloneStillHasAnAxis) {
  const auto plot = wear_points(disc_of(add_job("2024-01-10", 20'000, 24.0)));
  ASSERT_TRUE(plot);
  EXPECT_GT(plot->last_km - plot->first_km, 1000);
  EXPECT_GT(plot->high_mm - plot->low_mm, 0.4);
}

TEST_F(History, ALineOfPointsKnowsItsJobs) {
  const Job first = add_job("2024-01-10", 20'000, 24.0);
  const Job second = add_job("2025-01-10", 40'000, 23.6);
  const PartSummary disc = disc_of(second);
  EXPECT_THAT(no_wear_line(disc), IsEmpty());
  const auto plot = wear_plot(disc);
  ASSERT_TRUE(plot);
  EXPECT_EQ(plot->points[0].job_id, first.id);
  EXPECT_EQ(plot->points[1].job_id, second.id);
}

TEST_F(History, TheResultAsTextHasAllThatCounts) {
  const Job job = add_job("2024-01-10", 20'000, 24.0);
  const JobSummary summary = *summarise_job(record, job.id);
  const std::string text = result_text(summary, summary.parts[0]);
  for (const char* words : {"right, disc", "10 January 2024, 20 000 km", "By hand: 24.00 mm",
                            "Minimum 22.0 mm", "Result: keep"})
    EXPECT_THAT(text, HasSubstr(words));
}

}  // namespace
}  // namespace scantling
