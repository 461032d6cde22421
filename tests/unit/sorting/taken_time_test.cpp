#include "sorting/taken_time.h"

#include <gtest/gtest.h>

namespace scantling {
namespace {

TEST(TakenTime, IsSecondsSince1970) {
  EXPECT_EQ(taken_time_s("1970:01:01 00:00:00"), std::nullopt) << "a clock that was never set";
  EXPECT_EQ(taken_time_s("2000:01:01 00:00:00"), 946684800);  // POSIX time, by definition
  const auto before = taken_time_s("2024:02:28 23:59:59"),
             after = taken_time_s("2024:02:29 00:00:01");
  ASSERT_TRUE(before && after);
  EXPECT_EQ(*after - *before, 2);
}

TEST(TakenTime, WhatIsNoTimeIsNone) {
  for (const char* text : {"", "0000:00:00 00:00:00", "2026:13:01 10:00:00", "2026:02:30 10:00:00",
                           "2026:05:16 25:00:00", "2026-05-16 10:00", "yesterday"})
    EXPECT_EQ(taken_time_s(text), std::nullopt) << text;
}

TEST(TakenTime, IsToldInPlainWords) {
  EXPECT_EQ(time_apart_words(0), "at the same second");
  EXPECT_EQ(time_apart_words(40), "40 s later");
  EXPECT_EQ(time_apart_words(393), "7 min later");
  EXPECT_EQ(time_apart_words(3 * 3600 + 60), "3 h later");
  EXPECT_EQ(time_apart_words(5 * 86400), "5 days later");
  EXPECT_EQ(clock_words("2026:05:16 10:12:31"), "10:12:31");
  EXPECT_EQ(clock_words("no time"), "");
}

}  // namespace
}  // namespace scantling
