#pragma once

#include <algorithm>
#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include "report/axle_history.h"

namespace scantling {

/// The page that shows an axle's jobs through time, and the wear of each of its parts.
class HistoryPage {
 public:
  bool open() const { return open_; }
  void show() { open_ = true, key_.clear(), row_ = 0; }
  void hide() { open_ = false; }

  /// Whether what is kept was read for something else than `key`, which it is from now on.
  bool outdated(const std::string& key) {
    if (key == key_) return false;
    key_ = key;
    return true;
  }
  void take(std::vector<HistoryJob> jobs) {
    jobs_ = std::move(jobs);
    row_ = std::min(row_, jobs_.empty() ? 0 : jobs_.size() - 1);
  }
  const std::vector<HistoryJob>& jobs() const { return jobs_; }

  /// The row that the arrow keys are on.
  std::size_t row() const { return row_; }
  void go_to(std::size_t row) { row_ = row; }
  void step_row(int step) {
    if (jobs_.empty()) return;
    const auto last = static_cast<long>(jobs_.size()) - 1;
    row_ = static_cast<std::size_t>(std::clamp(static_cast<long>(row_) + step, 0L, last));
    follow_row_ = true;
  }
  /// True once after a key moved the row: it should be scrolled into sight.
  bool take_follow_row() { return std::exchange(follow_row_, false); }

 private:
  bool open_ = false;
  bool follow_row_ = false;
  std::string key_;
  std::size_t row_ = 0;
  std::vector<HistoryJob> jobs_;
};

}  // namespace scantling
