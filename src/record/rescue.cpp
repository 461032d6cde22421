#include "record/rescue.h"

#include <SQLiteCpp/SQLiteCpp.h>
#include <fmt/format.h>
#include <sqlite3.h>
#include <stdlib.h>

#include <algorithm>
#include <memory>

#include "record/disk.h"
#include "record/record.h"
#include "record/record_error.h"

namespace scantling {
namespace fs = std::filesystem;

namespace {

// Parents before what hangs on them.
constexpr const char* kTables[] = {
    "vehicle",     "sheet",     "camera",       "card",         "job",     "part",      "photo",
    "measurement", "dimension", "confirmation", "hand_reading", "verdict", "work_done", "history"};
constexpr std::int64_t kLargestId = 1
                                    << 17;  ///< searched for where the largest cannot be asked for

/// A copy of the damaged files, so that nothing of them changes; gone when this ends.
class WorkingCopy {
 public:
  explicit WorkingCopy(const fs::path& damaged) {
    std::string name = (fs::temp_directory_path() / "scantling-rescue-XXXXXX").string();
    if (!::mkdtemp(name.data()))
      throw RecordError("No room for a copy in " + fs::temp_directory_path().string() +
                        ": free some space there.");
    folder_ = name;
    try {
      fs::copy_file(damaged, path());
      const fs::path wal = fs::path(damaged) += "-wal";
      if (fs::exists(wal)) fs::copy_file(wal, folder_ / "record.sqlite-wal");
    } catch (const fs::filesystem_error& error) {
      const int code = error.code().value();
      clear();
      throw RecordError(disk_sentence("Could not copy", damaged, code));
    }
  }
  ~WorkingCopy() { clear(); }
  WorkingCopy(const WorkingCopy&) = delete;
  WorkingCopy& operator=(const WorkingCopy&) = delete;
  fs::path path() const { return folder_ / "record.sqlite"; }

 private:
  void clear() {
    std::error_code ignored;
    fs::remove_all(folder_, ignored);
  }
  fs::path folder_;
};

std::vector<std::string> columns_of(const SQLite::Database& database, const std::string& table) {
  std::vector<std::string> names;
  SQLite::Statement info(database, "SELECT name FROM pragma_table_info (?)");
  info.bind(1, table);
  while (info.executeStep()) names.push_back(info.getColumn(0).getString());
  return names;
}

std::string listed(const std::vector<std::string>& words) {
  std::string text;
  for (const std::string& word : words) text += (text.empty() ? "" : ", ") + word;
  return text;
}

/// Copies one table's rows over, as far as they can be read.
class TableRescue {
 public:
  TableRescue(SQLite::Database& from, SQLite::Database& to, const std::string& table)
      : from_(from), to_(to), table_(table) {
    result_.name = table;
    const std::vector<std::string> new_columns = columns_of(to, table);
    for (const std::string& column : columns_of(from, table))
      if (std::find(new_columns.begin(), new_columns.end(), column) != new_columns.end())
        columns_.push_back(column);
    key_ = table == "dimension" ? "measurement_id" : "id";
  }

  Rescue::Table run() {
    if (columns_.empty()) return result_;  // of a version without this table
    if (!copy(0, std::int64_t{1} << 48)) split(1, largest_key());
    return result_;
  }

 private:
  /// Rows whose key lies between two, both included; false where reading broke off.
  bool copy(std::int64_t first, std::int64_t last) {
    try {
      SQLite::Statement rows(from_,
                             fmt::format("SELECT {} FROM {} WHERE {} BETWEEN ? AND ? ORDER BY {}",
                                         listed(columns_), table_, key_, key_));
      rows.bind(1, first);
      rows.bind(2, last);
      while (rows.executeStep()) keep(rows);
      return true;
    } catch (const SQLite::Exception&) {
      result_.whole = false;
      return false;
    }
  }

  /// Ever smaller pieces, so that only what lies on a broken page is left out.
  void split(std::int64_t first, std::int64_t last) {
    if (first > last || copy(first, last) || first == last) return;
    const std::int64_t middle = first + (last - first) / 2;
    split(first, middle);
    split(middle + 1, last);
  }

  std::int64_t largest_key() {
    try {
      return from_.execAndGet(fmt::format("SELECT max ({}) FROM {}", key_, table_)).getInt64();
    } catch (const SQLite::Exception&) {
      return kLargestId;
    }
  }

  void keep(SQLite::Statement& row) {
    try {
      if (!insert_) {
        std::string marks;
        for (std::size_t i = 0; i < columns_.size(); ++i) marks += i ? ", ?" : "?";
        insert_ = std::make_unique<SQLite::Statement>(
            to_, fmt::format("INSERT OR IGNORE INTO {} ({}) VALUES ({})", table_, listed(columns_),
                             marks));
      }
      insert_->reset();
      for (int i = 0; i < row.getColumnCount(); ++i) {
        const SQLite::Column value = row.getColumn(i);
        if (value.isInteger())
          insert_->bind(i + 1, value.getInt64());
        else if (value.isFloat())
          insert_->bind(i + 1, value.getDouble());
        else if (value.isNull())
          insert_->bind(i + 1);
        else
          insert_->bind(i + 1, value.getString());
      }
      result_.saved += static_cast<std::size_t>(insert_->exec());
    } catch (const SQLite::Exception& error) {
      if (error.getErrorCode() != SQLITE_CONSTRAINT && error.getErrorCode() != SQLITE_MISMATCH)
        throw RecordError(
            fmt::format("The new record cannot be written ({}): check the disk.", error.what()));
      ++result_.lost;
    }
  }

  SQLite::Database& from_;
  SQLite::Database& to_;
  std::string table_, key_;
  std::vector<std::string> columns_;
  std::unique_ptr<SQLite::Statement> insert_;
  Rescue::Table result_;
};

/// Cars and jobs that were lost, but on which something saved hangs.
std::size_t make_stand_ins(SQLite::Database& to) {
  std::size_t made = 0;
  made += static_cast<std::size_t>(
      to.exec("INSERT INTO job (id, vehicle_id, date, axle, note) "
              "SELECT DISTINCT job_id, coalesce ((SELECT min (id) FROM vehicle WHERE name = "
              "'Recovered'), 1 + (SELECT coalesce (max (id), 0) FROM vehicle)), "
              "date ('now'), 'front', 'Recovered: car, date and axle were lost' FROM part "
              "WHERE job_id NOT IN (SELECT id FROM job)"));
  made += static_cast<std::size_t>(
      to.exec("INSERT INTO vehicle (id, name, registration, make_model, owner) "
              "SELECT DISTINCT vehicle_id, 'Recovered', '', '', '' FROM job "
              "WHERE vehicle_id NOT IN (SELECT id FROM vehicle)"));
  return made;
}

/// Whatever still hangs on something lost; optional links are cut instead.
void drop_orphans(SQLite::Database& to, Rescue& rescue) {
  for (const char* cut :
       {"UPDATE job SET sheet_id = NULL WHERE sheet_id NOT IN (SELECT id FROM sheet)",
        "UPDATE photo SET sheet_id = NULL WHERE sheet_id NOT IN (SELECT id FROM sheet)",
        "UPDATE photo SET camera_id = NULL WHERE camera_id NOT IN (SELECT id FROM camera)",
        "UPDATE measurement SET card_id = NULL WHERE card_id NOT IN (SELECT id FROM card)"})
    to.exec(cut);
  for (bool found = true; found;) {
    found = false;
    std::vector<std::pair<std::string, std::int64_t>> orphans;
    SQLite::Statement check(to, "PRAGMA foreign_key_check");
    while (check.executeStep())
      if (!check.getColumn(1).isNull())
        orphans.emplace_back(check.getColumn(0).getString(), check.getColumn(1).getInt64());
    for (const auto& [table, row] : orphans) {
      SQLite::Statement remove(to, fmt::format("DELETE FROM {} WHERE rowid = ?", table));
      remove.bind(1, row);
      found |= remove.exec() > 0;
      for (Rescue::Table& t : rescue.tables)
        if (t.name == table) ++t.lost, --t.saved;
    }
  }
  // A table without row numbers is not named by its rows.
  to.exec("DELETE FROM dimension WHERE measurement_id NOT IN (SELECT id FROM measurement)");
}

fs::path photo_folder(const fs::path& record) {
  return fs::path(record) += ".photos";
}

void rescue_photos(const fs::path& damaged, const fs::path& fresh, SQLite::Database& to,
                   Rescue& rescue) {
  make_private_folders(photo_folder(fresh));
  SQLite::Statement rows(to, "SELECT DISTINCT sha256 FROM photo");
  while (rows.executeStep()) {
    const std::string name = rows.getColumn(0).getString();
    const fs::path from = photo_folder(damaged) / name, into = photo_folder(fresh) / name;
    if (sha256_of_file(from) != name) {
      ++rescue.photos_missing;
      continue;
    }
    std::error_code fault;
    fs::copy_file(from, into, fs::copy_options::skip_existing, fault);
    if (fault) throw RecordError(disk_sentence("Could not copy a photo into", into, fault.value()));
    ++rescue.photos_saved;
  }
}

[[noreturn]] void nothing_to_read(const fs::path& damaged) {
  const fs::path backup = newest_backup(damaged);
  throw RecordError(
      fmt::format("Nothing can be read of {}. {} Its photos still lie in {}.", damaged.string(),
                  backup.empty() ? std::string("There is no backup copy beside it.")
                                 : fmt::format("Open its newest backup copy: {}.", backup.string()),
                  photo_folder(damaged).string()));
}

}  // namespace

fs::path newest_backup(const fs::path& record) {
  fs::path newest;
  fs::file_time_type when;
  const std::string stem = record.filename().string() + ".version-";
  std::error_code ignored;
  for (const fs::directory_entry& entry :
       fs::directory_iterator(fs::absolute(record).parent_path(), ignored)) {
    const std::string name = entry.path().filename().string();
    if (!name.starts_with(stem) || !name.ends_with(".backup")) continue;
    const auto written = entry.last_write_time(ignored);
    if (newest.empty() || written > when) newest = entry.path(), when = written;
  }
  return newest;
}

Rescue rescue_record(const fs::path& damaged, const fs::path& fresh) {
  std::error_code ignored;
  if (!fs::is_regular_file(damaged, ignored))
    throw RecordError(damaged.string() + " is not there: check the name.");
  if (fs::exists(fresh, ignored))
    throw RecordError(fresh.string() + " is there already: choose a new name for what is saved.");
  const WorkingCopy copy(damaged);
  Rescue rescue;
  { Record made(fresh); }
  try {
    SQLite::Database to(fresh.string(), SQLite::OPEN_READWRITE);
    try {
      SQLite::Database from(copy.path().string(), SQLite::OPEN_READWRITE);
      from.exec("PRAGMA writable_schema = ON");  // a schema with a fault in it is read all the same
      to.exec("PRAGMA foreign_keys = OFF");
      SQLite::Transaction all(to);
      for (const char* table : kTables) rescue.tables.push_back(TableRescue(from, to, table).run());
      rescue.stand_ins = make_stand_ins(to);
      drop_orphans(to, rescue);
      all.commit();
    } catch (const SQLite::Exception&) {
      nothing_to_read(damaged);
    }
    const bool any = std::any_of(rescue.tables.begin(), rescue.tables.end(),
                                 [](const Rescue::Table& t) { return t.saved > 0; });
    if (!any) nothing_to_read(damaged);
    rescue_photos(damaged, fresh, to, rescue);
  } catch (...) {
    for (const char* ending : {"", "-wal", "-shm"}) fs::remove(fresh.string() + ending, ignored);
    fs::remove_all(photo_folder(fresh), ignored);
    throw;
  }
  return rescue;
}

std::string rescue_words(const Rescue& rescue) {
  const auto of = [&](const char* table) {
    const auto found = std::find_if(rescue.tables.begin(), rescue.tables.end(),
                                    [&](const Rescue::Table& t) { return t.name == table; });
    return found == rescue.tables.end() ? std::size_t{0} : found->saved;
  };
  std::string words = fmt::format(
      "Saved: {} cars, {} jobs, {} parts, {} measurements, {} readings, {} photos.", of("vehicle"),
      of("job"), of("part"), of("measurement"), of("hand_reading"), rescue.photos_saved);
  std::size_t lost = 0;
  std::string broken;
  for (const Rescue::Table& table : rescue.tables) {
    lost += table.lost;
    if (!table.whole) broken += (broken.empty() ? "" : ", ") + table.name;
  }
  if (!broken.empty()) words += " Parts of these could not be read: " + broken + ".";
  if (lost > 0) words += fmt::format(" {} rows hung on what is lost and were left out.", lost);
  if (rescue.stand_ins > 0)
    words += fmt::format(" {} lost cars or jobs are called “Recovered”: say what they are.",
                         rescue.stand_ins);
  if (rescue.photos_missing > 0)
    words += fmt::format(" {} photos are missing or altered.", rescue.photos_missing);
  return words;
}

}  // namespace scantling
