#pragma once

#include <gtest/gtest.h>

#include <cstdio>
#include <source_location>
#include <string>

namespace scantling {

/// `value` with as many decimals as `printed` has.
inline std::string in_digits_of(const std::string& printed, double value) {
  const std::size_t point = printed.find('.');
  const int decimals =
      point == std::string::npos ? 0 : static_cast<int>(printed.size() - point - 1);
  char text[64];
  std::snprintf(text, sizeof text, "%.*f", decimals, value);
  std::string rounded = text;
  // A mean of nothing may round to minus nothing.
  if (rounded.starts_with('-') && rounded.find_first_of("123456789") == std::string::npos)
    rounded.erase(0, 1);
  return rounded;
}

/// Rounded to the digits that the source prints, the value must read as it does there. Give it in
/// the source's unit, without the spaces that group digits.
inline void expect_printed(double value, const std::string& printed,
                           std::source_location where = std::source_location::current()) {
  if (in_digits_of(printed, value) == printed) return;
  ADD_FAILURE_AT(where.file_name(), static_cast<int>(where.line()))
      << value << " reads " << in_digits_of(printed, value) << ", printed " << printed;
}

}  // namespace scantling
