#include "app/axle_map.h"

#include <gmock/gmock.h>

#include "support/temporary_folder.h"

namespace scantling {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;

struct AxleMap : testing::Test {
  TemporaryFolder folder;
  Session session{folder / "record.sqlite"};

  AxleMap() {
    Job job;
    job.date = "2026-11-25";
    session.start_job({0, "Blue estate", "", "", ""}, job);
  }
  MapPart part(PartSlot slot) const {
    const auto parts = map_parts(*session.job());
    const auto slots = map_slots();
    return parts.at(
        static_cast<std::size_t>(std::find(slots.begin(), slots.end(), slot) - slots.begin()));
  }
};

TEST_F(AxleMap, ShowsAllSixPartsAndSaysWhichPhotosAreMissing) {
  const MapPart pad = part({Side::left, PadPlace::outer});
  EXPECT_EQ(pad.state, "not measured");
  EXPECT_THAT(pad.missing, HasSubstr("the pad in the card's notch"));
  const MapPart disc = part(PartSlot::disc(Side::right));
  EXPECT_THAT(disc.missing, HasSubstr("the rim, the outboard lip, the inboard lip"));
}

TEST_F(AxleMap, AReadingByHandIsEnough) {
  session.select_part(PartSlot::disc(Side::right));
  session.set_minimum(22.4, "stamped on the part");
  session.add_reading({0, 0, "23.1", 23.1, 0.01, "micrometer", ""});
  const MapPart disc = part(PartSlot::disc(Side::right));
  EXPECT_EQ(disc.figure, "23.1 mm by hand");
  EXPECT_EQ(disc.state, "keep");
  EXPECT_THAT(disc.missing, IsEmpty());
  EXPECT_EQ(disc.minimum_mm, 22.4);
  EXPECT_EQ(part(PartSlot::disc(Side::left)).state, "not measured");
}

PhotoFinding photo_of(View view, std::optional<DiscFace> face = {}) {
  PhotoFinding finding;
  finding.photo.view = view;
  finding.photo.face = face;
  return finding;
}

std::string missing_of(std::vector<PhotoFinding> photos) {
  JobSummary job;
  PartSummary disc;
  disc.part.kind = PartKind::disc;
  disc.part.side = Side::left;
  disc.photos = std::move(photos);
  job.parts.push_back(std::move(disc));
  return map_parts(job).at(1).missing;
}

TEST(AxleMapOfADisc, AsksForTheSecondPhotoOfALip) {
  EXPECT_EQ(missing_of({photo_of(View::rim), photo_of(View::lip, DiscFace::outboard)}),
            "No photo yet: the inboard lip. One photo more: the outboard lip.");
  EXPECT_EQ(
      missing_of({photo_of(View::rim), photo_of(View::lip, DiscFace::outboard),
                  photo_of(View::lip, DiscFace::outboard), photo_of(View::lip, DiscFace::inboard)}),
      "One photo more: the inboard lip.");
}

TEST(AxleMapOfADisc, AsksForNoneWherePlanesGaveTheSize) {
  PhotoFinding face = photo_of(View::faces);
  EXPECT_NE(missing_of({face}), "") << "not solved";
  Dimension worn;
  worn.name = "worn_thickness";
  face.newest.emplace();
  face.newest->measurement.dimensions.push_back(worn);
  EXPECT_EQ(missing_of({face}), "");
}

TEST_F(AxleMap, DrawsAllSectionsToOneScaleThatFitsTheRoom) {
  auto parts = map_parts(*session.job());
  parts[1].over_lips_mm = 28;
  for (const double width_px : {300.0, 640.0, 1800.0}) {
    const MapScale scale = map_scale(parts, width_px, 14);
    EXPECT_NEAR(scale.column_px[0] + scale.column_px[1] + scale.column_px[2] + 28, width_px, 1e-9);
    EXPECT_GE(scale.column_px[1], 28 * scale.px_per_mm);
    EXPECT_GT(scale.px_per_mm, 0);
  }
}

}  // namespace
}  // namespace scantling
