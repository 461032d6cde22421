#include "record/rows.h"

#include <fmt/chrono.h>

#include <chrono>
#include <cmath>
#include <cstdio>
#include <ctime>
#include <nlohmann/json.hpp>

#include "record/record_error.h"

namespace scantling {

std::string clean_text(std::string_view text) {
  using nlohmann::json;
  std::string kept(text);
  std::erase(kept, '\0');
  const std::string quoted = json(kept).dump(-1, ' ', false, json::error_handler_t::replace);
  return json::parse(quoted).get<std::string>();
}

bool is_calendar_date(const std::string& text) {
  int year = 0, end = 0;
  unsigned month = 0, day = 0;
  return text.size() == 10 &&
         std::sscanf(text.c_str(), "%4d-%2u-%2u%n", &year, &month, &day, &end) == 3 && end == 10 &&
         text[4] == '-' && text[7] == '-' &&
         std::chrono::year_month_day(std::chrono::year(year), std::chrono::month(month),
                                     std::chrono::day(day))
             .ok();
}

std::string time_of_change() {
  return fmt::format("{:%Y-%m-%dT%H:%M:%SZ}", fmt::gmtime(std::time(nullptr)));
}

std::string or_now(const std::string& time_or_empty) {
  return time_or_empty.empty() ? time_of_change() : time_or_empty;
}

void bind_one(SQLite::Statement& statement, int index, double value) {
  if (!std::isfinite(value))
    throw RecordError("One of the values is not a number: nothing was saved. Correct it.");
  statement.bind(index, value);
}

void bind_one(SQLite::Statement& statement, int index, std::int64_t value) {
  statement.bind(index, value);
}

void bind_one(SQLite::Statement& statement, int index, const std::string& value) {
  statement.bind(index, clean_text(value));
}

void bind_one(SQLite::Statement& statement, int index, const char* value) {
  bind_one(statement, index, std::string(value));
}

void bind_one(SQLite::Statement& statement, int index, const std::optional<double>& value) {
  if (value)
    bind_one(statement, index, *value);
  else
    statement.bind(index);
}

void bind_one(SQLite::Statement& statement, int index, const std::optional<std::string>& value) {
  if (value)
    bind_one(statement, index, *value);
  else
    statement.bind(index);
}

void bind_one(SQLite::Statement& statement, int index, const std::optional<std::int64_t>& value) {
  if (value)
    statement.bind(index, *value);
  else
    statement.bind(index);
}

std::optional<double> optional_number(const SQLite::Column& column) {
  return column.isNull() ? std::nullopt : std::optional(column.getDouble());
}

std::optional<std::int64_t> optional_id(const SQLite::Column& column) {
  return column.isNull() ? std::nullopt : std::optional<std::int64_t>(column.getInt64());
}

}  // namespace scantling
