#include "report/summary.h"

#include <gmock/gmock.h>

#include <fstream>
#include <nlohmann/json.hpp>

#include "report/summary_json.h"
#include "support/temporary_folder.h"
#include "unit/record/sample_record.h"

namespace scantling {
namespace {

using ::testing::Contains;
using ::testing::Field;
using ::testing::IsEmpty;
using ::testing::SizeIs;

struct SummaryTest : ::testing::Test {
  TemporaryFolder folder;
  Record record{folder / "record.sqlite"};
  SampleJob ids = add_sample_job(record);
  PhotoEntry photo = record.add_photo(ids.pad, View::pad, folder.file("p.jpg", "abc"));
};

TEST_F(SummaryTest, ReadsTheWholeJob) {
  record.add_measurement(sample_entry(photo.id));
  const JobSummary summary = summarise_job(record, ids.job).value();
  EXPECT_EQ(summary.vehicle.registration, "XQ 417 T");
  EXPECT_EQ(summary.sheet->name, "A4, kitchen printer");
  ASSERT_THAT(summary.parts, SizeIs(1));
  EXPECT_EQ(summary.parts[0].state, "keep");
  EXPECT_EQ(summary.parts[0].size->quantity.value_mm, 5.02);
  EXPECT_THAT(summary.parts[0].cautions, IsEmpty());
  EXPECT_FALSE(summarise_job(record, 999));
}

TEST_F(SummaryTest, TheNewestMeasurementCounts) {
  record.add_measurement(sample_entry(photo.id));
  MeasurementEntry moved = sample_entry(photo.id);
  moved.measurement.dimensions[0].quantity.value_mm = 1.2;
  record.add_measurement(moved);
  EXPECT_EQ(summarise_job(record, ids.job)->parts[0].state, "replace");
  record.remove_photo(photo.id);
  EXPECT_EQ(summarise_job(record, ids.job)->parts[0].state, "not measured");
}

TEST_F(SummaryTest, TellsALostPhotoAndAChangedScale) {
  record.add_measurement(sample_entry(photo.id));
  std::ofstream(record.photo_path(photo)) << "other";
  Sheet sheet = record.sheet(ids.sheet).value();
  sheet.scale.x = 1.01;
  record.update_sheet(sheet);
  const JobSummary summary = summarise_job(record, ids.job).value();
  EXPECT_THAT(summary.parts[0].cautions, Contains(Field(&Check::id, "photo_lost")));
  EXPECT_THAT(summary.parts[0].cautions, Contains(Field(&Check::id, "scale_changed")));
}

TEST_F(SummaryTest, AnOutdatedScaleClearsNothingUntilThePhotoIsMeasuredAgain) {
  record.add_measurement(sample_entry(photo.id));
  ASSERT_EQ(summarise_job(record, ids.job)->parts[0].state, "keep");
  Sheet sheet = record.sheet(ids.sheet).value();
  sheet.scale.standard_uncertainty *= 2;
  record.update_sheet(sheet);
  const PartSummary stale = summarise_job(record, ids.job)->parts[0];
  EXPECT_EQ(stale.state, "gauge it");
  EXPECT_FALSE(stale.size);
  EXPECT_THAT(stale.because.front(), ::testing::HasSubstr("measure it again"));

  MeasurementEntry again = sample_entry(photo.id);
  again.options.sheet_scale = sheet.scale;
  record.add_measurement(again);
  EXPECT_EQ(summarise_job(record, ids.job)->parts[0].state, "keep");

  // Without any sheet the print counts as unchecked again.
  Job job = record.job(ids.job).value();
  job.sheet_id.reset();
  record.update_job(job);
  EXPECT_EQ(summarise_job(record, ids.job)->parts[0].state, "gauge it");
}

TEST_F(SummaryTest, JsonTellsTheAxleTogether) {
  record.add_measurement(sample_entry(photo.id));
  const auto json = summary_to_json(summarise_job(record, ids.job).value());
  EXPECT_EQ(json.at("axle_state"), "gauge it") << "five parts are not judged";
  EXPECT_EQ(json.at("parts").at(0).at("state_in_set"), "keep");
  EXPECT_THAT(json.at("axle_notes").get<std::vector<std::string>>(),
              Contains(::testing::HasSubstr("without: ")));
}

TEST_F(SummaryTest, JsonSaysTheSame) {
  record.add_measurement(sample_entry(photo.id));
  const JobSummary summary = summarise_job(record, ids.job).value();
  const auto json = summary_to_json(summary);
  EXPECT_EQ(json.at("vehicle").at("owner"), "Ása Þórsdóttir");
  EXPECT_EQ(json.at("odometer_km"), 81250.5);
  const auto& part = json.at("parts").at(0);
  EXPECT_EQ(part.at("title"), "Rear right, outer pad");
  EXPECT_EQ(part.at("state"), "keep");
  EXPECT_EQ(part.at("minimum_mm"), 2.0);
  EXPECT_EQ(part.at("size").at("value_mm"), 5.02);
  EXPECT_EQ(part.at("size").at("expanded_95_mm"), summary.parts[0].size->quantity.expanded_95_mm());
  EXPECT_EQ(part.at("size").at("at_mm"), nullptr);
  EXPECT_LT(part.at("probability_below").get<double>(), 0.01);
}

}  // namespace
}  // namespace scantling
