#include <gmock/gmock.h>

#include <fstream>
#include <iterator>

#include "base/version.h"
#include "dimension/measurement_json.h"
#include "record/record.h"
#include "record/record_error.h"
#include "support/temporary_folder.h"
#include "unit/record/sample_record.h"

#include <nlohmann/json.hpp>

namespace scantling {
namespace {

using ::testing::IsEmpty;
using ::testing::SizeIs;

// FIPS 180-4's example message and digest.
constexpr const char* kAbcSha256 =
    "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";

struct RecordPhotos : ::testing::Test {
  TemporaryFolder folder;
  std::filesystem::path path = folder / "record.sqlite";
  Record record{path};
  SampleJob ids = add_sample_job(record);
  std::filesystem::path photo_file = folder.file("Bremse vorn é (1).jpg", "abc");

  std::size_t stored_files() const {
    const std::filesystem::directory_iterator begin(folder / "record.sqlite.photos"), end;
    return static_cast<std::size_t>(std::distance(begin, end));
  }
};

TEST_F(RecordPhotos, StoresAPhotoUnderItsHash) {
  const PhotoEntry photo = record.add_photo(ids.pad, View::pad, photo_file);
  EXPECT_EQ(photo.sha256, kAbcSha256);
  EXPECT_EQ(photo.original_name, "Bremse vorn é (1).jpg");
  EXPECT_EQ(photo.part_id, ids.pad);
  EXPECT_FALSE(photo.sheet_id);
  std::ifstream stored(record.photo_path(photo));
  EXPECT_EQ(std::string(std::istreambuf_iterator<char>(stored), {}), "abc");
  EXPECT_TRUE(record.photo_intact(photo));
  ASSERT_THAT(record.photos(ids.pad), SizeIs(1));
  EXPECT_EQ(record.photo(photo.id)->added_at, photo.added_at);
}

TEST_F(RecordPhotos, SurvivesTheLossOfTheUsersOwnFile) {
  const PhotoEntry photo = record.add_photo(ids.pad, View::pad, photo_file);
  std::filesystem::remove(photo_file);
  EXPECT_TRUE(record.photo_intact(photo));
}

TEST_F(RecordPhotos, StoresTheSameContentOnce) {
  const PhotoEntry first = record.add_photo(ids.pad, View::pad, photo_file);
  const PhotoEntry again = record.add_photo(ids.pad, View::pad, folder.file("copy.jpg", "abc"));
  EXPECT_EQ(again.id, first.id);
  EXPECT_EQ(again.original_name, first.original_name);
  Part other = record.part(ids.pad).value();
  other.place = PadPlace::inner;
  const PhotoEntry elsewhere = record.add_photo(record.add_part(other), View::pad, photo_file);
  EXPECT_NE(elsewhere.id, first.id);
  EXPECT_THAT(record.photos(ids.pad), SizeIs(1));
  EXPECT_EQ(stored_files(), 1u);
}

TEST_F(RecordPhotos, OriginalNameIsNeverAPath) {
  std::filesystem::create_directory(folder / "sub");
  const auto sneaky = folder / "sub/../Bremse vorn é (1).jpg";
  EXPECT_EQ(record.add_photo(ids.pad, View::pad, sneaky).original_name, "Bremse vorn é (1).jpg");
}

TEST_F(RecordPhotos, TellsAMissingOrAlteredFileAndRepairsItFromTheSamePhoto) {
  const PhotoEntry photo = record.add_photo(ids.pad, View::pad, photo_file);
  std::ofstream(record.photo_path(photo)) << "abd";
  EXPECT_FALSE(record.photo_intact(photo));
  std::filesystem::remove(record.photo_path(photo));
  EXPECT_FALSE(record.photo_intact(photo));
  record.add_photo(ids.pad, View::pad, photo_file);
  EXPECT_TRUE(record.photo_intact(photo));
}

TEST_F(RecordPhotos, RemovalKeepsTheFileAndIsTakenBack) {
  const PhotoEntry photo = record.add_photo(ids.pad, View::pad, photo_file);
  record.add_measurement(sample_entry(photo.id));
  record.remove_photo(photo.id);
  EXPECT_THAT(record.photos(ids.pad), IsEmpty());
  EXPECT_FALSE(record.photo(photo.id));
  EXPECT_TRUE(record.photo_intact(photo));
  record.restore_photo(photo.id);
  EXPECT_TRUE(record.newest_measurement(photo.id));
  record.remove_photo(photo.id);
  EXPECT_EQ(record.add_photo(ids.pad, View::pad, photo_file).id, photo.id)
      << "adding it again takes the removal back, with all that was measured";
  EXPECT_THAT(record.photos(ids.pad), SizeIs(1));
}

TEST_F(RecordPhotos, RefusesWhatIsNoPhotoFile) {
  EXPECT_THROW(record.add_photo(ids.pad, View::pad, folder / "none.jpg"), RecordError);
  EXPECT_THROW(record.add_photo(ids.pad, View::pad, folder.path()), RecordError);
  EXPECT_THROW(record.add_photo(ids.pad, View::pad, "/dev/zero"), RecordError);
  EXPECT_THROW(record.add_photo(ids.pad, View::pad, folder.file("empty.jpg", "")), RecordError);
  EXPECT_THROW(record.add_photo(999, View::pad, photo_file), RecordError) << "no such part";
  EXPECT_THAT(record.photos(ids.pad), IsEmpty());
}

TEST_F(RecordPhotos, AFileWhereTheStoresFolderShouldBeIsTold) {
  folder.file("record.sqlite.photos", "in the way");
  EXPECT_THROW(record.add_photo(ids.pad, View::pad, photo_file), RecordError);
  EXPECT_THAT(record.photos(ids.pad), IsEmpty());
}

TEST_F(RecordPhotos, ClearsOldLeftoversOfACrashOnly) {
  record.add_photo(ids.pad, View::pad, photo_file);
  const auto fresh = folder.file("record.sqlite.photos/.incoming-aaaaaa", "half");
  const auto old = folder.file("record.sqlite.photos/.incoming-bbbbbb", "half");
  std::filesystem::last_write_time(
      old, std::filesystem::file_time_type::clock::now() - std::chrono::hours(48));
  Record second(path);
  EXPECT_TRUE(std::filesystem::exists(fresh)) << "another program may be writing it";
  EXPECT_FALSE(std::filesystem::exists(old));
}

TEST_F(RecordPhotos, APhotosSheetIsItsOwnElseItsJobs) {
  PhotoEntry photo = record.add_photo(ids.pad, View::pad, photo_file);
  EXPECT_EQ(record.sheet_for(photo)->id, ids.sheet);
  Sheet other;
  other.name = "letter, office";
  const auto other_id = record.add_sheet(other);
  record.set_photo_sheet(photo.id, other_id);
  photo = record.photo(photo.id).value();
  EXPECT_EQ(photo.sheet_id, other_id);
  EXPECT_EQ(record.sheet_for(photo)->name, "letter, office");
  record.set_photo_sheet(photo.id, std::nullopt);
  Job job = record.job(ids.job).value();
  job.sheet_id.reset();
  record.update_job(job);
  EXPECT_FALSE(record.sheet_for(record.photo(photo.id).value()));
  EXPECT_THROW(record.set_photo_sheet(photo.id, 999), RecordError);
}

TEST_F(RecordPhotos, KeepsMeasurementsWhole) {
  const PhotoEntry photo = record.add_photo(ids.pad, View::pad, photo_file);
  EXPECT_FALSE(record.newest_measurement(photo.id));
  const MeasurementEntry entry = sample_entry(photo.id);
  record.add_measurement(entry);
  const MeasurementEntry kept = Record(path).newest_measurement(photo.id).value();
  EXPECT_EQ(measurement_to_json(kept.measurement), measurement_to_json(entry.measurement));
  EXPECT_EQ(kept.measurement.dimensions[0].quantity.value_mm, 5.02);
  EXPECT_EQ(kept.options.view, View::pad);
  EXPECT_EQ(kept.options.sheet_scale.x, 0.9975);
  EXPECT_EQ(kept.options.sheet_scale.y, 1.0015);
  EXPECT_EQ(kept.options.sheet_scale.standard_uncertainty, 0.0004);
  EXPECT_TRUE(kept.options.sheet_scale.checked);
  EXPECT_EQ(kept.options.part_offset.offset_mm, 1.25);
  EXPECT_EQ(kept.options.part_offset.standard_uncertainty_mm, 0.2);
  ASSERT_THAT(kept.moved_edges, SizeIs(1));
  EXPECT_EQ(kept.moved_edges[0].edge, "friction_outer");
  EXPECT_EQ(kept.moved_edges[0].segment.b.y, 205.125);
  EXPECT_EQ(kept.engine_version, kVersion);
}

TEST_F(RecordPhotos, TheNewestMeasurementCountsAndTheOlderOnesStay) {
  const PhotoEntry photo = record.add_photo(ids.pad, View::pad, photo_file);
  MeasurementEntry entry = sample_entry(photo.id);
  const auto first = record.add_measurement(entry);
  entry.measurement.dimensions[0].quantity.value_mm = 4.75;
  const auto second = record.add_measurement(entry);
  EXPECT_EQ(record.newest_measurement(photo.id)->id, second);
  const auto all = record.measurements(photo.id);
  ASSERT_THAT(all, SizeIs(2));
  EXPECT_EQ(all[0].id, first);
  EXPECT_EQ(all[1].measurement.dimensions[0].quantity.value_mm, 4.75);
}

TEST_F(RecordPhotos, AMeasurementThatFailsHalfWayLeavesNothing) {
  const PhotoEntry photo = record.add_photo(ids.pad, View::pad, photo_file);
  MeasurementEntry entry = sample_entry(photo.id);
  entry.measurement.dimensions.push_back(entry.measurement.dimensions[0]);  // a name twice
  EXPECT_THROW(record.add_measurement(entry), RecordError);
  EXPECT_THAT(record.measurements(photo.id), IsEmpty());
  entry = sample_entry(photo.id);
  entry.measurement.dimensions[0].quantity.value_mm = std::numeric_limits<double>::quiet_NaN();
  EXPECT_THROW(record.add_measurement(entry), RecordError);
  entry = sample_entry(photo.id);
  entry.options.part_offset.offset_mm = std::numeric_limits<double>::infinity();
  EXPECT_THROW(record.add_measurement(entry), RecordError);
  EXPECT_THAT(record.measurements(photo.id), IsEmpty());
}

TEST_F(RecordPhotos, ConfirmationsAreReplacedAndTakenBack) {
  const PhotoEntry photo = record.add_photo(ids.pad, View::pad, photo_file);
  record.set_confirmations(photo.id, {{photo.id, "friction_outer", "Ása", ""},
                                      {photo.id, "plate_outer", "Ása", "2026-11-21T11:00:00Z"}});
  auto kept = record.confirmations(photo.id);
  ASSERT_THAT(kept, SizeIs(2));
  EXPECT_EQ(kept[0].edge, "friction_outer");
  EXPECT_EQ(kept[0].confirmed_by, "Ása");
  EXPECT_FALSE(kept[0].confirmed_at.empty());
  EXPECT_EQ(kept[1].confirmed_at, "2026-11-21T11:00:00Z");
  EXPECT_THROW(
      record.set_confirmations(photo.id, {{photo.id, "a", "", ""}, {photo.id, "a", "", ""}}),
      RecordError);
  EXPECT_THAT(record.confirmations(photo.id), SizeIs(2)) << "a failed change changes nothing";
  record.set_confirmations(photo.id, {});
  EXPECT_THAT(record.confirmations(photo.id), IsEmpty());
}

}  // namespace
}  // namespace scantling
