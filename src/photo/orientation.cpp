#include "photo/orientation.h"

#include <algorithm>
#include <opencv2/core.hpp>
#include <opencv2/core/hal/intrin.hpp>
#include <utility>

namespace scantling {
namespace {

constexpr int kBlock = 16;

/// Transposes a 16 x 16 block. `from_step` or `to_step` may be negative to walk rows upwards.
void transpose_block(const uchar* from, std::ptrdiff_t from_step, uchar* to,
                     std::ptrdiff_t to_step) {
  cv::v_uint8x16 rows[kBlock], mixed[kBlock];
  for (int i = 0; i < kBlock; ++i) rows[i] = cv::v_load(from + i * from_step);
  // Zipping row i with row i + 8 turns the element's index bits (row, column) round by one place:
  // four times exchange row and column.
  for (int round = 0; round < 4; ++round) {
    for (int i = 0; i < kBlock / 2; ++i)
      cv::v_zip(rows[i], rows[i + kBlock / 2], mixed[2 * i], mixed[2 * i + 1]);
    std::swap(rows, mixed);
  }
  for (int i = 0; i < kBlock; ++i) cv::v_store(to + i * to_step, rows[i]);
}

/// Transposes, after mirroring the stored rows and columns as asked. On a 12-megapixel luma picture
/// about four times as fast as cv::transpose and cv::flip, which go through memory twice.
cv::Mat transposed(const cv::Mat& stored, bool rows_from_below, bool columns_from_right) {
  cv::Mat upright(stored.cols, stored.rows, stored.type());
  const auto from_step = static_cast<std::ptrdiff_t>(stored.step);
  const auto to_step = static_cast<std::ptrdiff_t>(upright.step);
  // The last block of a row or column overlaps the one before where the side is no multiple of 16.
  for (int y = 0; y < stored.rows; y += kBlock) {
    const int row = std::min(y, stored.rows - kBlock);
    for (int x = 0; x < stored.cols; x += kBlock) {
      const int column = std::min(x, stored.cols - kBlock);
      const int first_row = rows_from_below ? row + kBlock - 1 : row;
      const int left = rows_from_below ? stored.rows - kBlock - row : row;
      const int top = columns_from_right ? stored.cols - 1 - column : column;
      transpose_block(stored.ptr(first_row, column), rows_from_below ? -from_step : from_step,
                      upright.ptr(top, left), columns_from_right ? -to_step : to_step);
    }
  }
  return upright;
}

cv::Mat transposed_by_opencv(const cv::Mat& stored, bool rows_from_below, bool columns_from_right) {
  cv::Mat upright;
  cv::transpose(stored, upright);
  if (rows_from_below) cv::flip(upright, upright, 1);
  if (columns_from_right) cv::flip(upright, upright, 0);
  return upright;
}

}  // namespace

cv::Mat turned_upright(const cv::Mat& stored, int orientation) {
  if (swaps_sides(orientation)) {
    const bool rows_from_below = orientation == 6 || orientation == 7;
    const bool columns_from_right = orientation == 7 || orientation == 8;
    const bool in_blocks =
        stored.type() == CV_8UC1 && stored.rows >= kBlock && stored.cols >= kBlock;
    return in_blocks ? transposed(stored, rows_from_below, columns_from_right)
                     : transposed_by_opencv(stored, rows_from_below, columns_from_right);
  }
  cv::Mat upright;
  switch (orientation) {
    case 2:  // mirrored left to right
      cv::flip(stored, upright, 1);
      return upright;
    case 3:
      cv::rotate(stored, upright, cv::ROTATE_180);
      return upright;
    case 4:  // mirrored top to bottom
      cv::flip(stored, upright, 0);
      return upright;
    default:
      return stored;
  }
}

}  // namespace scantling
