#pragma once

#include <stdexcept>

namespace scantling {

/// The record could not be opened, read or written; what() is a sentence with what to do next.
class RecordError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// The record's file is damaged: rescue_record() may still read part of it.
class DamagedRecord : public RecordError {
 public:
  using RecordError::RecordError;
};

}  // namespace scantling
