#include "photo/orientation.h"

#include <opencv2/core.hpp>

namespace scantling {

cv::Mat turned_upright(const cv::Mat& stored, int orientation) {
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
    case 5:  // mirrored about the falling diagonal
      cv::transpose(stored, upright);
      return upright;
    case 6:
      cv::rotate(stored, upright, cv::ROTATE_90_CLOCKWISE);
      return upright;
    case 7: {  // mirrored about the rising diagonal
      cv::transpose(stored, upright);
      cv::flip(upright, upright, -1);
      return upright;
    }
    case 8:
      cv::rotate(stored, upright, cv::ROTATE_90_COUNTERCLOCKWISE);
      return upright;
    default:
      return stored;
  }
}

}  // namespace scantling
