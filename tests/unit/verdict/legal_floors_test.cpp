#include "verdict/legal_floors.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <limits>
#include <stdexcept>
#include <string>

namespace scantling {
namespace {

const LegalFloor& floor_of(std::string_view source, double floor_mm) {
  for (const LegalFloor& floor : legal_floors())
    if (floor.source.find(source) != std::string_view::npos && floor.floor_mm == floor_mm)
      return floor;
  throw std::invalid_argument("no such floor");
}

// MOT inspection manual 1.1.13 (a)(ii): "below 1.5 mm"; 1.5 mm is not below 1.5 mm.
TEST(LegalFloors, KeepTheEdgeOfTheUnitedKingdomsRule) {
  const LegalFloor& floor = floor_of("MOT", 1.5);
  EXPECT_FALSE(fails(floor, 1.5));
  EXPECT_TRUE(fails(floor, 1.499));
}

// 49 CFR 393.47(d): "1.6 mm or less" fails at 1.6 mm; the air disc's 3.2 mm does not.
TEST(LegalFloors, KeepTheEdgesOfTheUnitedStatesRule) {
  EXPECT_TRUE(fails(floor_of("393.47", 1.6), 1.6));
  EXPECT_FALSE(fails(floor_of("393.47", 1.6), 1.601));
  EXPECT_FALSE(fails(floor_of("393.47", 3.2), 3.2));
  EXPECT_TRUE(fails(floor_of("393.47", 3.2), 3.199));
}

TEST(LegalFloors, StateASourceAndAClauseEach) {
  EXPECT_THAT(legal_floors(), testing::Not(testing::IsEmpty()));
  for (const LegalFloor& floor : legal_floors()) {
    EXPECT_FALSE(floor.source.empty() || floor.clause.empty() || floor.as_printed.empty());
    EXPECT_GT(floor.floor_mm, 0);
    EXPECT_TRUE(fails(floor, std::numeric_limits<double>::quiet_NaN()));
  }
  for (const LegalNote& note : legal_notes()) EXPECT_FALSE(note.source.empty());
}

TEST(LegalFloors, NeverCallThemselvesAMinimumOrFit) {
  EXPECT_THAT(std::string(legal_floors_heading()), testing::HasSubstr("maker comes first"));
  const auto words = [](std::string_view text) { return std::string(text); };
  for (const LegalFloor& floor : legal_floors())
    EXPECT_THAT(words(floor.applies_to) + words(floor.as_printed),
                testing::Not(testing::ContainsRegex("legal|safe|fit |minimum")));
}

}  // namespace
}  // namespace scantling
