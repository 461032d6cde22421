#include "report/figure_style.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <vector>

#include "report/wording.h"
#include "verdict/forecast.h"
#include "verdict/hand_reading_text.h"

namespace scantling {

namespace {

constexpr std::string_view kFixedBlank = "\u00A0";

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

/// The length of a blank here, plain or fixed; 0 where there is none.
std::size_t blank_at(std::string_view text, std::size_t at) {
  if (text.substr(at).starts_with(kFixedBlank)) return kFixedBlank.size();
  return at < text.size() && text[at] == ' ' ? 1 : 0;
}

bool three_digits(std::string_view text, std::size_t at) {
  return at + 3 <= text.size() && is_digit(text[at]) && is_digit(text[at + 1]) &&
         is_digit(text[at + 2]) && (at + 3 == text.size() || !is_digit(text[at + 3]));
}

/// "81 250 km" with its end; `km` below zero where no distance begins here.
struct Distance {
  std::size_t end = 0;
  double km = -1;
};

Distance read_distance(std::string_view text, std::size_t at) {
  std::string digits;
  std::size_t i = at;
  while (i < text.size() && is_digit(text[i])) digits += text[i++];
  if (digits.empty()) return {};
  if (digits.size() <= 3)
    for (std::size_t gap; (gap = blank_at(text, i)) && three_digits(text, i + gap); i += gap + 3)
      digits += text.substr(i + gap, 3);
  const std::size_t gap = blank_at(text, i);
  if (!gap || !text.substr(i + gap).starts_with("km")) return {};
  const std::size_t end = i + gap + 2;
  if (end < text.size() && (is_letter(text[end]) || is_digit(text[end]) || text[end] == '/'))
    return {};
  double km = 0;
  std::from_chars(digits.data(), digits.data() + digits.size(), km);
  return {end, km};
}

std::string in_miles(double km) {
  return in_groups(km / kKilometresInMile) + std::string(kFixedBlank) + "miles";
}

/// " (17 398 miles)" after a distance: says the same in miles.
std::size_t miles_in_brackets(std::string_view text, std::size_t at, std::string_view& inside) {
  const std::string_view rest = text.substr(at);
  if (!rest.starts_with(" (")) return 0;
  const std::size_t close = rest.find(')');
  if (close == std::string_view::npos) return 0;
  inside = rest.substr(2, close - 2);
  return inside.ends_with("miles") ? close + 1 : 0;
}

/// "0.039 mm per " before "1 000 km (0.062 mm per 1 000 miles)": where it begins in what was
/// written already.
std::size_t rate_before(const std::string& out) {
  constexpr std::string_view kPer = " per ";
  if (!out.ends_with(kPer)) return std::string::npos;
  std::size_t at = out.size() - kPer.size();
  while (at > 0 && is_letter(out[at - 1])) --at;  // the unit
  if (at == 0) return std::string::npos;
  at =
      std::string_view(out).substr(0, at).ends_with(kFixedBlank) ? at - kFixedBlank.size() : at - 1;
  while (at > 0 && (is_digit(out[at - 1]) || out[at - 1] == '.')) --at;
  return at;
}

std::string with_miles(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size();) {
    const bool begins = i == 0 || !(is_digit(text[i - 1]) || is_letter(text[i - 1]) ||
                                    text[i - 1] == '.' || text[i - 1] == '-');
    const Distance distance = begins ? read_distance(text, i) : Distance{};
    if (distance.km < 0) {
      out += text[i++];
      continue;
    }
    std::string_view inside;
    if (const std::size_t length = miles_in_brackets(text, distance.end, inside)) {
      if (inside.find(" per ") != std::string_view::npos)
        if (const std::size_t rate = rate_before(out); rate != std::string::npos) out.resize(rate);
      out += inside;
      i = distance.end + length;
      continue;
    }
    out += in_miles(distance.km);
    i = distance.end;
  }
  return out;
}

/// A point between digits of a number that stands for itself: no part of a name or of a version.
std::string with_comma(std::string_view text) {
  std::string out(text);
  for (std::size_t i = 0; i < text.size();) {
    const bool begins =
        is_digit(text[i]) &&
        (i == 0 || !(is_letter(text[i - 1]) || text[i - 1] == '_' || text[i - 1] == '.'));
    if (!begins) {
      ++i;
      continue;
    }
    std::size_t end = i;
    while (end < text.size() && is_digit(text[end])) ++end;
    const std::size_t point = end;
    if (end + 1 < text.size() && text[end] == '.' && is_digit(text[end + 1])) {
      ++end;
      while (end < text.size() && is_digit(text[end])) ++end;
      const bool more =
          end < text.size() && (is_letter(text[end]) || text[end] == '_' ||
                                (text[end] == '.' && end + 1 < text.size() &&
                                 (is_digit(text[end + 1]) || is_letter(text[end + 1]))));
      if (!more) out[point] = ',';
    }
    i = std::max(end, i + 1);
  }
  return out;
}

std::string_view trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \t");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

}  // namespace

std::string in_style(std::string_view text, const FigureStyle& style) {
  std::string out = style.distance == DistanceUnit::mile ? with_miles(text) : std::string(text);
  if (style.length == LengthUnit::inch) out = in_unit(out, style.length);
  if (style.mark == DecimalMark::comma) out = with_comma(out);
  return out;
}

const char* distance_word(DistanceUnit unit) {
  return unit == DistanceUnit::mile ? "miles" : "km";
}

double distance_in(double km, DistanceUnit unit) {
  return unit == DistanceUnit::mile ? km / kKilometresInMile : km;
}

std::optional<double> km_from_text(std::string_view text, DistanceUnit unit) {
  text = trimmed(text);
  double factor = unit == DistanceUnit::mile ? kKilometresInMile : 1;
  for (const auto& [word, its_factor] : {std::pair{std::string_view("km"), 1.0},
                                         std::pair{std::string_view("miles"), kKilometresInMile},
                                         std::pair{std::string_view("mi"), kKilometresInMile}})
    if (text.ends_with(word)) {
      text = trimmed(text.substr(0, text.size() - word.size()));
      factor = its_factor;
      break;
    }
  std::string plain;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == ' ') continue;
    // An odometer has no thousandths: a comma or point before three digits groups them.
    const bool mark = text[i] == ',' || text[i] == '.';
    if (mark && i > 0 && three_digits(text, i + 1)) continue;
    plain += text[i] == ',' ? '.' : text[i];
  }
  double value = 0;
  const auto [end, error] = std::from_chars(plain.data(), plain.data() + plain.size(), value);
  if (plain.empty() || error != std::errc() || end != plain.data() + plain.size() ||
      !std::isfinite(value) || value < 0)
    return std::nullopt;
  return value * factor;
}

std::string distance_for_typing(double km, DistanceUnit unit) {
  const double value = distance_in(km, unit);
  constexpr double kNearlyWhole = 0.05;
  if (std::abs(value - std::round(value)) < kNearlyWhole) return fmt::format("{:.0f}", value);
  return unit == DistanceUnit::mile ? fmt::format("{:.1f}", value) : fmt::format("{}", value);
}

std::string length_as_typed(std::string_view text, LengthUnit unit) {
  std::string typed(text);
  if (unit == LengthUnit::millimetre || trimmed(text).empty()) return typed;
  const bool has_unit =
      !unit_named_in(text).empty() || std::any_of(text.begin(), text.end(), is_letter);
  return has_unit ? typed : typed + " in";
}

std::string length_for_typing(double mm, LengthUnit unit) {
  if (unit == LengthUnit::millimetre) return fmt::format("{}", mm);
  constexpr double kMillimetresInInch = 25.4;
  std::string text = fmt::format("{:.4f}", mm / kMillimetresInInch);
  while (text.back() == '0' && text[text.size() - 2] != '.') text.pop_back();
  return text;
}

}  // namespace scantling
