#include "app/frame_log.h"

#include <cstdlib>
#include <iomanip>

namespace scantling {

FrameLog::FrameLog() {
  if (const char* file = std::getenv("SCANTLING_FRAME_LOG"); file && *file) file_.open(file);
  file_ << std::fixed << std::setprecision(3);
}

void FrameLog::begin() {
  start_ = std::chrono::steady_clock::now();
}

void FrameLog::end() {
  if (!file_.is_open()) return;
  using Milliseconds = std::chrono::duration<double, std::milli>;
  const auto now = std::chrono::steady_clock::now();
  file_ << Milliseconds(now.time_since_epoch()).count() << ' ' << Milliseconds(now - start_).count()
        << std::endl;
}

}  // namespace scantling
