#include "report/demo_job.h"

#include <gmock/gmock.h>

#include <filesystem>
#include <nlohmann/json.hpp>

#include "dimension/measurement_json.h"
#include "record/record_error.h"
#include "report/due_photos.h"
#include "report/planes_beside.h"
#include "report/redo.h"
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
           "note": "calliper",
           "card_thickness": {"thickness_mm": 0.26, "standard_uncertainty_mm": 0.012}},
 "parts": [{"kind": "pad", "side": "right", "place": "outer", "minimum_mm": 2.5,
            "minimum_origin": "invented", "view": "pad", "photo": "pad.png",
            "part_offset": {"offset_mm": 0.3, "standard_uncertainty_mm": 0.1}}],
 "discs": [{"kind": "disc", "side": "left", "minimum_mm": 22.4, "minimum_origin": "cast in",
            "diameter_mm": 284, "photos": [
            {"view": "rim", "photo": "rim.png"},
            {"view": "lip", "face": "outboard", "photo": "out.png"},
            {"view": "lip", "face": "inboard", "photo": "in.png"}]}],
 "piles": [{"kind": "pad", "side": "right", "place": "outer", "view": "pile",
            "photos": ["pile_1.png", "pile_2.png"]}],
 "camera_photos": ["sheet_1.png"]})";
constexpr const char* kTruth = R"({"pad.png": {"friction_thickness_mm": 5.1,
 "plate_thickness_mm": 5.7, "stations": [{"position_mm": -20, "friction_thickness_mm": 5.9},
 {"position_mm": 0, "friction_thickness_mm": 5.1}, {"position_mm": 20, "friction_thickness_mm": 4.3}]},
 "rim.png": {"rim_thickness_mm": 24.6, "worn_thickness_mm": 22.6},
 "out.png": {"lip_outboard_mm": 1.05}, "in.png": {"lip_inboard_mm": 0.95},
 "pile_1.png": {"overall_thickness_mm": 10.8}, "pile_2.png": {"overall_thickness_mm": 10.8}})";

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
  EXPECT_EQ(demo.card_thickness.offset_mm, 0.26);
  ASSERT_THAT(demo.parts, SizeIs(2));
  const DemoPart& pad = demo.parts[0];
  EXPECT_EQ(pad.part.minimum_mm, 2.5);
  EXPECT_EQ(pad.offset.offset_mm, 0.3);
  ASSERT_THAT(pad.photos, SizeIs(1));
  EXPECT_EQ(pad.photos[0].file, folder / "pad.png");
  EXPECT_EQ(pad.truth.of("friction_thickness"), 5.1);
  EXPECT_EQ(pad.truth.of("friction_thickness", 19), 4.3);
  EXPECT_EQ(pad.truth.of("friction_thickness", -12), 5.9);
  EXPECT_EQ(pad.truth.of("rim_thickness"), std::nullopt);
  const DemoPart& disc = demo.parts[1];
  EXPECT_EQ(disc.part.kind, PartKind::disc);
  EXPECT_EQ(disc.part.disc_diameter_mm, 284);
  ASSERT_THAT(disc.photos, SizeIs(3));
  EXPECT_EQ(disc.photos[0].view, View::rim);
  EXPECT_EQ(disc.photos[0].face, std::nullopt);
  EXPECT_EQ(disc.photos[1].face, DiscFace::outboard);
  EXPECT_EQ(disc.photos[2].face, DiscFace::inboard);
  EXPECT_EQ(disc.truth.of("rim_thickness"), 24.6);
  EXPECT_EQ(disc.truth.of("lip_height_out"), 1.05);
  EXPECT_EQ(disc.truth.of("lip_height_in"), 0.95);
  EXPECT_EQ(disc.truth.of("worn_thickness"), 22.6);
}

TEST_F(DemoJobTest, ExtraPhotosServeWhereTheyAreThere) {
  folder.file("job.json", kJob);
  folder.file("truth.json", kTruth);
  folder.file("pile_2.png", "x");
  DemoJob demo = read_demo_job(folder.path());
  EXPECT_THAT(demo.camera_photos, IsEmpty());
  EXPECT_THAT(demo.parts.at(0).photos, SizeIs(1)) << "half a set is none";
  folder.file("pile_1.png", "x");
  folder.file("sheet_1.png", "x");
  demo = read_demo_job(folder.path());
  EXPECT_THAT(demo.camera_photos, SizeIs(1));
  ASSERT_THAT(demo.parts.at(0).photos, SizeIs(3));
  EXPECT_EQ(demo.parts[0].photos[1].view, View::pile);
  EXPECT_EQ(demo.parts[0].photos[2].file, folder / "pile_2.png");
  EXPECT_EQ(demo.parts[0].truth.of("overall_thickness"), 10.8);
  EXPECT_EQ(demo_cameras(demo), nullptr) << "that is no photo of the sheet";
}

TEST_F(DemoJobTest, TheTrueCameraIsTheMeanInTheSensorsFrame) {
  std::string job = kJob, truth = kTruth;
  job.replace(job.find(R"("sheet_1.png")"), 13, R"("sheet_1.png", "sheet_2.png")");
  folder.file("job.json", job);
  folder.file("truth.json", truth);
  folder.file("sheet_1.png", "x");
  folder.file("sheet_2.png", "x");
  EXPECT_EQ(read_demo_job(folder.path()).true_camera, std::nullopt) << "the truth tells nothing";
  // The second photo was taken with the phone turned a quarter: its sensor's top is on the right.
  truth.insert(truth.rfind('}'), R"(, "sheet_1.png": {"camera": {"width_px": 4000,
    "height_px": 3000, "orientation": 1, "f_px": 3000, "cx": 2007, "cy": 1494, "k1": 0.03,
    "k2": -0.01}}, "sheet_2.png": {"camera": {"width_px": 3000, "height_px": 4000,
    "orientation": 6, "f_px": 3010, "cx": 1504, "cy": 2009, "k1": 0.04, "k2": -0.03}})");
  folder.file("truth.json", truth);
  const std::optional<CameraModel> camera = read_demo_job(folder.path()).true_camera;
  ASSERT_TRUE(camera);
  EXPECT_DOUBLE_EQ(camera->focal_px, 3005);
  EXPECT_DOUBLE_EQ(camera->centre_x_px, 2008);
  EXPECT_DOUBLE_EQ(camera->centre_y_px, (1494 + 2999 - 1504) / 2.0);
  EXPECT_DOUBLE_EQ(camera->k1, 0.035);
  EXPECT_DOUBLE_EQ(camera->k2, -0.02);
}

TEST_F(DemoJobTest, APhotoOfAPartThatIsNotNamedIsTold) {
  std::string job = kJob;
  job.replace(job.find(R"("place": "outer", "view": "pile")"), 16, R"("place": "inner")");
  folder.file("job.json", job);
  folder.file("truth.json", kTruth);
  EXPECT_THAT(trouble_reading(folder.path()), HasSubstr("a part that it does not name"));
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
  // They show no card: measured, and told so.
  for (const char* name : {"pad.png", "rim.png", "out.png", "in.png", "pile_1.png", "pile_2.png"})
    folder.file(name, sample_photo_png() + name);
  Record record(folder / "record.sqlite");
  const JobSummary job =
      summarise_job(record, enter_demo_job(record, read_demo_job(folder.path()))).value();
  EXPECT_EQ(job.vehicle.name, "Cart");
  EXPECT_EQ(job.sheet->how_checked, "calliper");
  ASSERT_THAT(job.parts, SizeIs(2));
  ASSERT_THAT(job.parts[0].photos, SizeIs(3));
  ASSERT_TRUE(job.parts[0].photos[0].newest);
  EXPECT_EQ(job.parts[0].photos[0].newest->options.part_offset.offset_mm, 0.3);
  EXPECT_EQ(job.parts[0].photos[0].newest->options.sheet_scale.y, 0.998);
  EXPECT_EQ(job.parts[0].photos[1].photo.view, View::pile);
  const MeasurementEntry pile = job.parts[0].photos[1].newest.value();
  EXPECT_EQ(pile.measurement.checks.at(0).id, kPlanesUnsolved) << "it is solved with others";
  EXPECT_EQ(pile.options.part_offset.offset_mm, 0.26) << "the card's thickness";
  EXPECT_EQ(job.parts[0].standing, PartStanding::photo_unusable);
  EXPECT_THAT(job.parts[0].because, SizeIs(2));
  EXPECT_EQ(job.parts[1].part.disc_diameter_mm, 284);
  ASSERT_THAT(job.parts[1].photos, SizeIs(3));
  EXPECT_EQ(job.parts[1].photos[1].photo.face, DiscFace::outboard);
  EXPECT_EQ(job.parts[1].photos[1].newest->options.disc_diameter_mm, 284);
  for (const PartSummary& part : job.parts)
    for (const PhotoFinding& finding : part.photos)
      EXPECT_FALSE(is_due(finding, part.part)) << finding.photo.original_name << " once is enough";
}

TEST_F(DemoJobTest, EntersAllOrNothing) {
  folder.file("job.json", kJob);
  folder.file("truth.json", kTruth);
  for (const char* name : {"pad.png", "rim.png", "out.png", "in.png", "pile_1.png", "pile_2.png"})
    folder.file(name, sample_photo_png() + name);
  Record record(folder / "record.sqlite");
  DemoJob demo = read_demo_job(folder.path());
  demo.parts.back().part.disc_diameter_mm = 3000;  // refused when it is the last part's turn
  EXPECT_THROW(enter_demo_job(record, demo), RecordError);
  EXPECT_THAT(record.jobs(), IsEmpty());
  EXPECT_THAT(record.vehicles(), IsEmpty());
}

DemoJob the_demo() {
  return read_demo_job(std::filesystem::path(SCANTLING_SOURCE_DIR) / "assets/demo");
}

TEST(TheDemo, IsAWholeAxleAndInvented) {
  const DemoJob demo = the_demo();
  EXPECT_THAT(demo.vehicle.owner, HasSubstr("invented"));
  EXPECT_THAT(demo.parts, SizeIs(6));
  for (const DemoPart& part : demo.parts) {
    const bool pad = part.part.kind == PartKind::pad;
    for (const DemoPhoto& photo : part.photos)
      EXPECT_TRUE(std::filesystem::exists(photo.file)) << photo.file;
    EXPECT_GE(part.photos.size(), pad ? 1u : 5u);
    EXPECT_TRUE(part.truth.of(pad ? "friction_thickness" : "worn_thickness"));
  }
}

// Two photos of a lip are worth more than one only where they are read together.
TEST(TheDemo, ReadsTheLipsOfADiscTogether) {
  DemoJob demo = the_demo();
  std::erase_if(demo.parts, [](const DemoPart& p) {
    return p.part.kind != PartKind::disc || p.part.side != Side::left;
  });
  const TemporaryFolder folder;
  Record record(folder / "record.sqlite");
  const JobSummary job = summarise_job(record, enter_demo_job(record, demo)).value();
  ASSERT_THAT(job.parts, SizeIs(1));
  int lips = 0;
  for (const PhotoFinding& finding : job.parts[0].photos) {
    if (from_planes(finding.photo.view)) continue;  // solved as a set, later
    ASSERT_TRUE(finding.newest) << finding.photo.original_name;
    lips += finding.photo.view == View::lip;
    EXPECT_THAT(finding.newest->read_with, SizeIs(finding.photo.view == View::lip ? 1 : 0));
    nlohmann::ordered_json recorded = measurement_to_json(finding.newest->measurement),
                           again = measurement_to_json(measure_again(record, *finding.newest));
    recorded.erase("timing_ms");
    again.erase("timing_ms");
    EXPECT_EQ(again, recorded) << finding.photo.original_name;
  }
  EXPECT_EQ(lips, 4);
}

}  // namespace
}  // namespace scantling
