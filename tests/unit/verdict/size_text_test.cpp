#include "verdict/size_text.h"

#include <gtest/gtest.h>

namespace scantling {
namespace {

TEST(SizeText, ShowsTwoDecimalsUnlessTwoSizesWouldReadTheSame) {
  EXPECT_EQ(size_text(22.3), "22.30 mm");
  EXPECT_EQ(size_text(22.0, 21.5), "22.00 mm");
  EXPECT_EQ(size_text(21.998, 22.0), "21.998 mm");
  EXPECT_EQ(size_text(22.0, 22.0), "22.00 mm");
}

TEST(ChanceText, NeverClaimsCertainty) {
  EXPECT_EQ(chance_text(0), "less than 0.1 %");
  EXPECT_EQ(chance_text(0.0227), "2.3 %");
  EXPECT_EQ(chance_text(1), "more than 99.9 %");
}

}  // namespace
}  // namespace scantling
