#pragma once

#include <CLI/App.hpp>
#include <string>
#include <vector>

namespace scantling {

/// The numbers of an argument such as "22.40,0.02", written with a point whatever the locale.
/// @throws CLI::ValidationError naming `option` and the text where a part is no number, or where
/// there are fewer than `least` or more than `most` of them.
std::vector<double> numbers_in(const std::string& option, const std::string& text, char separator,
                               std::size_t least, std::size_t most);

/// For options that take one number: refuses what is not wholly a number, also an empty text, which
/// the parser alone would take as 0.
CLI::Validator wholly_a_number();

}  // namespace scantling
