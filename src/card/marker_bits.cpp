#include "card/marker_bits.h"

#include <opencv2/aruco/dictionary.hpp>
#include <stdexcept>
#include <string>

namespace scantling {

MarkerBits marker_bits(int id) {
  if (id < 0 || id >= kMarkerCount)
    throw std::out_of_range("There is no marker " + std::to_string(id) + " in the dictionary.");
  static const cv::Ptr<cv::aruco::Dictionary> dictionary =
      cv::aruco::getPredefinedDictionary(cv::aruco::DICT_4X4_250);
  const cv::Mat cells =
      cv::aruco::Dictionary::getBitsFromByteList(dictionary->bytesList.rowRange(id, id + 1), 4);
  MarkerBits bits{};
  for (int row = 0; row < 4; ++row)
    for (int column = 0; column < 4; ++column)
      bits[static_cast<std::size_t>(row)][static_cast<std::size_t>(column)] =
          cells.at<unsigned char>(row, column) != 0;
  return bits;
}

}  // namespace scantling
