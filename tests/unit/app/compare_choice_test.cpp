#include "app/compare_choice.h"

#include <gtest/gtest.h>

#include "app/compare_page.h"
#include "app/shown_size.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

class CompareChoices : public testing::Test {
 protected:
  CompareChoices() : record_(folder_ / "record.sqlite") {
    car_ = record_.add_vehicle({0, "Blue estate", "", "", ""});
  }

  Job add_job(const std::string& date, Axle axle = Axle::front) {
    Job job;
    job.vehicle_id = car_;
    job.date = date;
    job.axle = axle;
    job.id = record_.add_job(job);
    return job;
  }
  std::int64_t add_part(const Job& job, PartKind kind, Side side,
                        PadPlace place = PadPlace::inner) {
    Part part;
    part.job_id = job.id;
    part.kind = kind;
    part.side = side;
    part.place = place;
    return record_.add_part(part);
  }
  PhotoEntry add_photo(std::int64_t part, View view, const std::string& name,
                       std::optional<DiscFace> face = {}) {
    return record_.add_photo(part, view, folder_.file(name, name), face);
  }
  std::vector<std::string> names(const Job& job, const PhotoEntry& shown) {
    std::vector<std::string> list;
    for (const CompareChoice& choice : photos_to_compare(record_, job, shown))
      list.push_back(choice.photo.original_name);
    return list;
  }

  TemporaryFolder folder_;
  Record record_;
  std::int64_t car_ = 0;
};

TEST_F(CompareChoices, ThenComesBeforeTheRestOfTheJob) {
  const Job first = add_job("2024-05-01"), second = add_job("2025-05-01");
  const Job now = add_job("2026-05-01"), later = add_job("2027-05-01");
  const Job rear = add_job("2025-06-01", Axle::rear);
  for (const Job& job : {first, second, later, rear})
    add_photo(add_part(job, PartKind::pad, Side::left), View::pad, job.date + ".jpg");
  add_photo(add_part(second, PartKind::pad, Side::right), View::pad, "other side.jpg");
  const std::int64_t pad = add_part(now, PartKind::pad, Side::left);
  const std::int64_t outer = add_part(now, PartKind::pad, Side::left, PadPlace::outer);
  const std::int64_t disc = add_part(now, PartKind::disc, Side::left);
  add_photo(disc, View::rim, "rim.jpg");
  add_photo(outer, View::pad, "outer.jpg");
  add_photo(pad, View::pile, "pile.jpg");
  const PhotoEntry shown = add_photo(pad, View::pad, "shown.jpg");
  add_photo(pad, View::pad, "again.jpg");
  EXPECT_EQ(names(now, shown),
            (std::vector<std::string>{"2025-05-01.jpg", "2024-05-01.jpg", "2027-05-01.jpg",
                                      "again.jpg", "outer.jpg", "rim.jpg"}));
}

TEST_F(CompareChoices, ALipIsComparedWithTheSameFacesLip) {
  const Job before = add_job("2025-05-01"), now = add_job("2026-05-01");
  const std::int64_t then = add_part(before, PartKind::disc, Side::right);
  add_photo(then, View::rim, "rim then.jpg");
  add_photo(then, View::lip, "in then.jpg", DiscFace::inboard);
  add_photo(then, View::lip, "out then.jpg", DiscFace::outboard);
  const std::int64_t disc = add_part(now, PartKind::disc, Side::right);
  add_photo(disc, View::rim, "rim now.jpg");
  const PhotoEntry shown = add_photo(disc, View::lip, "out now.jpg", DiscFace::outboard);
  add_photo(disc, View::lip, "out again.jpg", DiscFace::outboard);
  EXPECT_EQ(names(now, shown),
            (std::vector<std::string>{"out then.jpg", "out again.jpg", "rim now.jpg"}));
}

TEST_F(CompareChoices, ALonePhotoHasNothingBesideIt) {
  const Job now = add_job("2026-05-01");
  const PhotoEntry shown =
      add_photo(add_part(now, PartKind::pad, Side::left), View::pad, "shown.jpg");
  EXPECT_TRUE(names(now, shown).empty());
  EXPECT_NE(nothing_to_compare().find("Add another photo"), std::string::npos);
}

TEST_F(CompareChoices, SaysWhenOrWhichPart) {
  Job before = add_job("2025-11-25");
  before.odometer_km = 71250;
  record_.update_job(before);
  add_photo(add_part(before, PartKind::pad, Side::left), View::pad, "then.jpg");
  const Job now = add_job("2026-11-25");
  const PhotoEntry shown =
      add_photo(add_part(now, PartKind::pad, Side::left), View::pad, "shown.jpg");
  add_photo(add_part(now, PartKind::pad, Side::left, PadPlace::outer), View::pad, "outer.jpg");
  const auto choices = photos_to_compare(record_, now, shown);
  ASSERT_EQ(choices.size(), 2u);
  EXPECT_EQ(choice_title(choices[0]),
            "25 November 2025, 71\u00A0"
            "250\u00A0km");
  EXPECT_EQ(choice_title(choices[1]), "Front left, outer pad");
}

TEST_F(CompareChoices, ThePageGoesRoundTheChoicesAndAsksForEachOnce) {
  const Job now = add_job("2026-05-01");
  const std::int64_t pad = add_part(now, PartKind::pad, Side::left);
  const PhotoEntry shown = add_photo(pad, View::pad, "shown.jpg");
  const PhotoEntry b = add_photo(pad, View::pad, "b.jpg"), c = add_photo(pad, View::pad, "c.jpg");
  ComparePage page;
  EXPECT_EQ(page.take_wanted(), 0);
  page.show();
  page.offer(shown.id, photos_to_compare(record_, now, shown));
  EXPECT_EQ(page.take_wanted(), b.id);
  EXPECT_EQ(page.take_wanted(), 0);  // it is on its way
  page.step(-1);
  EXPECT_EQ(page.choice()->photo.id, c.id);
  EXPECT_EQ(page.take_wanted(), c.id);
  page.step(1);
  EXPECT_EQ(page.choice()->photo.id, b.id);
  EXPECT_EQ(page.other(), nullptr);
  // The list made anew keeps what is looked at.
  page.step(1);
  page.offer(shown.id, photos_to_compare(record_, now, shown));
  EXPECT_EQ(page.choice()->photo.id, c.id);
  page.hide();
  EXPECT_EQ(page.choice(), nullptr);
}

Quantity size(double value_mm, double u_mm) {
  return combine_independent(value_mm, {{"all of it", u_mm, 1e9, ""}});
}

TEST(ShownSize, ADifferenceCountsOnlyBeyondTheJointUncertainty) {
  const std::string less = difference_words(size(5.00, 0.1), size(6.20, 0.1));
  EXPECT_EQ(less, "1.20 ± 0.28 mm less than in the other photo.");
  EXPECT_EQ(difference_words(size(6.20, 0.1), size(5.00, 0.1)),
            "1.20 ± 0.28 mm more than in the other photo.");
  EXPECT_NE(difference_words(size(6.2, 0.1), size(6.3, 0.1)).find("The two sizes agree"),
            std::string::npos);
}

TEST(ShownSize, ARimSaysThatItIsNotTheWornThickness) {
  Measurement rim;
  rim.view = View::rim;
  rim.dimensions.push_back({"rim_thickness", size(24.67, 0.25), 0.9, {}, {}});
  const auto shown = shown_size(nullptr, rim, {});
  ASSERT_TRUE(shown);
  EXPECT_NE(shown->words.find("over the lips"), std::string::npos);
}

TEST(ShownSize, AnEdgeThatWantsALookGivesNone) {
  Measurement rim;
  rim.view = View::rim;
  rim.dimensions.push_back({"rim_thickness", size(24.67, 0.25), 0.4, {}, {}});
  MeasuredEdge edge;
  edge.name = "face_a";
  edge.confidence = 0.4;
  rim.edges.push_back(edge);
  EXPECT_FALSE(shown_size(nullptr, rim, {}));
}

}  // namespace
}  // namespace scantling
