// What the user is told when the disk or the file refuses; nothing saved before may be lost.
#include <SQLiteCpp/SQLiteCpp.h>
#include <gmock/gmock.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <fstream>
#include <iterator>
#include <thread>

#include "record/record.h"
#include "record/record_error.h"
#include "support/temporary_folder.h"
#include "unit/record/sample_record.h"

namespace scantling {
namespace {

namespace fs = std::filesystem;
using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::SizeIs;

std::string trouble_opening(const fs::path& path) {
  try {
    Record record(path);
    return "opened";
  } catch (const RecordError& error) {
    return error.what();
  }
}

std::string bytes_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

struct RecordTrouble : ::testing::Test {
  TemporaryFolder folder;
  fs::path path = folder / "record.sqlite";
};

TEST_F(RecordTrouble, PlacesThatCannotHoldARecordAreTold) {
  EXPECT_THAT(trouble_opening(""), HasSubstr("give a file"));
  EXPECT_THAT(trouble_opening(folder.path()), HasSubstr("is a folder: give a file"));
  EXPECT_THAT(trouble_opening("/dev/null"), HasSubstr("not a plain file"));
  EXPECT_THAT(trouble_opening("/proc/scantling/record.sqlite"),
              AllOf(HasSubstr("Could not make the folder /proc/scantling"), HasSubstr(". ")));
  folder.file("file", "x");
  EXPECT_THAT(trouble_opening(folder / "file/record.sqlite"),
              HasSubstr("A file stands where a folder is needed"));
  EXPECT_EQ(bytes_of(folder / "file"), "x");
}

TEST_F(RecordTrouble, AFileThatIsNoDatabaseIsToldAndKept) {
  const std::string letter(5000, 'A');
  EXPECT_THAT(trouble_opening(folder.file("letter.txt", letter)),
              HasSubstr("is not a job record. Choose another file"));
  EXPECT_EQ(bytes_of(folder / "letter.txt"), letter);
}

TEST_F(RecordTrouble, AnEmptyFileBecomesARecord) {
  EXPECT_EQ(trouble_opening(folder.file("new.sqlite", "")), "opened");
}

TEST_F(RecordTrouble, ADamagedRecordIsToldAndKept) {
  {
    Record record(path);
    for (int i = 0; i < 50; ++i) add_sample_job(record);
  }
  std::string bytes = bytes_of(path);
  ASSERT_GT(bytes.size(), 40000u);
  for (std::size_t i = 8192; i < 40000; ++i) bytes[i] = static_cast<char>(i * 31);
  std::ofstream(path, std::ios::binary) << bytes;
  EXPECT_THAT(trouble_opening(path), HasSubstr("is damaged. Keep the file as it is"));
  EXPECT_EQ(bytes_of(path), bytes);
}

TEST_F(RecordTrouble, ATruncatedRecordIsTold) {
  {
    Record record(path);
    for (int i = 0; i < 50; ++i) add_sample_job(record);
  }
  fs::resize_file(path, fs::file_size(path) / 2);
  EXPECT_THAT(trouble_opening(path), HasSubstr("is damaged"));
}

TEST_F(RecordTrouble, ALockedRecordIsToldAndGoesOnAfterwards) {
  Record record(path);
  SQLite::Database other(path.string(), SQLite::OPEN_READWRITE);
  {
    SQLite::Transaction lock(other, SQLite::TransactionBehavior::IMMEDIATE);
    try {
      add_sample_job(record);
      FAIL();
    } catch (const RecordError& error) {
      EXPECT_THAT(error.what(), HasSubstr("another program holds the record"));
    }
    EXPECT_THAT(record.vehicles(), SizeIs(0)) << "reading goes on while another writes";
  }
  add_sample_job(record);
  EXPECT_THAT(record.vehicles(), SizeIs(1));
}

TEST_F(RecordTrouble, AShortLockIsWaitedFor) {
  Record record(path);
  std::thread other([this] {
    SQLite::Database database(path.string(), SQLite::OPEN_READWRITE);
    SQLite::Transaction lock(database, SQLite::TransactionBehavior::IMMEDIATE);
    std::this_thread::sleep_for(std::chrono::milliseconds(300));
  });
  std::this_thread::sleep_for(std::chrono::milliseconds(100));
  EXPECT_NO_THROW(add_sample_job(record));
  other.join();
}

/// Runs `work` in a child that may write no file beyond `bytes`; true when it went as expected.
template <class Function>
bool with_file_limit(rlim_t bytes, Function work) {
  const pid_t child = ::fork();
  if (child == 0) {
    std::signal(SIGXFSZ, SIG_IGN);
    const rlimit limit{bytes, bytes};
    ::setrlimit(RLIMIT_FSIZE, &limit);
    ::_exit(work() ? 0 : 1);
  }
  int status = 0;
  ::waitpid(child, &status, 0);
  return WIFEXITED(status) && WEXITSTATUS(status) == 0;
}

TEST_F(RecordTrouble, AFullDiskIsToldAndLosesNothing) {
  { add_sample_job(*std::make_unique<Record>(path)); }
  const std::string photo(3 << 20, 'p');
  const fs::path photo_file = folder.file("big.jpg", photo);
  EXPECT_TRUE(with_file_limit(1 << 20, [&] {
    Record record(path);
    Vehicle vehicle;
    vehicle.name = std::string(100'000, 'n');
    int saved = 0;
    bool told = false;
    for (int i = 0; i < 100 && !told; ++i) try {
        record.add_vehicle(vehicle);
        ++saved;
      } catch (const RecordError& error) {
        told = std::string(error.what()).find("full") != std::string::npos;
      }
    bool photo_told = false;
    try {
      record.add_photo(1, View::pad, photo_file);
    } catch (const RecordError& error) {
      photo_told = std::string(error.what()).find("The disk is full") != std::string::npos;
    }
    return told && photo_told && saved > 0 && static_cast<int>(record.vehicles().size()) > saved;
  }));
  Record record(path);
  EXPECT_GE(record.vehicles().size(), 2u);
  EXPECT_EQ(record.jobs().size(), 1u);
  EXPECT_TRUE(record.photos(1).empty());
  EXPECT_TRUE(fs::is_empty(folder / "record.sqlite.photos")) << "no half photo stays";
}

/// Runs `work` in a child that has no more rights than any other user: root may write everywhere.
template <class Function>
bool as_another_user(Function work) {
  constexpr uid_t kNobody = 65534;
  const pid_t child = ::fork();
  if (child == 0) {
    if (::geteuid() == 0 && (::setgid(kNobody) != 0 || ::setuid(kNobody) != 0)) ::_exit(2);
    ::_exit(work() ? 0 : 1);
  }
  int status = 0;
  ::waitpid(child, &status, 0);
  return WIFEXITED(status) && WEXITSTATUS(status) == 0;
}

void set_rights(const fs::path& path, fs::perms files, fs::perms folders) {
  for (const auto& entry : fs::recursive_directory_iterator(path))
    fs::permissions(entry.path(), entry.is_directory() ? folders : files);
  fs::permissions(path, folders);
}

constexpr fs::perms kAllRead =
    fs::perms::owner_read | fs::perms::group_read | fs::perms::others_read;
constexpr fs::perms kAllEnter =
    kAllRead | fs::perms::owner_exec | fs::perms::group_exec | fs::perms::others_exec;

TEST_F(RecordTrouble, AReadOnlyFolderIsToldAndKept) {
  { add_sample_job(*std::make_unique<Record>(path)); }
  const std::string before = bytes_of(path);
  const fs::path deep = folder / "deep";
  fs::create_directory(deep);
  set_rights(folder.path(), kAllRead, kAllEnter);
  EXPECT_TRUE(as_another_user([&] {
    // Neither a new record nor the one that is there, nor a folder for one.
    const std::string fresh = trouble_opening(folder / "new.sqlite");
    const std::string known = trouble_opening(path);
    const std::string below = trouble_opening(deep / "more/new.sqlite");
    std::fprintf(stderr, "%s\n%s\n%s\n", fresh.c_str(), known.c_str(), below.c_str());
    return fresh.find("You may not write there: choose another folder") != std::string::npos &&
           known.find("You may not write there: choose another folder") != std::string::npos &&
           below.find("Could not make the folder") != std::string::npos;
  }));
  set_rights(folder.path(), fs::perms::owner_read | fs::perms::owner_write, fs::perms::owner_all);
  EXPECT_EQ(bytes_of(path), before);
  EXPECT_THAT(Record(path).jobs(), SizeIs(1));
}

TEST_F(RecordTrouble, APhotoFolderThatBecameReadOnlyTakesNoHalfPhoto) {
  const fs::path photo_file = folder.file("photo.jpg", "a photo");
  set_rights(folder.path(), kAllRead, fs::perms::all);
  EXPECT_TRUE(as_another_user([&] {
    Record record(path);
    const std::int64_t pad = add_sample_job(record).pad;
    const PhotoEntry first = record.add_photo(pad, View::pad, photo_file);
    const fs::path store = folder / "record.sqlite.photos";
    fs::permissions(store, kAllEnter);
    std::ofstream(folder / "other.jpg") << "another photo";
    bool told = false;
    try {
      record.add_photo(pad, View::pad, folder / "other.jpg");
    } catch (const RecordError& error) {
      told = std::string(error.what()).find("You may not write there") != std::string::npos;
    }
    const bool kept = record.photos(pad).size() == 1 && record.photo_intact(first);
    fs::permissions(store, fs::perms::owner_all);
    record.add_photo(pad, View::pad, folder / "other.jpg");
    return told && kept && record.photos(pad).size() == 2;
  }));
}

TEST_F(RecordTrouble, AFullDiskDuringAMigrationLeavesTheOldRecord) {
  fs::copy(fs::path(SCANTLING_SOURCE_DIR) / "tests/data/record", folder.path(),
           fs::copy_options::recursive);
  const fs::path old = folder / "version_1.sqlite";
  const auto version = [&] {
    SQLite::Database raw(old.string());
    return raw.execAndGet("PRAGMA user_version").getInt();
  };
  {
    // Many photos, so that building their table anew needs more room than the file has.
    SQLite::Database raw(old.string(), SQLite::OPEN_READWRITE);
    raw.exec(
        "INSERT INTO photo (part_id, view, sha256, original_name, added_at) WITH RECURSIVE n (i) "
        "AS "
        "(SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 2000) SELECT (SELECT min (id) FROM "
        "part), 'pad', printf ('%064x', i), 'photo.jpg', '2026-11-21T10:00:00Z' FROM n");
  }
  const std::string before = bytes_of(old);
  // Room for the copy of before in the second round only.
  for (const rlim_t room : {rlim_t{8192}, rlim_t{before.size()}}) {
    EXPECT_TRUE(with_file_limit(room, [&] {
      const std::string told = trouble_opening(old);
      std::fprintf(stderr, "%s\n", told.c_str());
      return told.find("full") != std::string::npos;
    })) << room;
    EXPECT_LT(version(), 3) << room << ": a step is taken whole or not at all";
  }
  Record record(old);
  EXPECT_THAT(record.jobs(), SizeIs(1));
  EXPECT_THAT(record.photos(record.parts(record.jobs().at(0).id).at(0).id), SizeIs(2001));
  EXPECT_EQ(record.schema_version(), 3);
}

// A second connection of one program must not take away the locks of the first: another program
// would take itself for the last one and clear the log that the first one still works with.
TEST_F(RecordTrouble, ASecondConnectionKeepsTheFirstOnesLocks) {
  Record first(path);
  add_sample_job(first);
  for (int round = 2; round <= 4; ++round) {
    { Record second(path); }
    const pid_t other = ::fork();
    if (other == 0) {
      try {
        Record record(path);
        const bool whole = record.jobs().size() == static_cast<std::size_t>(round - 1);
        { const Record closed = std::move(record); }
        ::_exit(whole ? 0 : 1);
      } catch (...) {
        ::_exit(2);
      }
    }
    int status = 0;
    ::waitpid(other, &status, 0);
    EXPECT_EQ(status, 0) << "round " << round;
    { Record by_itself(path); }
    add_sample_job(first);
    EXPECT_THAT(first.jobs(), SizeIs(round));
    EXPECT_THAT(Record(path).jobs(), SizeIs(round));
    EXPECT_TRUE(fs::exists(path.string() + "-wal")) << "nobody cleared it meanwhile";
  }
}

TEST_F(RecordTrouble, TwoAtOnceBothWorkAndSeeEachOther) {
  Record mine(path), theirs(path);
  const SampleJob first = add_sample_job(mine);
  EXPECT_THAT(theirs.jobs(), SizeIs(1));
  EXPECT_FALSE(mine.changed_elsewhere());
  add_sample_job(mine);
  EXPECT_FALSE(mine.changed_elsewhere()) << "that was the own change";
  add_sample_job(theirs);
  EXPECT_TRUE(mine.changed_elsewhere());
  EXPECT_FALSE(mine.changed_elsewhere());
  std::thread writer([&] {
    Record third(path);
    for (int i = 0; i < 40; ++i) add_sample_job(third);
  });
  HandReadingEntry reading;
  reading.part_id = first.pad;
  reading.as_typed = "5.0";
  reading.value_mm = 5;
  for (int i = 0; i < 40; ++i) theirs.add_hand_reading(reading);
  writer.join();
  EXPECT_THAT(mine.hand_readings(first.pad), SizeIs(40));
  EXPECT_THAT(mine.jobs(), SizeIs(43));
}

}  // namespace
}  // namespace scantling
