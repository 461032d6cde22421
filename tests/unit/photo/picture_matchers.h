#pragma once

#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>
#include <opencv2/core.hpp>

#include "photo/photo.h"

namespace scantling {

/// No 8-bit value differs by more than `tolerance`, and the mean difference stays below a quarter
/// of it.
MATCHER_P2(LooksLike, expected, tolerance, "looks like the expected picture") {
  const cv::Mat& want = expected;
  if (arg.size() != want.size() || arg.type() != want.type()) {
    *result_listener << "which is " << arg.cols << " x " << arg.rows << ", type " << arg.type();
    return false;
  }
  const double worst = cv::norm(arg, want, cv::NORM_INF);
  const double mean =
      cv::norm(arg, want, cv::NORM_L1) / static_cast<double>(want.total() * want.elemSize());
  *result_listener << "whose worst difference is " << worst << " and mean difference " << mean;
  return worst <= tolerance && mean <= tolerance / 4.0;
}

inline std::string ids_of(const std::vector<Check>& checks) {
  std::string ids;
  for (const Check& check : checks) {
    if (!ids.empty()) ids.append(" ");
    ids.append(severity_word(check.severity)).append(":").append(check.id);
  }
  return ids;
}

}  // namespace scantling
