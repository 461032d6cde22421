#include "report/length_unit.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <vector>

#include "verdict/instrument.h"

namespace scantling {

namespace {

constexpr double kMillimetresInInch = 25.4;
constexpr int kFewestDecimals = 3;

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

struct Number {
  std::size_t at = 0, end = 0;
  double value = 0;
  int decimals = 0;
};

/// The number that begins here; nothing where none does.
bool read_number(std::string_view text, std::size_t at, Number& number) {
  std::size_t i = at;
  if (i < text.size() && (text[i] == '+' || text[i] == '-')) ++i;
  const std::size_t digits = i;
  while (i < text.size() && is_digit(text[i])) ++i;
  if (i == digits) return false;
  number.decimals = 0;
  if (i + 1 < text.size() && text[i] == '.' && is_digit(text[i + 1])) {
    const std::size_t point = i++;
    while (i < text.size() && is_digit(text[i])) ++i;
    number.decimals = static_cast<int>(i - point - 1);
  }
  const char* begin = text.data() + (text[at] == '+' ? at + 1 : at);
  std::from_chars(begin, text.data() + i, number.value);
  number.at = at;
  number.end = i;
  return true;
}

/// What may stand between the numbers of one length: an interval, a pair, a range.
std::size_t between_numbers(std::string_view text, std::size_t at) {
  constexpr std::array<std::string_view, 5> kBetween{"\u00A0±\u00A0", " ± ", " and ", " to ", "–"};
  for (const std::string_view word : kBetween)
    if (text.substr(at).starts_with(word)) return word.size();
  return 0;
}

/// The length of " mm" here, the blank included; 0 where there is none.
std::size_t unit_length(std::string_view text, std::size_t at) {
  for (const std::string_view word : {std::string_view(" mm"), std::string_view("\u00A0mm")})
    if (text.substr(at).starts_with(word)) {
      const std::size_t end = at + word.size();
      return end < text.size() && (is_letter(text[end]) || is_digit(text[end])) ? 0 : word.size();
    }
  return 0;
}

/// "3.2 mm (1/8 in)" says it in both already.
bool inches_follow(std::string_view text, std::size_t at) {
  const std::string_view rest = text.substr(at);
  const std::size_t end = rest.find(')');
  return rest.starts_with(" (") && end != std::string_view::npos &&
         rest.substr(0, end).ends_with(" in");
}

std::size_t instrument_name(std::string_view text, std::size_t at) {
  for (const Instrument& instrument : instruments())
    if (text.substr(at).starts_with(instrument.name)) return instrument.name.size();
  return 0;
}

std::string as_inches(const Number& number, std::string_view text) {
  const char* sign = text[number.at] == '+' ? "+" : "";
  if (number.value == 0 && number.decimals == 0) return "0";
  const double inches = number.value / kMillimetresInInch;
  int decimals = std::max(kFewestDecimals, number.decimals + 1);
  // What is small in millimetres must not turn into nothing.
  while (inches != 0 && decimals < 7 && std::abs(inches) < 0.5 * std::pow(10.0, -decimals))
    ++decimals;
  return fmt::format("{}{:.{}f}", sign, inches, decimals);
}

}  // namespace

std::string in_unit(std::string_view text, LengthUnit unit) {
  if (unit == LengthUnit::millimetre) return std::string(text);
  std::string out;
  for (std::size_t i = 0; i < text.size();) {
    if (const std::size_t name = instrument_name(text, i)) {
      out += text.substr(i, name);
      i += name;
      continue;
    }
    Number number;
    const bool begins = i == 0 || !(is_digit(text[i - 1]) || is_letter(text[i - 1]) ||
                                    text[i - 1] == '.' || text[i - 1] == '/');
    if (!begins || !read_number(text, i, number)) {
      out += text[i++];
      continue;
    }
    std::vector<Number> group{number};
    std::size_t end = number.end;
    while (const std::size_t gap = between_numbers(text, end)) {
      if (!read_number(text, end + gap, number)) break;
      group.push_back(number);
      end = number.end;
    }
    const std::size_t word = unit_length(text, end);
    if (word == 0 || inches_follow(text, end + word)) {
      // No length, or only the last of the group's numbers begins one.
      out += text.substr(i, group.front().end - i);
      i = group.front().end;
      continue;
    }
    std::size_t done = i;
    for (const Number& one : group) {
      out += text.substr(done, one.at - done);
      out += as_inches(one, text);
      done = one.end;
    }
    out += text.substr(end, word - 2);  // the blank as it was
    out += "in";
    i = end + word;
  }
  return out;
}

const char* unit_word(LengthUnit unit) {
  return unit == LengthUnit::inch ? "in" : "mm";
}

}  // namespace scantling
