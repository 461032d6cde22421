#pragma once

#include <SQLiteCpp/SQLiteCpp.h>

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <utility>
#include <vector>

#include "record/record_error.h"

namespace scantling {

/// The text as valid UTF-8 without NUL: wrong bytes become U+FFFD.
std::string clean_text(std::string_view text);

/// ISO 8601 and in the calendar: "2026-11-25".
bool is_calendar_date(const std::string& text);

std::string time_of_change();                          ///< "2026-11-25T09:30:00Z"
std::string or_now(const std::string& time_or_empty);  ///< the time, or now where it is empty

/// @throws RecordError for NaN and infinity, which the database would store as nothing.
void bind_one(SQLite::Statement& statement, int index, double value);
void bind_one(SQLite::Statement& statement, int index, std::int64_t value);
void bind_one(SQLite::Statement& statement, int index, const std::string& value);
void bind_one(SQLite::Statement& statement, int index, const char* value);
void bind_one(SQLite::Statement& statement, int index, const std::optional<double>& value);
void bind_one(SQLite::Statement& statement, int index, const std::optional<std::string>& value);
void bind_one(SQLite::Statement& statement, int index, const std::optional<std::int64_t>& value);

/// Prepares a statement with its parameters in order.
template <class... Values>
SQLite::Statement prepared(const SQLite::Database& database, const std::string& sql,
                           const Values&... values) {
  SQLite::Statement statement(database, sql);
  int index = 0;
  (bind_one(statement, ++index, values), ...);
  return statement;
}

/// Runs an INSERT and returns its row's id.
template <class... Values>
std::int64_t inserted(SQLite::Database& database, const std::string& sql, const Values&... values) {
  prepared(database, sql, values...).exec();
  return database.getLastInsertRowid();
}

/// Runs an UPDATE that must meet one row. @throws RecordError naming `what` where there is none.
template <class... Values>
void changed(SQLite::Database& database, const char* what, const std::string& sql,
             const Values&... values) {
  if (prepared(database, sql, values...).exec() != 1)
    throw RecordError(std::string("This ") + what +
                      " is not in the record (or was removed): open the job again.");
}

/// A prepared statement lent for one use: given back with its rows cleared.
class LentStatement {
 public:
  explicit LentStatement(SQLite::Statement& statement) : statement_(&statement) {}
  LentStatement(LentStatement&& other) noexcept
      : statement_(std::exchange(other.statement_, nullptr)) {}
  LentStatement& operator=(LentStatement&&) = delete;
  ~LentStatement() {
    if (statement_) statement_->tryReset();
  }
  SQLite::Statement& operator*() const { return *statement_; }

 private:
  SQLite::Statement* statement_;
};

/// Statements that are asked for again and again are prepared once.
class StatementShelf {
 public:
  template <class... Values>
  LentStatement lend(const SQLite::Database& database, const std::string& sql,
                     const Values&... values) {
    std::unique_ptr<SQLite::Statement>& kept = kept_[sql];
    if (!kept) kept = std::make_unique<SQLite::Statement>(database, sql);
    LentStatement lent(*kept);
    int index = 0;
    (bind_one(*kept, ++index, values), ...);
    return lent;
  }

 private:
  std::unordered_map<std::string, std::unique_ptr<SQLite::Statement>> kept_;
};

/// A query's beginning and end.
inline std::string query(const char* columns, const char* condition) {
  return std::string(columns) + condition;
}

/// All rows of a query, each read by `read_row`.
template <class Function>
auto rows(SQLite::Statement statement, Function read_row) {
  std::vector<decltype(read_row(statement))> list;
  while (statement.executeStep()) list.push_back(read_row(statement));
  return list;
}

template <class Function>
auto rows(LentStatement lent, Function read_row) {
  std::vector<decltype(read_row(*lent))> list;
  while ((*lent).executeStep()) list.push_back(read_row(*lent));
  return list;
}

/// The query's first row; nothing where there is none.
template <class Function>
auto row(SQLite::Statement statement, Function read_row) {
  using Row = decltype(read_row(statement));
  return statement.executeStep() ? std::optional<Row>(read_row(statement)) : std::nullopt;
}

template <class Function>
auto row(LentStatement lent, Function read_row) {
  using Row = decltype(read_row(*lent));
  return (*lent).executeStep() ? std::optional<Row>(read_row(*lent)) : std::nullopt;
}

std::optional<double> optional_number(const SQLite::Column& column);
std::optional<std::int64_t> optional_id(const SQLite::Column& column);

}  // namespace scantling
