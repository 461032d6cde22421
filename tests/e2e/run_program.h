#pragma once

#include <string>
#include <vector>

namespace scantling::test {

struct ProgramResult {
  int exit_status = -1;  ///< 128 + signal where a signal ended it
  std::string output;    ///< standard output
  std::string errors;    ///< standard error
};

/// Runs the built `scantling` with the arguments, without a shell, without standard input.
ProgramResult run_scantling(const std::vector<std::string>& arguments);

}  // namespace scantling::test
