// What can be read of a damaged record is saved, and the damaged one stays as it was.
#include "record/rescue.h"

#include <SQLiteCpp/SQLiteCpp.h>
#include <gmock/gmock.h>

#include <algorithm>
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

constexpr int kJobs = 120;

struct RescueTest : ::testing::Test {
  TemporaryFolder folder;
  fs::path path = folder / "record.sqlite";
  fs::path saved = folder / "saved.sqlite";
  std::string photo_sha256;

  RescueTest() {
    Record record(path);
    for (int i = 0; i < kJobs; ++i) {
      const SampleJob ids = add_sample_job(record);
      const PhotoEntry photo =
          record.add_photo(ids.pad, View::pad, folder.file("p.jpg", "photo " + std::to_string(i)));
      record.add_measurement(sample_entry(photo.id));
      photo_sha256 = photo.sha256;
    }
  }

  /// The pages on which a table lies, the first one (its root) left out.
  std::vector<int> leaves_of(const char* table) const {
    SQLite::Database database(path.string());
    SQLite::Statement pages(database,
                            "SELECT pageno FROM dbstat WHERE name = ? AND pagetype = 'leaf' "
                            "ORDER BY pageno");
    pages.bind(1, table);
    std::vector<int> list;
    while (pages.executeStep()) list.push_back(pages.getColumn(0).getInt());
    return list;
  }
  void spoil(int page) const {
    std::string bytes = bytes_of(path);
    const std::size_t begin = static_cast<std::size_t>(page - 1) * 4096;
    ASSERT_LE(begin + 4096, bytes.size());
    for (std::size_t i = 0; i < 4096; ++i) bytes[begin + i] = static_cast<char>(i * 31 + 7);
    std::ofstream(path, std::ios::binary) << bytes;
  }
  static const Rescue::Table& of(const Rescue& rescue, const char* table) {
    return *std::find_if(rescue.tables.begin(), rescue.tables.end(),
                         [&](const Rescue::Table& t) { return t.name == table; });
  }
};

TEST_F(RescueTest, AWholeRecordIsSavedWhole) {
  const Rescue rescue = rescue_record(path, saved);
  EXPECT_EQ(rescue.stand_ins, 0u);
  EXPECT_EQ(rescue.photos_missing, 0u);
  EXPECT_EQ(rescue.photos_saved, static_cast<std::size_t>(kJobs));
  for (const Rescue::Table& table : rescue.tables) {
    EXPECT_TRUE(table.whole) << table.name;
    EXPECT_EQ(table.lost, 0u) << table.name;
  }
  Record before(path), after(saved);
  ASSERT_THAT(after.jobs(), SizeIs(kJobs));
  for (const Job& job : before.jobs()) {
    const Part part = before.parts(job.id).at(0);
    const PhotoEntry photo = after.photos(part.id).at(0);
    EXPECT_TRUE(after.photo_intact(photo));
    EXPECT_EQ(after.newest_measurement(photo.id)->measurement.dimensions.at(0).quantity.value_mm,
              5.02);
  }
}

TEST_F(RescueTest, ABrokenPageCostsOnlyWhatLiesOnIt) {
  const std::vector<int> leaves = leaves_of("measurement");
  ASSERT_GT(leaves.size(), 10u);
  spoil(leaves[leaves.size() / 2]);
  const std::string damaged = bytes_of(path);
  EXPECT_THROW(Record{path}, DamagedRecord);
  const Rescue rescue = rescue_record(path, saved);
  EXPECT_EQ(bytes_of(path), damaged) << "the damaged record is only read";
  EXPECT_FALSE(of(rescue, "measurement").whole);
  EXPECT_LT(of(rescue, "measurement").saved, static_cast<std::size_t>(kJobs));
  EXPECT_GE(of(rescue, "measurement").saved, static_cast<std::size_t>(kJobs) - 8);
  EXPECT_EQ(of(rescue, "job").saved, static_cast<std::size_t>(kJobs));
  EXPECT_THAT(rescue_words(rescue), HasSubstr("could not be read: measurement"));
  Record record(saved);
  EXPECT_THAT(record.jobs(), SizeIs(kJobs));
  SQLite::Database raw(saved.string());
  EXPECT_EQ(raw.execAndGet("PRAGMA integrity_check").getString(), "ok");
  EXPECT_FALSE(SQLite::Statement(raw, "PRAGMA foreign_key_check").executeStep());
}

TEST_F(RescueTest, WhatHangsOnALostJobIsKeptUnderAStandIn) {
  const std::vector<int> leaves = leaves_of("job");
  ASSERT_GE(leaves.size(), 2u);
  spoil(leaves.front());
  const Rescue rescue = rescue_record(path, saved);
  EXPECT_LT(of(rescue, "job").saved, static_cast<std::size_t>(kJobs));
  EXPECT_GT(rescue.stand_ins, 0u);
  EXPECT_EQ(of(rescue, "measurement").saved, static_cast<std::size_t>(kJobs));
  Record record(saved);
  EXPECT_THAT(record.jobs(), SizeIs(kJobs));
  EXPECT_THAT(record.find_jobs("recovered"), SizeIs(kJobs - of(rescue, "job").saved));
  for (const Job& job : record.jobs()) EXPECT_THAT(record.parts(job.id), SizeIs(1));
}

TEST_F(RescueTest, AMissingPhotoIsCounted) {
  fs::remove(folder / ("record.sqlite.photos/" + photo_sha256));
  const Rescue rescue = rescue_record(path, saved);
  EXPECT_EQ(rescue.photos_missing, 1u);
  EXPECT_EQ(rescue.photos_saved, static_cast<std::size_t>(kJobs) - 1);
  EXPECT_THAT(rescue_words(rescue), HasSubstr("1 photos are missing"));
}

TEST_F(RescueTest, WhereNothingCanBeReadTheCopyIsNamed) {
  const fs::path backup = Record(path).back_up();
  std::ofstream(path, std::ios::binary) << std::string(200'000, 'x');
  try {
    rescue_record(path, saved);
    FAIL();
  } catch (const RecordError& error) {
    EXPECT_THAT(error.what(), HasSubstr("Nothing can be read"));
    EXPECT_THAT(error.what(), HasSubstr(backup.filename().string()));
  }
  EXPECT_FALSE(fs::exists(saved)) << "no empty record is left behind";
  EXPECT_EQ(newest_backup(path).filename(), backup.filename());
}

TEST_F(RescueTest, NothingIsWrittenOver) {
  folder.file("saved.sqlite", "mine");
  EXPECT_THROW(rescue_record(path, saved), RecordError);
  EXPECT_EQ(bytes_of(saved), "mine");
  EXPECT_THROW(rescue_record(folder / "none.sqlite", folder / "other.sqlite"), RecordError);
  EXPECT_FALSE(fs::exists(folder / "other.sqlite"));
}

}  // namespace
}  // namespace scantling
