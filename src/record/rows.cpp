#include "record/rows.h"

#include <fmt/chrono.h>

#include <cmath>
#include <ctime>
#include <nlohmann/json.hpp>

#include "record/record_error.h"

namespace scantling {

namespace {

[[noreturn]] void unknown_word(const std::string& word) {
  throw RecordError("The record holds the word \"" + word +
                    "\", which this program does not know: install the newest one.");
}

}  // namespace

std::string clean_text(std::string_view text) {
  using nlohmann::json;
  std::string kept(text);
  std::erase(kept, '\0');
  const std::string quoted = json(kept).dump(-1, ' ', false, json::error_handler_t::replace);
  return json::parse(quoted).get<std::string>();
}

std::string utc_now() {
  return fmt::format("{:%Y-%m-%dT%H:%M:%SZ}", fmt::gmtime(std::time(nullptr)));
}

std::string or_now(const std::string& time_or_empty) {
  return time_or_empty.empty() ? utc_now() : time_or_empty;
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

const char* axle_word(Axle axle) {
  return axle == Axle::front ? "front" : "rear";
}
const char* kind_word(PartKind kind) {
  return kind == PartKind::pad ? "pad" : "disc";
}
const char* side_word(Side side) {
  return side == Side::left ? "left" : "right";
}
const char* place_word(PadPlace place) {
  return place == PadPlace::inner ? "inner" : "outer";
}

Axle axle_from(const std::string& word) {
  if (word == "front") return Axle::front;
  if (word == "rear") return Axle::rear;
  unknown_word(word);
}

PartKind kind_from(const std::string& word) {
  if (word == "pad") return PartKind::pad;
  if (word == "disc") return PartKind::disc;
  unknown_word(word);
}

Side side_from(const std::string& word) {
  if (word == "left") return Side::left;
  if (word == "right") return Side::right;
  unknown_word(word);
}

PadPlace place_from(const std::string& word) {
  if (word == "inner") return PadPlace::inner;
  if (word == "outer") return PadPlace::outer;
  unknown_word(word);
}

View view_from(const std::string& word) {
  if (const auto view = view_from_word(word)) return *view;
  unknown_word(word);
}

}  // namespace scantling
