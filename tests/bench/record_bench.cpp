// The record against bare SQL doing the same reading: 5 000 jobs with 60 000
// photo rows.

#include <benchmark/benchmark.h>
#include <sqlite3.h>
#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <stdexcept>
#include <string>
#include <vector>

#include "record/record.h"

namespace {

namespace fs = std::filesystem;
using scantling::Record;

constexpr int kJobs = 5000;
constexpr int kPartsOfJob = 6;
constexpr int kPhotosOfPart = 2;

void check(int code, sqlite3* database) {
  if (code != SQLITE_OK && code != SQLITE_ROW && code != SQLITE_DONE)
    throw std::runtime_error(sqlite3_errmsg(database));
}

/// The tables by the program itself, the rows by bare SQL: 60 000 files would
/// say nothing here.
const fs::path& filled_record() {
  static const fs::path path = [] {
    const fs::path file =
        fs::temp_directory_path() / ("scantling-bench-" + std::to_string(::getpid()) + ".sqlite");
    { Record record(file); }
    sqlite3* db = nullptr;
    check(sqlite3_open(file.c_str(), &db), db);
    const std::string sql =
        "BEGIN;"
        "INSERT INTO vehicle (name, registration, make_model, owner) "
        "  WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n "
        "WHERE i < 500) "
        "  SELECT 'car ' || i, 'R ' || i, 'Marrow', 'owner' FROM n;"
        "INSERT INTO job (vehicle_id, date, odometer_km, axle, note) "
        "  WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n "
        "WHERE i < " +
        std::to_string(kJobs) +
        ") SELECT i % 500 + 1, date ('2020-01-01', '+' || (i / 3) || ' days'), "
        "1000.0 * i, "
        "  CASE i % 2 WHEN 0 THEN 'front' ELSE 'rear' END, 'note' FROM n;"
        "INSERT INTO part (job_id, kind, side, place, minimum_mm, "
        "minimum_origin) "
        "  SELECT job.id, kind, side, place, 2.0, 'manual' FROM job, "
        "  (SELECT 'disc' AS kind, 'left' AS side, NULL AS place UNION ALL "
        "SELECT 'disc', 'right', "
        "   NULL UNION ALL SELECT 'pad', 'left', 'inner' UNION ALL SELECT "
        "'pad', 'left', 'outer' "
        "   UNION ALL SELECT 'pad', 'right', 'inner' UNION ALL SELECT 'pad', "
        "'right', 'outer') "
        "  ORDER BY job.id;"
        "INSERT INTO photo (part_id, view, sha256, original_name, added_at) "
        "  SELECT part.id, 'pad', printf ('%064x', part.id * 2 + k), "
        "'photo.jpg', "
        "  '2026-11-25T10:00:00Z' FROM part, (SELECT 0 AS k UNION ALL SELECT "
        "1);"
        "COMMIT;";
    check(sqlite3_exec(db, sql.c_str(), nullptr, nullptr, nullptr), db);
    sqlite3_close(db);
    std::atexit([] {
      for (const char* ending : {"", "-wal", "-shm"}) fs::remove(filled_record().string() + ending);
    });
    return file;
  }();
  return path;
}

void read_by_record(benchmark::State& state) {
  const Record record(filled_record());
  for (auto _ : state) {
    std::size_t photos = 0;
    for (const scantling::Job& job : record.jobs())
      for (const scantling::Part& part : record.parts(job.id))
        photos += record.photos(part.id).size();
    if (photos != kJobs * kPartsOfJob * kPhotosOfPart) throw std::runtime_error("rows are missing");
    benchmark::DoNotOptimize(photos);
  }
}
BENCHMARK(read_by_record)->Unit(benchmark::kMillisecond);

/// Text columns copied as any reader must; statements prepared once.
std::size_t step_through(sqlite3* db, sqlite3_stmt* statement, std::vector<std::int64_t>* ids) {
  std::size_t rows = 0;
  int code = 0;
  while ((code = sqlite3_step(statement)) == SQLITE_ROW) {
    for (int i = 0; i < sqlite3_column_count(statement); ++i) {
      if (sqlite3_column_type(statement, i) == SQLITE_TEXT) {
        std::string text(reinterpret_cast<const char*>(sqlite3_column_text(statement, i)),
                         static_cast<std::size_t>(sqlite3_column_bytes(statement, i)));
        benchmark::DoNotOptimize(text);
      } else {
        double number = sqlite3_column_double(statement, i);
        benchmark::DoNotOptimize(number);
      }
    }
    if (ids) ids->push_back(sqlite3_column_int64(statement, 0));
    ++rows;
  }
  check(code, db);
  sqlite3_reset(statement);
  return rows;
}

void read_by_bare_sql(benchmark::State& state) {
  sqlite3* db = nullptr;
  check(sqlite3_open_v2(filled_record().c_str(), &db, SQLITE_OPEN_READONLY, nullptr), db);
  const auto prepare = [&](const char* sql) {
    sqlite3_stmt* statement = nullptr;
    check(sqlite3_prepare_v2(db, sql, -1, &statement, nullptr), db);
    return statement;
  };
  sqlite3_stmt* jobs = prepare(
      "SELECT id, vehicle_id, date, odometer_km, "
      "axle, note, sheet_id, next_check_km, "
      "next_check_date FROM job WHERE removed_at IS "
      "NULL ORDER BY date DESC, id DESC");
  sqlite3_stmt* parts = prepare(
      "SELECT id, job_id, kind, side, place, minimum_mm, "
      "minimum_origin FROM part "
      "WHERE job_id = ? AND removed_at IS NULL ORDER BY id");
  sqlite3_stmt* photos = prepare(
      "SELECT id, part_id, view, sha256, original_name, added_at, "
      "sheet_id, camera_id FROM photo "
      "WHERE part_id = ? AND removed_at IS NULL ORDER BY id");
  for (auto _ : state) {
    std::size_t count = 0;
    std::vector<std::int64_t> job_ids;
    step_through(db, jobs, &job_ids);
    for (const std::int64_t job : job_ids) {
      std::vector<std::int64_t> part_ids;
      sqlite3_bind_int64(parts, 1, job);
      step_through(db, parts, &part_ids);
      for (const std::int64_t part : part_ids) {
        sqlite3_bind_int64(photos, 1, part);
        count += step_through(db, photos, nullptr);
      }
    }
    if (count != kJobs * kPartsOfJob * kPhotosOfPart) throw std::runtime_error("rows are missing");
    benchmark::DoNotOptimize(count);
  }
  for (sqlite3_stmt* statement : {jobs, parts, photos}) sqlite3_finalize(statement);
  sqlite3_close(db);
}
BENCHMARK(read_by_bare_sql)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
