// A measurement can be done again from the record alone and gives the same result.
#include "report/redo.h"

#include <gmock/gmock.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "camera/camera_profile_file.h"
#include "camera/camera_shelf.h"
#include "dimension/measurement_json.h"
#include "photo/photo.h"
#include "record/record_error.h"
#include "report/demo_job.h"
#include "report/drawn_size.h"
#include "report/measure_photos.h"
#include "report/summary.h"
#include "support/temporary_folder.h"
#include "unit/camera/sample_profile.h"

namespace scantling {
namespace {

namespace fs = std::filesystem;
using ::testing::HasSubstr;

/// What was measured, without how long it took.
nlohmann::ordered_json said(const Measurement& measurement) {
  nlohmann::ordered_json json = measurement_to_json(measurement);
  json.erase("timing_ms");
  return json;
}

struct Redo : ::testing::Test {
  TemporaryFolder folder;
  Record record{folder / "record.sqlite"};
  PhotoEntry photo = enter_one_photo();

  /// A demo photo, measured, then one edge moved; the user's own file is gone afterwards.
  PhotoEntry enter_one_photo() {
    const DemoJob demo = read_demo_job(fs::path(SCANTLING_SOURCE_DIR) / "assets/demo");
    const fs::path own = folder / "own.jpg";
    fs::copy_file(demo.parts[0].photos.at(0).file, own);
    Job job = demo.job;
    job.vehicle_id = record.add_vehicle(demo.vehicle);
    job.sheet_id = record.add_sheet(demo.sheet);
    Part part = demo.parts[0].part;
    part.job_id = record.add_job(job);
    const PhotoEntry entry = record.add_photo(record.add_part(part), View::pad, own);
    MeasurementEntry found;
    found.photo_id = entry.id;
    found.options.sheet_scale = demo.sheet.scale;
    found.options.part_offset = demo.parts[0].offset;
    const Analysis analysis = Analysis::run(own, found.options);
    found.measurement = analysis.measurement();
    record.add_measurement(found);
    const MeasuredEdge& edge = *found.measurement.edge("friction_outer");
    MeasurementEntry moved = found;
    const Point_px a = edge.points_px.front(), b = edge.points_px.back();
    moved.moved_edges = {{"friction_outer", {{a.x, a.y + 1.5}, {b.x, b.y + 1.5}}}};
    moved.measurement = analysis.with_edges(moved.moved_edges);
    record.add_measurement(moved);
    fs::remove(own);
    return entry;
  }
};

TEST_F(Redo, GivesTheSameFromTheRecordAlone) {
  Record opened(folder / "record.sqlite");
  const auto entries = opened.measurements(photo.id);
  ASSERT_EQ(entries.size(), 2u);
  for (const MeasurementEntry& entry : entries) {
    ASSERT_FALSE(entry.measurement.dimensions.empty());
    EXPECT_EQ(said(measure_again(opened, entry)), said(entry.measurement));
  }
  EXPECT_NE(said(entries[0].measurement), said(entries[1].measurement)) << "the move is in it";
}

// The profile was on the shelf then; it need not be any more.
TEST_F(Redo, UsesTheCameraProfileThatServedThen) {
  const Photo picture = load_photo(record.photo_path(photo)).photo.value();
  CameraProfile profile = sample_profile();
  profile.camera = identity_of(picture.tags, {picture.width_px(), picture.height_px()},
                               picture.exif_orientation);
  profile.model.focal_px = 3040;
  auto shelf = std::make_shared<CameraShelf>();
  shelf->profiles = {profile};
  PhotoToMeasure item{photo, record.photo_path(photo),
                      record.newest_measurement(photo.id)->options};
  item.options.cameras = shelf;
  record.add_measurement(entry_of(measure_photos({item}).at(0)));

  Record opened(folder / "record.sqlite");
  const MeasurementEntry entry = opened.newest_measurement(photo.id).value();
  EXPECT_EQ(entry.camera_profile, profile_to_text(profile));
  EXPECT_EQ(said(measure_again(opened, entry)), said(entry.measurement));
  MeasurementEntry without = entry;
  without.camera_profile.clear();
  EXPECT_NE(said(measure_again(opened, without)), said(entry.measurement)) << "it has a say";
  MeasurementEntry broken = entry;
  broken.camera_profile = "{}";
  EXPECT_THROW(measure_again(opened, broken), RecordError);
}

TEST_F(Redo, DrawsTheGoverningSizeFromTheRecordAlone) {
  record.set_confirmations(photo.id, {{photo.id, "plate_outer", "Sam", ""},
                                      {photo.id, "plate_friction", "Sam", ""},
                                      {photo.id, "friction_outer", "Sam", ""}});
  for (const bool at_a_station : {false, true}) {
    // Far above its minimum the pad's middle counts, near it the thin end.
    Part part = record.part(photo.part_id).value();
    part.minimum_mm = at_a_station ? 2.0 : 1.0;
    record.update_part(part);
    const PartSummary pad = summarise_part(record, part);
    ASSERT_TRUE(pad.size);
    ASSERT_EQ(pad.size->at_mm.has_value(), at_a_station);
    const double stated_mm = 2 * pad.size->quantity.expanded_95_mm();
    const ChainCheck check = draw_size(record, pad).value();
    const double drawn_mm = check.first_order_95.high - check.first_order_95.low;
    // A station states the fewer degrees of freedom of middle and slope, so a little more.
    EXPECT_LE(drawn_mm, stated_mm + 1e-6);
    EXPECT_GE(drawn_mm, at_a_station ? 0.97 * stated_mm : stated_mm - 1e-6);
    const double u_mm = pad.size->quantity.standard_uncertainty_mm;
    EXPECT_NEAR(check.drawn.standard_uncertainty, u_mm, 0.15 * u_mm);
  }
  EXPECT_FALSE(draw_size(record, PartSummary{})) << "no size, nothing to draw";
}

TEST_F(Redo, SaysWhyItCannot) {
  MeasurementEntry entry = record.newest_measurement(photo.id).value();
  MeasurementEntry older = entry;
  older.card_definition = "{}";
  EXPECT_THROW(measure_again(record, older), RecordError);
  std::ofstream(record.photo_path(photo)) << "other";
  try {
    measure_again(record, entry);
    FAIL();
  } catch (const RecordError& error) {
    EXPECT_THAT(error.what(), HasSubstr("missing or was altered"));
  }
}

}  // namespace
}  // namespace scantling
