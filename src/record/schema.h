#pragma once

#include <SQLiteCpp/Database.h>

#include <filesystem>
#include <span>

namespace scantling {

/// One step from a schema version to the next; step 1 makes an empty database's tables.
struct Migration {
  int to_version;
  const char* sql;
};

/// All steps in order; the last one's version is the one this program writes.
std::span<const Migration> migrations();

/// Marks the file as ours (PRAGMA application_id): "SCAN" as four bytes.
inline constexpr int kRecordApplicationId = 0x5343414E;

/// Takes the database to the newest version among `steps`, each step in one transaction. A
/// database that holds something is first copied beside itself, the copy's name dated.
/// @throws RecordError, the database untouched, when it is of a newer version or not ours;
/// @throws SQLite::Exception when a step fails, which undoes that step whole.
void bring_up_to_date(SQLite::Database& database, const std::filesystem::path& path,
                      std::span<const Migration> steps);

/// A whole copy beside the database, its name dated; returns the name.
/// @throws SQLite::Exception when it cannot be written.
std::filesystem::path back_up_database(SQLite::Database& database,
                                       const std::filesystem::path& path, int version);

}  // namespace scantling
