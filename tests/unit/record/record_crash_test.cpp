// A program killed at any moment loses nothing that it said was saved.
#include <SQLiteCpp/SQLiteCpp.h>
#include <gmock/gmock.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <csignal>
#include <random>
#include <thread>

#include "record/record.h"
#include "support/temporary_folder.h"
#include "unit/record/sample_record.h"

namespace scantling {
namespace {

namespace fs = std::filesystem;

/// What the child reports when a change has been acknowledged.
struct Acknowledged {
  std::int64_t reading = 0;
  std::int64_t photo = 0;
  std::int64_t measurement = 0;
};

[[noreturn]] void write_until_killed(const fs::path& path, std::int64_t pad,
                                     const TemporaryFolder& folder, int pipe, int run) {
  Record record(path);
  for (int i = 0;; ++i) {
    Acknowledged done;
    HandReadingEntry reading;
    reading.part_id = pad;
    reading.as_typed = std::to_string(i);
    reading.value_mm = i % 20;
    done.reading = record.add_hand_reading(reading);
    const std::string content = "photo " + std::to_string(run) + "/" + std::to_string(i);
    done.photo =
        record.add_photo(pad, View::pad, folder.file("p.jpg", content + std::string(70'000, '.')))
            .id;
    done.measurement = record.add_measurement(sample_entry(done.photo));
    if (::write(pipe, &done, sizeof done) != sizeof done) ::_exit(1);
  }
}

std::vector<Acknowledged> killed_after(std::chrono::microseconds delay, const fs::path& path,
                                       std::int64_t pad, const TemporaryFolder& folder, int run) {
  int ends[2];
  if (::pipe(ends) != 0) throw std::runtime_error("no pipe");
  const pid_t child = ::fork();
  if (child == 0) {
    ::close(ends[0]);
    try {
      write_until_killed(path, pad, folder, ends[1], run);
    } catch (...) {
      ::_exit(1);
    }
  }
  ::close(ends[1]);
  std::this_thread::sleep_for(delay);
  ::kill(child, SIGKILL);
  int status = 0;
  ::waitpid(child, &status, 0);
  EXPECT_TRUE(WIFSIGNALED(status)) << "the child stopped before it was killed";
  std::vector<Acknowledged> list;
  for (Acknowledged one; ::read(ends[0], &one, sizeof one) == sizeof one;) list.push_back(one);
  ::close(ends[0]);
  return list;
}

TEST(RecordCrash, KilledTwentyTimesItKeepsAllItAcknowledged) {
  TemporaryFolder folder;
  const fs::path path = folder / "record.sqlite";
  const std::int64_t pad = add_sample_job(*std::make_unique<Record>(path)).pad;
  std::mt19937 random(20261125);
  std::uniform_int_distribution<int> delay_us(5'000, 250'000);
  std::vector<Acknowledged> all;
  for (int run = 0; run < 20; ++run) {
    const auto more =
        killed_after(std::chrono::microseconds(delay_us(random)), path, pad, folder, run);
    all.insert(all.end(), more.begin(), more.end());
    Record record(path);  // opening checks the database's integrity
    SQLite::Database raw(path.string());
    ASSERT_EQ(raw.execAndGet("PRAGMA integrity_check").getString(), "ok") << "run " << run;
    const auto readings = record.hand_readings(pad);
    for (const Acknowledged& done : all) {
      ASSERT_TRUE(std::any_of(readings.begin(), readings.end(),
                              [&](const auto& r) { return r.id == done.reading; }));
      const auto photo = record.photo(done.photo);
      ASSERT_TRUE(photo);
      ASSERT_TRUE(record.newest_measurement(done.photo));
    }
    for (const PhotoEntry& photo : record.photos(pad))
      ASSERT_TRUE(record.photo_intact(photo)) << "a row whose file is not whole";
  }
  EXPECT_GT(all.size(), 20u) << "too few changes for the test to mean anything";
}

}  // namespace
}  // namespace scantling
