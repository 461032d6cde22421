#include "verdict/hand_reading_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace scantling {

namespace {

LengthText refused(std::string sentence) {
  return {std::nullopt, false, 0, std::move(sentence)};
}

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view kBlank = " \t\r\n";
  const std::size_t first = text.find_first_not_of(kBlank);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(kBlank) - first + 1);
}

bool all_digits(std::string_view text) {
  return !text.empty() &&
         std::all_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
}

std::optional<double> whole_number(std::string_view text) {
  double value = 0;
  if (!all_digits(text) || text.size() > 6) return std::nullopt;
  std::from_chars(text.data(), text.data() + text.size(), value);
  return value;
}

/// Digits with at most one point or comma between or before them; no sign, no exponent.
std::optional<double> decimal_number(std::string_view text) {
  std::string plain(text);
  std::replace(plain.begin(), plain.end(), ',', '.');
  const std::size_t mark = plain.find('.');
  std::string digits = plain;
  if (mark != std::string::npos) digits.erase(mark, 1);
  if (!all_digits(digits) || digits.size() > 12) return std::nullopt;
  double value = 0;
  std::from_chars(plain.data(), plain.data() + plain.size(), value);
  return value;
}

/// Of the last digit: 1 for "22", 0.1 for "22.4" and "22,4".
double typed_step(std::string_view number) {
  const std::size_t mark = number.find_first_of(".,");
  if (mark == std::string_view::npos) return 1;
  return std::pow(10.0, -static_cast<double>(number.size() - mark - 1));
}

/// "57/64", "1 1/8", "1-1/8": numerator and denominator kept apart, so that the one rounding
/// happens in the last division.
struct Fraction {
  double numerator = 0;
  double denominator = 1;
};

std::optional<Fraction> fraction(std::string_view text) {
  const std::size_t slash = text.find('/');
  const std::optional<double> denominator = whole_number(trimmed(text.substr(slash + 1)));
  std::string_view before = trimmed(text.substr(0, slash));
  double whole = 0;
  if (const std::size_t gap = before.find_last_of(" -"); gap != std::string_view::npos) {
    std::string_view first = trimmed(before.substr(0, gap));
    const std::optional<double> number = whole_number(first);
    if (!number) return std::nullopt;
    whole = *number;
    before = before.substr(gap + 1);
  }
  const std::optional<double> numerator = whole_number(before);
  if (!numerator || !denominator || *denominator == 0) return std::nullopt;
  return Fraction{whole * *denominator + *numerator, *denominator};
}

/// In millimetres as a fraction of whole numbers, which doubles hold exactly: an inch is 127/5 mm.
struct Unit {
  std::string_view word;
  double mm_numerator;
  double mm_denominator;
  bool inches;
};

// Longer words first: "inch" must not be read as "in" with something behind it. The quotation marks
// that keyboards put in place of the inch sign are taken for it.
constexpr std::array<Unit, 13> kUnits{{{"millimetres", 1, 1, false},
                                       {"millimeters", 1, 1, false},
                                       {"mm", 1, 1, false},
                                       {"cm", 10, 1, false},
                                       {"inches", 127, 5, true},
                                       {"inch", 127, 5, true},
                                       {"in.", 127, 5, true},
                                       {"in", 127, 5, true},
                                       {"thou", 127, 5000, true},
                                       {"\"", 127, 5, true},
                                       {"\xE2\x80\xB3", 127, 5, true},  // double prime
                                       {"\xE2\x80\x9D", 127, 5, true},  // closing quote
                                       {"''", 127, 5, true}}};

const Unit* unit_at_end(std::string_view lower) {
  const auto named = std::find_if(kUnits.begin(), kUnits.end(),
                                  [&](const Unit& unit) { return lower.ends_with(unit.word); });
  return named == kUnits.end() ? nullptr : &*named;
}

std::string lower_case(std::string_view text) {
  std::string lower(text);
  std::transform(lower.begin(), lower.end(), lower.begin(), [](char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  });
  return lower;
}

}  // namespace

std::string with_plain_spaces(std::string_view text) {
  constexpr std::array<std::string_view, 4> kOthers{"\xC2\xA0", "\xE2\x80\xAF", "\xE2\x80\x87",
                                                    "\xE2\x80\x89"};
  std::string plain;
  for (std::size_t i = 0; i < text.size();) {
    const auto* const other =
        std::find_if(kOthers.begin(), kOthers.end(),
                     [&](std::string_view space) { return text.substr(i).starts_with(space); });
    plain += other == kOthers.end() ? text[i] : ' ';
    i += other == kOthers.end() ? 1 : other->size();
  }
  return plain;
}

std::string unit_named_in(std::string_view text) {
  const std::string plain = with_plain_spaces(text);
  const std::string lower = lower_case(trimmed(plain));
  const Unit* unit = unit_at_end(lower);
  return unit ? std::string(unit->word) : std::string();
}

std::string with_unit_of(std::string_view reading, std::string_view side) {
  std::string typed(side);
  if (trimmed(with_plain_spaces(side)).empty() || !unit_named_in(side).empty()) return typed;
  const std::string unit = unit_named_in(reading);
  return unit.empty() ? typed : typed + " " + unit;
}

LengthText length_from_text(std::string_view text) {
  const std::string plain = with_plain_spaces(text);
  const std::string lower = lower_case(trimmed(plain));
  if (lower.empty()) return refused("Type the size you read, such as 22.4 mm or 7/8 in.");
  std::string_view number = lower;
  const Unit* unit = unit_at_end(number);
  if (unit) number = trimmed(number.substr(0, number.size() - unit->word.size()));
  if (number.starts_with('-') || number.starts_with("\xE2\x88\x92"))
    return refused("A size is not negative: type it without the minus sign.");
  if (number.starts_with('+')) number = trimmed(number.substr(1));

  LengthText length;
  length.in_inches = unit && unit->inches;
  if (number.find('/') != std::string_view::npos) {
    if (!unit) return refused("A fraction needs its unit: write it as 7/8 in.");
    if (!unit->inches) return refused("Fractions are read in inches only: write it as 22.4 mm.");
    const std::optional<Fraction> parts = fraction(number);
    if (!parts) return refused("That fraction cannot be read: write it as 57/64 in or 1 1/8 in.");
    length.value_mm =
        parts->numerator * unit->mm_numerator / (parts->denominator * unit->mm_denominator);
    length.step_mm = unit->mm_numerator / (parts->denominator * unit->mm_denominator);
  } else {
    const std::optional<double> value = decimal_number(number);
    if (!value)
      return refused("That is no size: write one number and its unit, such as 22.4 mm or .881 in.");
    length.value_mm = unit ? *value * unit->mm_numerator / unit->mm_denominator : *value;
    length.step_mm = typed_step(number) * (unit ? unit->mm_numerator / unit->mm_denominator : 1);
  }
  if (*length.value_mm > kThickestPart_mm)
    return refused(
        fmt::format("{:.1f} mm is thicker than any pad or disc: check the figure and its "
                    "unit.",
                    *length.value_mm));
  return length;
}

}  // namespace scantling
