#pragma once

#include <chrono>
#include <fstream>

namespace scantling {

/// How long each frame took, from its first call to its picture handed over, for benchmarks. Where
/// the environment variable SCANTLING_FRAME_LOG names a file, one line a frame goes there: the
/// steady clock at its end in milliseconds, and the milliseconds it took. Else it does nothing.
class FrameLog {
 public:
  FrameLog();
  void begin();
  void end();

 private:
  std::ofstream file_;
  std::chrono::steady_clock::time_point start_;
};

}  // namespace scantling
