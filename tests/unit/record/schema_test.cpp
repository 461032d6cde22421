#include "record/schema.h"

#include <SQLiteCpp/SQLiteCpp.h>
#include <gmock/gmock.h>

#include <fstream>
#include <iterator>

#include "record/record.h"
#include "record/record_error.h"
#include "support/temporary_folder.h"
#include "unit/record/sample_record.h"

namespace scantling {
namespace {

namespace fs = std::filesystem;
using ::testing::HasSubstr;
using ::testing::SizeIs;

std::string bytes_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

std::vector<fs::path> backups_in(const fs::path& folder) {
  std::vector<fs::path> found;
  for (const auto& entry : fs::directory_iterator(folder))
    if (entry.path().extension() == ".backup") found.push_back(entry.path());
  return found;
}

/// The record's own steps and one that a later version might bring.
std::vector<Migration> steps_with(const char* sql) {
  std::vector<Migration> steps(migrations().begin(), migrations().end());
  steps.push_back({steps.back().to_version + 1, sql});
  return steps;
}

SQLite::Database raw(const fs::path& path) {
  return {path.string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE};
}

struct SchemaTest : ::testing::Test {
  TemporaryFolder folder;
  fs::path path = folder / "record.sqlite";
};

TEST_F(SchemaTest, StepsAreInOrderFromOne) {
  int expected = 0;
  for (const Migration& step : migrations()) EXPECT_EQ(step.to_version, ++expected);
  EXPECT_EQ(Record(path).schema_version(), expected);
  EXPECT_THAT(backups_in(folder.path()), SizeIs(0)) << "a new record needs no backup";
}

TEST_F(SchemaTest, AStepKeepsTheDataAndLeavesADatedCopyOfBefore) {
  add_sample_job(*std::make_unique<Record>(path));
  const auto steps = steps_with("ALTER TABLE vehicle ADD COLUMN colour TEXT NOT NULL DEFAULT ''");
  SQLite::Database database = raw(path);
  bring_up_to_date(database, path, steps);
  EXPECT_EQ(database.execAndGet("PRAGMA user_version").getInt(), steps.back().to_version);
  EXPECT_EQ(database.execAndGet("SELECT owner || colour FROM vehicle").getString(),
            "Ása Þórsdóttir");
  const auto copies = backups_in(folder.path());
  ASSERT_THAT(copies, SizeIs(1));
  EXPECT_THAT(copies[0].filename().string(),
              ::testing::MatchesRegex("record.sqlite.version-[0-9]+.........T......Z.backup"));
  EXPECT_THAT(Record(copies[0]).vehicles(), SizeIs(1)) << "the copy opens as a record itself";
  bring_up_to_date(database, path, steps);
  EXPECT_THAT(backups_in(folder.path()), SizeIs(1)) << "nothing to do the second time";
}

TEST_F(SchemaTest, AStepThatFailsHalfWayIsUndoneWhole) {
  add_sample_job(*std::make_unique<Record>(path));
  SQLite::Database database = raw(path);
  EXPECT_THROW(bring_up_to_date(database, path,
                                steps_with("ALTER TABLE vehicle ADD COLUMN colour TEXT;"
                                           "INSERT INTO no_such_table VALUES (1)")),
               SQLite::Exception);
  Record record(path);
  EXPECT_EQ(record.schema_version(), migrations().back().to_version);
  EXPECT_THAT(record.vehicles(), SizeIs(1));
  EXPECT_THROW(database.execAndGet("SELECT colour FROM vehicle"), SQLite::Exception);
}

TEST_F(SchemaTest, ARecordOfANewerProgramIsLeftAlone) {
  { Record record(path); }
  {
    SQLite::Database database = raw(path);
    database.exec("PRAGMA user_version = 4711");
  }
  const std::string before = bytes_of(path);
  try {
    Record record(path);
    FAIL();
  } catch (const RecordError& error) {
    EXPECT_THAT(error.what(), HasSubstr("newer Scantling"));
    EXPECT_THAT(error.what(), HasSubstr("4711"));
  }
  EXPECT_EQ(bytes_of(path), before);
}

TEST_F(SchemaTest, ADatabaseOfAnotherProgramIsLeftAlone) {
  raw(path).exec("CREATE TABLE song (title TEXT)");
  const std::string before = bytes_of(path);
  try {
    Record record(path);
    FAIL();
  } catch (const RecordError& error) {
    EXPECT_THAT(error.what(), HasSubstr("another program"));
  }
  EXPECT_EQ(bytes_of(path), before);
}

TEST_F(SchemaTest, ChangedRowsAreKeptAsTheyWere) {
  Record record(path);
  const SampleJob ids = add_sample_job(record);
  Part part = record.part(ids.pad).value();
  part.minimum_mm = 3.0;
  record.update_part(part);
  SQLite::Database database = raw(path);
  SQLite::Statement row(database,
                        "SELECT row_id, before ->> 'minimum_mm' FROM history "
                        "WHERE changed_table = 'part'");
  ASSERT_TRUE(row.executeStep());
  EXPECT_EQ(row.getColumn(0).getInt64(), ids.pad);
  EXPECT_EQ(row.getColumn(1).getDouble(), 2.0);
}

// The fixture was written by the first version; every later one must read it.
TEST_F(SchemaTest, ARecordOfVersionOneOpensWithAllItHolds) {
  fs::copy(fs::path(SCANTLING_SOURCE_DIR) / "tests/data/record", folder.path(),
           fs::copy_options::recursive);
  Record record(folder / "version_1.sqlite");
  const Job job = record.jobs().at(0);
  EXPECT_EQ(job.date, "2026-11-21");
  EXPECT_EQ(job.odometer_km, 81250.5);
  EXPECT_EQ(job.next_check_km, std::nullopt);
  EXPECT_EQ(job.next_check_date, "");
  EXPECT_THAT(backups_in(folder.path()), SizeIs(1)) << "a copy of before is kept";
  EXPECT_EQ(record.vehicle(job.vehicle_id)->owner, "Ása Þórsdóttir");
  const Part part = record.parts(job.id).at(0);
  EXPECT_EQ(part.minimum_origin, "workshop manual");
  const PhotoEntry photo = record.photos(part.id).at(0);
  EXPECT_TRUE(record.photo_intact(photo));
  EXPECT_EQ(record.sheet_for(photo)->scale.x, 0.9975);
  const MeasurementEntry entry = record.newest_measurement(photo.id).value();
  EXPECT_EQ(entry.measurement.dimension("friction_thickness")->quantity.value_mm, 5.02);
  EXPECT_EQ(entry.moved_edges.at(0).segment.a.x, 100.25);
  EXPECT_EQ(record.confirmations(photo.id).at(0).confirmed_by, "Ása");
  EXPECT_EQ(record.hand_readings(part.id).at(0).as_typed, "4,98");
  // What came with later versions is there and empty.
  EXPECT_FALSE(job.next_check_km);
  EXPECT_FALSE(photo.camera_id);
  EXPECT_FALSE(record.hand_readings(part.id).at(0).clock);
  EXPECT_THAT(record.verdicts(part.id), SizeIs(0));
  EXPECT_FALSE(record.work(job.id));
  const auto copies = backups_in(folder.path());
  ASSERT_THAT(copies, SizeIs(1));
  EXPECT_THAT(copies[0].filename().string(), HasSubstr(".version-1."));
  EXPECT_EQ(SQLite::Database(copies[0].string()).execAndGet("PRAGMA user_version").getInt(), 1);
  SQLite::Database now = raw(folder / "version_1.sqlite");
  EXPECT_EQ(now.execAndGet("PRAGMA integrity_check").getString(), "ok");
  EXPECT_FALSE(SQLite::Statement(now, "PRAGMA foreign_key_check").executeStep());
  // Later rows hang on the rebuilt table as before.
  MeasurementEntry again = entry;
  again.engine_version.clear();
  EXPECT_GT(record.add_measurement(again), entry.id);
}

// Written by the second version: what it added survives the rebuilding of the photos' table.
TEST_F(SchemaTest, ARecordOfVersionTwoOpensWithAllItHolds) {
  fs::copy(fs::path(SCANTLING_SOURCE_DIR) / "tests/data/record", folder.path(),
           fs::copy_options::recursive);
  Record record(folder / "version_2.sqlite");
  const Job job = record.jobs().at(0);
  EXPECT_EQ(job.next_check_km, 90000.0);
  EXPECT_EQ(job.next_check_date, "2027-06-01");
  const Part disc = record.parts(job.id).at(1);
  EXPECT_EQ(disc.kind, PartKind::disc);
  EXPECT_EQ(disc.disc_diameter_mm, 283.0);
  const PhotoEntry photo = record.photos(disc.id).at(0);
  EXPECT_EQ(photo.view, View::lip);
  EXPECT_EQ(photo.face, DiscFace::inboard);
  EXPECT_TRUE(record.photo_intact(photo));
  SQLite::Database now = raw(folder / "version_2.sqlite");
  EXPECT_EQ(now.execAndGet("PRAGMA integrity_check").getString(), "ok");
  EXPECT_FALSE(SQLite::Statement(now, "PRAGMA foreign_key_check").executeStep());
}

// Every version's tables are the same whether a record began with it or came to
// it by steps.
TEST_F(SchemaTest, AMigratedRecordHasTheTablesOfANewOne) {
  fs::copy(fs::path(SCANTLING_SOURCE_DIR) / "tests/data/record", folder.path(),
           fs::copy_options::recursive);
  for (const char* name : {"version_1.sqlite", "version_2.sqlite"}) Record(folder / name);
  { Record fresh(path); }
  const auto tables = [](const fs::path& file) {
    SQLite::Database database = raw(file);
    SQLite::Statement rows(database,
                           "SELECT type || ' ' || name || ' ' || coalesce (sql, '') FROM "
                           "sqlite_master ORDER BY 1");
    std::vector<std::string> list;
    while (rows.executeStep()) list.push_back(rows.getColumn(0).getString());
    return list;
  };
  for (const char* name : {"version_1.sqlite", "version_2.sqlite"})
    EXPECT_EQ(tables(folder / name), tables(path)) << name;
}

}  // namespace
}  // namespace scantling
