#include "report/demo_job.h"

#include <gmock/gmock.h>

#include <filesystem>

#include "report/summary.h"
#include "support/temporary_folder.h"
#include "unit/report/sample_report.h"

namespace scantling {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::SizeIs;

constexpr const char* kJob = R"({
 "vehicle": {"name": "Cart", "make_model": "Oak 2", "registration": "C 1", "owner": "Nobody"},
 "job": {"date": "2026-05-16", "odometer_km": 84210, "axle": "rear", "note": "squeaks"},
 "sheet": {"scale_x": 1.004, "scale_y": 0.998, "standard_uncertainty": 0.001, "checked": true,
           "note": "calliper"},
 "parts": [{"kind": "pad", "side": "right", "place": "outer", "minimum_mm": 2.5,
            "minimum_origin": "invented", "view": "pad", "photo": "pad.png",
            "part_offset": {"offset_mm": 0.3, "standard_uncertainty_mm": 0.1}}]})";
constexpr const char* kTruth = R"({"pad.png": {"friction_thickness_mm": 5.1,
 "plate_thickness_mm": 5.7, "stations": [{"position_mm": -20, "friction_thickness_mm": 5.9},
 {"position_mm": 0, "friction_thickness_mm": 5.1}, {"position_mm": 20, "friction_thickness_mm": 4.3}]}})";

std::string trouble_reading(const std::filesystem::path& folder) {
  try {
    read_demo_job(folder);
    return "read";
  } catch (const DemoError& error) {
    return error.what();
  }
}

struct DemoJobTest : ::testing::Test {
  TemporaryFolder folder;
};

TEST_F(DemoJobTest, ReadsJobAndTruth) {
  folder.file("job.json", kJob);
  folder.file("truth.json", kTruth);
  const DemoJob demo = read_demo_job(folder.path());
  EXPECT_EQ(demo.vehicle.owner, "Nobody");
  EXPECT_EQ(demo.job.axle, Axle::rear);
  EXPECT_EQ(demo.job.odometer_km, 84210);
  EXPECT_EQ(demo.sheet.scale.x, 1.004);
  EXPECT_TRUE(demo.sheet.scale.checked);
  ASSERT_THAT(demo.parts, SizeIs(1));
  EXPECT_EQ(demo.parts[0].part.minimum_mm, 2.5);
  EXPECT_EQ(demo.parts[0].offset.offset_mm, 0.3);
  EXPECT_EQ(demo.parts[0].photo, folder / "pad.png");
  ASSERT_TRUE(demo.parts[0].truth);
  EXPECT_EQ(demo.parts[0].truth->friction_at({}), 5.1);
  EXPECT_EQ(demo.parts[0].truth->friction_at(19), 4.3);
  EXPECT_EQ(demo.parts[0].truth->friction_at(-12), 5.9);
}

TEST_F(DemoJobTest, SaysWhatIsMissingOrDamaged) {
  EXPECT_THAT(trouble_reading(folder.path()), HasSubstr("job.json is not there"));
  folder.file("job.json", kJob);
  EXPECT_THAT(trouble_reading(folder.path()), HasSubstr("truth.json is not there"));
  folder.file("truth.json", "{");
  EXPECT_THAT(trouble_reading(folder.path()), HasSubstr("cannot be read"));
  folder.file("truth.json", R"({"pad.png": {}})");
  EXPECT_THAT(trouble_reading(folder.path()), HasSubstr("cannot be read"));
}

TEST_F(DemoJobTest, AMissingPhotoLeavesTheRecordEmpty) {
  folder.file("job.json", kJob);
  folder.file("truth.json", kTruth);
  Record record(folder / "record.sqlite");
  EXPECT_THROW(enter_demo_job(record, read_demo_job(folder.path())), DemoError);
  EXPECT_THAT(record.jobs(), IsEmpty());
}

TEST_F(DemoJobTest, EntersTheJobWithItsPhotosMeasured) {
  folder.file("job.json", kJob);
  folder.file("truth.json", kTruth);
  folder.file("pad.png", sample_photo_png());  // shows no card: measured, and told so
  Record record(folder / "record.sqlite");
  const JobSummary job =
      summarise_job(record, enter_demo_job(record, read_demo_job(folder.path()))).value();
  EXPECT_EQ(job.vehicle.name, "Cart");
  EXPECT_EQ(job.sheet->how_checked, "calliper");
  ASSERT_THAT(job.parts, SizeIs(1));
  ASSERT_THAT(job.parts[0].photos, SizeIs(1));
  ASSERT_TRUE(job.parts[0].photos[0].newest);
  EXPECT_EQ(job.parts[0].photos[0].newest->options.part_offset.offset_mm, 0.3);
  EXPECT_EQ(job.parts[0].photos[0].newest->options.sheet_scale.y, 0.998);
  EXPECT_EQ(job.parts[0].standing, PartStanding::photo_unusable);
  EXPECT_THAT(job.parts[0].because, SizeIs(2));
}

TEST(TheDemo, IsCompleteAndInvented) {
  const DemoJob demo = read_demo_job(std::filesystem::path(SCANTLING_SOURCE_DIR) / "assets/demo");
  EXPECT_THAT(demo.vehicle.owner, HasSubstr("invented"));
  EXPECT_THAT(demo.parts, SizeIs(4));
  for (const DemoPart& part : demo.parts) {
    EXPECT_TRUE(std::filesystem::exists(part.photo)) << part.photo;
    EXPECT_TRUE(part.truth) << part.photo;
  }
}

}  // namespace
}  // namespace scantling
