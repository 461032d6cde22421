#pragma once

#include <cstdio>
#include <cstdlib>

namespace scantling::fuzz {

/// Ends the fuzzer with the broken promise in words.
inline void require(bool holds, const char* what) {
  if (holds) return;
  std::fprintf(stderr, "broken promise: %s\n", what);
  std::abort();
}

}  // namespace scantling::fuzz
