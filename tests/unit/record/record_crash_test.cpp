// A program killed at any moment loses nothing that it said was saved.
#include <SQLiteCpp/SQLiteCpp.h>
#include <gmock/gmock.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <csignal>
#include <cstdio>
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
    record.set_confirmations(done.photo, {{done.photo, "friction_outer", "Ása", ""}});
    Job job = record.jobs().front();
    job.note = content;
    record.update_job(job);
    if (::write(pipe, &done, sizeof done) != sizeof done) ::_exit(1);
  }
}

using Clock = std::chrono::steady_clock;

/// When to kill: after so many acknowledged rounds and a part of one more.
struct Moment {
  int rounds = 0;
  double part = 0;
};

/// `round_time`: how long a round takes on this machine, kept from run to run, so that the moment
/// falls anywhere within a round whether the machine is idle or not.
std::vector<Acknowledged> killed_at(const Moment& moment, Clock::duration& round_time,
                                    const fs::path& path, std::int64_t pad,
                                    const TemporaryFolder& folder, int run) {
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
  std::vector<Acknowledged> list;
  const auto read_one = [&] {
    Acknowledged one;
    if (::read(ends[0], &one, sizeof one) != sizeof one) return false;
    list.push_back(one);
    return true;
  };
  for (auto before = Clock::now(); static_cast<int>(list.size()) < moment.rounds && read_one();) {
    const auto now = Clock::now();
    round_time = now - before;
    before = now;
  }
  std::this_thread::sleep_for(
      std::chrono::duration_cast<std::chrono::microseconds>(round_time * moment.part));
  ::kill(child, SIGKILL);
  int status = 0;
  ::waitpid(child, &status, 0);
  EXPECT_TRUE(WIFSIGNALED(status)) << "the child stopped before it was killed";
  while (read_one()) {
  }
  ::close(ends[0]);
  return list;
}

TEST(RecordCrash, KilledThreeHundredTimesItKeepsAllItAcknowledged) {
  TemporaryFolder folder;
  const fs::path path = folder / "record.sqlite";
  const std::int64_t pad = add_sample_job(*std::make_unique<Record>(path)).pad;
  constexpr int kRuns = 300;
  std::mt19937 random(20261125);
  std::uniform_int_distribution<int> rounds(0, 3);
  std::uniform_real_distribution<double> part(0, 1.2);
  Clock::duration round_time = std::chrono::milliseconds(5);
  std::size_t acknowledged = 0;
  for (int run = 0; run < kRuns; ++run) {
    const Moment moment{rounds(random), part(random)};
    const auto done_now = killed_at(moment, round_time, path, pad, folder, run);
    acknowledged += done_now.size();
    Record record(path);  // opening checks the database's integrity
    {
      SQLite::Database raw(path.string());
      ASSERT_EQ(raw.execAndGet("PRAGMA integrity_check").getString(), "ok") << "run " << run;
      ASSERT_FALSE(SQLite::Statement(raw, "PRAGMA foreign_key_check").executeStep());
    }
    const auto readings = record.hand_readings(pad);
    for (const Acknowledged& done : done_now) {
      ASSERT_TRUE(std::any_of(readings.begin(), readings.end(),
                              [&](const auto& r) { return r.id == done.reading; }));
      const auto photo = record.photo(done.photo);
      ASSERT_TRUE(photo);
      ASSERT_TRUE(record.photo_intact(*photo)) << "a row whose file is not whole";
      ASSERT_TRUE(record.newest_measurement(done.photo));
    }
    // The last photo may have been acknowledged to nobody: its row still has
    // its file.
    const auto photos = record.photos(pad);
    if (!photos.empty()) {
      ASSERT_TRUE(record.photo_intact(photos.back()));
    }
  }
  Record record(path);
  const auto photos = record.photos(pad);
  for (const PhotoEntry& photo : photos) ASSERT_TRUE(record.photo_intact(photo));
  std::printf(
      "%d runs killed; %zu rounds of changes were acknowledged, none "
      "lost; %zu photos, all "
      "whole\n",
      kRuns, acknowledged, photos.size());
  EXPECT_GT(acknowledged, 300u) << "too few changes for the test to mean anything";
}

}  // namespace
}  // namespace scantling
