#pragma once

#include <stdexcept>

namespace scantling {

/// The record could not be opened, read or written; what() is a sentence with what to do next.
class RecordError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

}  // namespace scantling
