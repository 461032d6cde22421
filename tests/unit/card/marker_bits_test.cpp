#include "card/marker_bits.h"

#include <gtest/gtest.h>

#include <opencv2/aruco.hpp>
#include <stdexcept>

namespace scantling {
namespace {

TEST(MarkerBits, AgreeWithTheMarkersThatOpenCvDraws) {
  const auto dictionary = cv::aruco::getPredefinedDictionary(cv::aruco::DICT_4X4_250);
  for (int id = 0; id < kMarkerCount; ++id) {
    cv::Mat drawn;
    cv::aruco::drawMarker(dictionary, id, 6, drawn);  // one pixel a cell, border included
    const MarkerBits bits = marker_bits(id);
    for (int row = 0; row < 4; ++row)
      for (int column = 0; column < 4; ++column)
        ASSERT_EQ(bits[static_cast<std::size_t>(row)][static_cast<std::size_t>(column)],
                  drawn.at<unsigned char>(row + 1, column + 1) > 127)
            << "id " << id << " row " << row << " column " << column;
  }
}

TEST(MarkerBits, FirstMarkerAsPrinted) {
  // Read off a printed card: marker 0 of the 4x4 dictionaries.
  const MarkerBits expected{{{true, false, true, true},
                             {false, true, false, true},
                             {false, false, true, true},
                             {false, false, true, false}}};
  EXPECT_EQ(marker_bits(0), expected);
}

TEST(MarkerBits, RefusesIdsOutsideTheDictionary) {
  EXPECT_THROW(marker_bits(-1), std::out_of_range);
  EXPECT_THROW(marker_bits(250), std::out_of_range);
}

}  // namespace
}  // namespace scantling
