#include "app/measuring_log.h"

#include <gmock/gmock.h>

namespace scantling {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

Session::WantedPhoto wanted(std::int64_t id, double offset_mm, bool due = true) {
  MeasureOptions options;
  options.part_offset.offset_mm = offset_mm;
  return {id, options, due};
}

std::vector<std::int64_t> ids(const MeasuringLog::Wanted& photos) {
  std::vector<std::int64_t> list;
  for (const Session::WantedPhoto& photo : photos) list.push_back(photo.photo_id);
  return list;
}

TEST(MeasuringLog, BeginsEachPhotoOnceForWhatItIsMeasuredWith) {
  MeasuringLog log;
  const MeasuringLog::Wanted photos = {wanted(1, 0), wanted(2, 0), wanted(3, 0, false)};
  EXPECT_THAT(ids(log.to_begin(photos)), ElementsAre(1, 2));
  log.begun(1, photos[0].options);
  EXPECT_THAT(ids(log.to_begin(photos)), ElementsAre(2));
  log.ended(1);  // in vain: it is due as before
  EXPECT_THAT(ids(log.to_begin(photos)), ElementsAre(2));
  EXPECT_EQ(log.left(photos), 1u);
  EXPECT_THAT(ids(log.to_begin({wanted(1, 2)})), ElementsAre(1)) << "something else was entered";
}

TEST(MeasuringLog, ForgetsWhatWasMeasured) {
  MeasuringLog log;
  log.begun(1, wanted(1, 0).options);
  log.ended(1);
  EXPECT_THAT(ids(log.to_begin({wanted(1, 0, false)})), IsEmpty());
  EXPECT_THAT(ids(log.to_begin({wanted(1, 0)})), ElementsAre(1)) << "an edit was taken back";
}

TEST(MeasuringLog, AStopHoldsUntilTheUserGoesOn) {
  MeasuringLog log;
  const MeasuringLog::Wanted photos = {wanted(1, 0), wanted(2, 0)};
  for (const auto& photo : photos) log.begun(photo.photo_id, photo.options);
  EXPECT_EQ(log.left(photos), 0u) << "on their way";
  log.stop();
  EXPECT_EQ(log.left(photos), 2u);
  EXPECT_THAT(ids(log.to_begin(photos)), IsEmpty());
  log.go_on();
  EXPECT_EQ(log.left(photos), 0u);
  EXPECT_THAT(ids(log.to_begin(photos)), ElementsAre(1, 2));
}

TEST(MeasuringLog, WhatWasOvertakenIsBegunAgainButNotForEver) {
  MeasuringLog log;
  const MeasuringLog::Wanted photos = {wanted(1, 0)};
  int begun = 0;
  while (!log.to_begin(photos).empty() && begun < 100) {
    ++begun;
    log.begun(1, photos[0].options);
    log.overtaken(1);
  }
  EXPECT_GT(begun, 1);
  EXPECT_LT(begun, 20);
  EXPECT_EQ(log.left(photos), 1u);
}

}  // namespace
}  // namespace scantling
