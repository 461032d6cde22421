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

}  // namespace
}  // namespace scantling
