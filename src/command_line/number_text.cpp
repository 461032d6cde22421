#include "command_line/number_text.h"

#include <fmt/format.h>

#include <charconv>
#include <sstream>

namespace scantling {

namespace {

bool read_number(const std::string& text, double& number) {
  const char* end = text.data() + text.size();
  const auto [stop, error] = std::from_chars(text.data(), end, number);
  return error == std::errc() && stop == end;
}

}  // namespace

CLI::Validator wholly_a_number() {
  return {[](std::string& text) {
            double number = 0;
            return read_number(text, number)
                       ? std::string()
                       : fmt::format("'{}' is not a number: write it as 22.40", text);
          },
          ""};
}

std::vector<double> numbers_in(const std::string& option, const std::string& text, char separator,
                               std::size_t least, std::size_t most) {
  const auto refuse = [&](const std::string& what) {
    throw CLI::ValidationError(option, fmt::format("'{}': {}", text, what));
  };
  std::vector<double> numbers;
  std::istringstream parts(text + separator);
  for (std::string part; std::getline(parts, part, separator);) {
    double number = 0;
    if (!read_number(part, number)) refuse(fmt::format("'{}' is not a number", part));
    numbers.push_back(number);
  }
  if (numbers.size() < least || numbers.size() > most)
    refuse(fmt::format("give {} to {} numbers with '{}' between them", least, most, separator));
  return numbers;
}

}  // namespace scantling
