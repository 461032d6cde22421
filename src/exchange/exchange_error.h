#pragma once

#include <stdexcept>

namespace scantling {

/// A file that came from elsewhere cannot be taken in, or one for elsewhere not
/// be made; what() is a sentence for the user. Nothing was changed.
class ExchangeError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

}  // namespace scantling
