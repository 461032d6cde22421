#include "app/words.h"
#include "app/shown.h"

#include <fmt/format.h>

#include <charconv>
#include <chrono>
#include <cmath>

#include "report/wording.h"

namespace scantling {

namespace {

std::string_view trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \t");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

bool whole_number(std::string_view text, int& value) {
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  return error == std::errc() && end == text.data() + text.size();
}

std::optional<std::chrono::year_month_day> calendar_date(std::string_view text) {
  int year = 0, month = 0, day = 0;
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return {};
  if (!whole_number(text.substr(0, 4), year) || !whole_number(text.substr(5, 2), month) ||
      !whole_number(text.substr(8, 2), day))
    return {};
  const std::chrono::year_month_day date{std::chrono::year(year),
                                         std::chrono::month(static_cast<unsigned>(month)),
                                         std::chrono::day(static_cast<unsigned>(day))};
  if (!date.ok()) return {};
  return date;
}

}  // namespace

std::string edge_explanation(std::string_view edge_name) {
  if (edge_name == "plate_outer") return "where the backing plate's bare side ends";
  if (edge_name == "plate_friction") return "where the friction material meets the plate";
  if (edge_name == "friction_outer") return "where the friction material ends, at the disc's side";
  if (edge_name == "face_a" || edge_name == "face_b")
    return "where the rim's flat side ends and its face begins, over the lip";
  if (edge_name == "wall_foot") return "where the worn track ends and the lip's wall rises";
  if (edge_name == "wall_top") return "where the lip's wall ends at the top";
  return {};
}

// Lengths across a rim grow from its first face to its second, across a lip outwards.
std::string shift_words(std::string_view edge_name, double shift_mm) {
  const bool more = shift_mm > 0;
  if (edge_name == "face_a" || edge_name == "face_b")
    return more == (edge_name == "face_a") ? "towards the other face" : "away from the other face";
  if (edge_name == "wall_foot" || edge_name == "wall_top")
    return more ? "nearer the rim" : "nearer the worn track";
  return more ? "further from the plate" : "nearer the plate";
}

std::string confirmed_by(const std::vector<EdgeConfirmation>& confirmations,
                         std::string_view edge_name) {
  for (const EdgeConfirmation& confirmation : confirmations)
    if (confirmation.edge == edge_name)
      return confirmation.confirmed_by.empty() ? "someone" : confirmation.confirmed_by;
  return {};
}

std::optional<double> number_from(std::string_view text, std::string_view unit) {
  text = trimmed(text);
  if (!unit.empty() && text.ends_with(unit))
    text = trimmed(text.substr(0, text.size() - unit.size()));
  std::string plain;
  for (const char c : text) {
    // Blanks group digits ("83 210"); a comma is a decimal comma.
    if (c == ' ') continue;
    plain += c == ',' ? '.' : c;
  }
  if (plain.empty()) return {};
  double value = 0;
  const auto [end, error] = std::from_chars(plain.data(), plain.data() + plain.size(), value);
  if (error != std::errc() || end != plain.data() + plain.size() || !std::isfinite(value))
    return {};
  return value;
}

bool is_iso_date(std::string_view text) {
  return calendar_date(text).has_value();
}

std::string number_words(double value) {
  return fmt::format("{}", value);
}

std::string figure_words(const Quantity& size) {
  const std::string whole = shown(size_with_95(size));
  return whole.substr(0, whole.find("\u00A0"));
}

std::string interval_words(const Quantity& size) {
  const std::string whole = shown(size_with_95(size));
  const auto at = whole.find("±");
  return at == std::string::npos ? whole : whole.substr(at);
}

std::string capitalised(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z')
    text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

}  // namespace scantling
