// What a user can do with an analysed photo: drag an edge, snap it, tell the print's scale and the
// part's offset. On drawn photos, whose truth is known.

#include "dimension/analysis.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <opencv2/core.hpp>

#include "dimension/looked_at.h"
#include "dimension/plane_scene.h"
#include "support/drawn_file.h"
#include "support/drawn_truth.h"

namespace scantling {
namespace {

drawn::DrawnScene scene_of(double taper_per_mm) {
  drawn::DrawnScene scene;
  scene.camera.width_px = 1840;
  scene.camera.height_px = 1240;
  scene.camera.focal_px = 2100;
  scene.camera.distance_mm = 260;
  scene.pad.taper_per_mm = taper_per_mm;
  return scene;
}

/// Drawn once, with a blank patch in a corner of the photo.
const Photo& photo_of(double taper_per_mm) {
  static std::vector<std::pair<double, Photo>> drawn;
  for (const auto& [taper, photo] : drawn)
    if (taper == taper_per_mm) return photo;
  const drawn::DrawnScene scene = scene_of(taper_per_mm);
  Photo photo = drawn::as_photo(scene, drawn::draw(scene));
  photo.luma = photo.luma.clone();
  photo.luma(cv::Rect(0, 0, 420, 160)).setTo(120);
  return drawn.emplace_back(taper_per_mm, std::move(photo)).second;
}

MeasureOptions checked_sheet() {
  MeasureOptions options;
  options.sheet_scale.standard_uncertainty = 0.002;
  options.sheet_scale.checked = true;
  return options;
}

Analysis analyse(const MeasureOptions& options = checked_sheet(), double taper_per_mm = 0) {
  PhotoLoad load;
  load.photo = photo_of(taper_per_mm);
  return Analysis::run(std::move(load), options);
}

const Analysis& plain() {
  static const Analysis analysis = analyse();
  return analysis;
}

double size(const Measurement& m, const char* name) {
  const Dimension* d = m.dimension(name);
  return d ? d->quantity.value_mm : NAN;
}

EdgeSegment ends(const Measurement& m, const char* name) {
  const auto& points = m.edge(name)->points_px;
  return {points.front(), points.back()};
}

TEST(Analysis, MeasuresADrawnPad) {
  const Measurement& m = plain().measurement();
  ASSERT_TRUE(m.usable());
  const drawn::DrawnPad& pad = scene_of(0).pad;
  for (const auto& [name, truth] : {std::pair{"overall_thickness", pad.plate_mm + pad.friction_mm},
                                    std::pair{"plate_thickness", pad.plate_mm},
                                    std::pair{"friction_thickness", pad.friction_mm}}) {
    const Dimension* d = m.dimension(name);
    ASSERT_TRUE(d);
    std::printf("%s: %.3f mm, truth %.3f, standard uncertainty %.3f\n", name, d->quantity.value_mm,
                truth, d->quantity.standard_uncertainty_mm);
    EXPECT_NEAR(d->quantity.value_mm, truth, 3 * d->quantity.standard_uncertainty_mm) << name;
  }
}

TEST(Analysis, TheLightAcrossAnEdgeHasItsStepWhereTheEdgeWasFound) {
  const Measurement& m = plain().measurement();
  ASSERT_TRUE(m.usable());
  for (const char* name : {"plate_outer", "plate_friction", "friction_outer"}) {
    const auto light = plain().light_across(ends(m, name));
    ASSERT_TRUE(light && light->profile.fitted) << name;
    std::printf("%s: %.3f +- %.3f px, blur %.2f px (of the edge: %.2f)\n", name,
                light->profile.place_px, light->profile.place_u_px, light->profile.blur_px,
                m.edge(name)->blur_px);
    // Between plate and friction material a highlight's fall is read as the edge's front: the bare
    // step lies before the line, on the plate.
    const bool corrected = std::string(name) == "plate_friction";
    EXPECT_NEAR(light->profile.place_px, corrected ? -1.5 : 0, 0.5) << name;
    EXPECT_NEAR(light->mm_per_px, 1 / m.card->px_per_mm, 0.1 / m.card->px_per_mm) << name;
  }
}

TEST(Analysis, TheLightAcrossAMovedLineShowsHowFarOffTheEdgeLies) {
  const Measurement& m = plain().measurement();
  ASSERT_TRUE(m.usable());
  const EdgeSegment found = ends(m, "friction_outer");
  const auto there = plain().light_across(found);
  ASSERT_TRUE(there && there->profile.fitted);
  // Along the way that the profile counts, whichever way the line is drawn.
  const double dx = there->last.x - there->first.x, dy = there->last.y - there->first.y;
  const double length = std::hypot(dx, dy);
  EXPECT_GT(distance_px(ends(m, "plate_outer").a, there->last),
            distance_px(ends(m, "plate_outer").a, there->first));
  EdgeSegment beside{{found.b.x + 3 * dx / length, found.b.y + 3 * dy / length},
                     {found.a.x + 3 * dx / length, found.a.y + 3 * dy / length}};
  const auto light = plain().light_across(beside);
  ASSERT_TRUE(light && light->profile.fitted);
  EXPECT_NEAR(light->profile.place_px, there->profile.place_px - 3, 0.3);
}

TEST(Analysis, AMovedEdgeMovesItsSizesAlone) {
  const Measurement& before = plain().measurement();
  ASSERT_TRUE(before.usable());
  EdgeSegment segment = ends(before, "friction_outer");
  const Point_px foot = ends(before, "plate_outer").a;
  // Ten pixels away from the plate, at right angles to the edge.
  const double dx = segment.b.x - segment.a.x, dy = segment.b.y - segment.a.y;
  double nx = -dy / std::hypot(dx, dy), ny = dx / std::hypot(dx, dy);
  if ((foot.x - segment.a.x) * nx + (foot.y - segment.a.y) * ny > 0) {
    nx = -nx;
    ny = -ny;
  }
  for (Point_px* end : {&segment.a, &segment.b}) {
    end->x += 10 * nx;
    end->y += 10 * ny;
  }
  const std::vector<MovedEdge> moved{{"friction_outer", segment}};
  const Measurement after = plain().with_edges(moved);
  const double step_mm = 10 / before.card->px_per_mm;
  const double gain = size(after, "friction_thickness") - size(before, "friction_thickness");
  std::printf("10 px are %.3f mm; the friction material gained %.3f mm\n", step_mm, gain);
  EXPECT_NEAR(gain, step_mm, 0.05 * step_mm);
  EXPECT_NEAR(size(after, "overall_thickness") - size(before, "overall_thickness"), step_mm,
              0.05 * step_mm);
  EXPECT_EQ(size(after, "plate_thickness"), size(before, "plate_thickness"));
  for (const MeasuredEdge& edge : after.edges) {
    const bool is_moved = edge.name == "friction_outer";
    EXPECT_EQ(edge.origin, is_moved ? EdgeOrigin::moved : EdgeOrigin::found) << edge.name;
    const double off =
        distance_px(edge.points_px.front(), before.edge(edge.name)->points_px.front());
    EXPECT_NEAR(off, is_moved ? 10 : 0, is_moved ? 0.2 : 0) << edge.name;
  }
  // The analysis itself stays as found.
  EXPECT_EQ(plain().measurement().edge("friction_outer")->origin, EdgeOrigin::found);
  EXPECT_EQ(size(plain().with_edges({}), "friction_thickness"), size(before, "friction_thickness"));
}

TEST(Analysis, APadPutUpsideDownByHandHasNoSizesBelowZero) {
  const Measurement& before = plain().measurement();
  const std::vector<MovedEdge> exchanged{{"plate_outer", ends(before, "friction_outer")},
                                         {"friction_outer", ends(before, "plate_outer")}};
  const Measurement after = plain().with_edges(exchanged);
  // What was the plate is the friction material now, and where its edge is broken counts as there.
  EXPECT_NEAR(size(after, "overall_thickness"), size(before, "overall_thickness"), 0.5);
  EXPECT_NEAR(size(after, "plate_thickness"), size(before, "friction_thickness"), 0.5);
  EXPECT_NEAR(size(after, "friction_thickness"), size(before, "plate_thickness"), 0.5);
}

TEST(Analysis, AnUnknownEdgeNameMovesNothing) {
  const std::vector<MovedEdge> moved{{"no_such_edge", {{10, 10}, {200, 10}}}};
  EXPECT_EQ(size(plain().with_edges(moved), "overall_thickness"),
            size(plain().measurement(), "overall_thickness"));
}

TEST(Analysis, SnapsToARealEdgeAndToNothingElse) {
  // An edge shows two lines where it is broken: either of them is a real one.
  const MeasuredEdge& edge = *plain().measurement().edge("friction_outer");
  const EdgeSegment real = ends(plain().measurement(), "friction_outer");
  for (const double off : {-5.0, 5.0}) {
    const EdgeSegment near{{real.a.x, real.a.y + off}, {real.b.x, real.b.y + off}};
    const auto snapped = plain().snapped(near, 8);
    ASSERT_TRUE(snapped) << off;
    const double y = (snapped->a.y + snapped->b.y) / 2;
    double nearest = std::abs(y - (real.a.y + real.b.y) / 2);
    for (const EdgeRival& rival : edge.rivals)
      nearest = std::min(nearest,
                         std::abs(y - (rival.points_px.front().y + rival.points_px.back().y) / 2));
    EXPECT_LT(nearest, 0.9) << off;
  }
  EXPECT_FALSE(plain().snapped({{60, 80}, {360, 84}}, 12));
  EXPECT_FALSE(plain().snapped({{60, 80}, {60, 80}}, 12));        // no length
  EXPECT_FALSE(plain().snapped({{-900, -80}, {-500, -80}}, 12));  // outside the photo
}

TEST(Analysis, AnEdgeDroppedWhereItWasReadIsAsRead) {
  // Reading an edge corrects its bare line, for a highlight's fall or a narrow chamfer: somebody
  // who agrees must not lose that, and gains that the line is no other one's.
  for (const char* name : {"plate_outer", "plate_friction", "friction_outer"}) {
    const Measurement before = looked_at(plain().measurement(), std::vector<std::string>{name});
    const EdgeSegment read = ends(before, name);
    const EdgeSegment near{{read.a.x, read.a.y + 0.6}, {read.b.x, read.b.y - 0.3}};
    const auto snapped = plain().snapped(near, 4);
    ASSERT_TRUE(snapped) << name;
    EXPECT_LT(distance_px(snapped->a, read.a) + distance_px(snapped->b, read.b), 0.1) << name;
    const std::vector<MovedEdge> moved{{name, *snapped}};
    const Measurement after = plain().with_edges(moved);
    EXPECT_EQ(after.edge(name)->origin, EdgeOrigin::moved);
    EXPECT_GE(after.edge(name)->confidence, 0.9);
    for (const Dimension& dimension : before.dimensions) {
      EXPECT_EQ(size(after, dimension.name.c_str()), dimension.quantity.value_mm) << name;
      EXPECT_EQ(after.dimension(dimension.name)->quantity.standard_uncertainty_mm,
                dimension.quantity.standard_uncertainty_mm)
          << name;
    }
  }
}

TEST(Analysis, BudgetLinesAddUpToTheUncertainty) {
  for (const Dimension& d : plain().measurement().dimensions) {
    double square = 0;
    for (const BudgetLine& line : d.quantity.budget)
      square += line.standard_uncertainty_mm * line.standard_uncertainty_mm;
    EXPECT_GE(d.quantity.budget.size(), 5u) << d.name;
    EXPECT_NEAR(std::sqrt(square), d.quantity.standard_uncertainty_mm, 1e-9) << d.name;
    EXPECT_TRUE(std::is_sorted(d.quantity.budget.begin(), d.quantity.budget.end(),
                               [](const BudgetLine& a, const BudgetLine& b) {
                                 return a.standard_uncertainty_mm > b.standard_uncertainty_mm;
                               }));
  }
}

TEST(Analysis, TaperIsPositiveWhereTheRightIsThicker) {
  const Measurement m = analyse(checked_sheet(), 0.012).measurement();
  ASSERT_TRUE(m.usable());
  const Dimension* taper = m.dimension("friction_taper");
  ASSERT_TRUE(taper);
  const double run = taper->stations.back().position_mm - taper->stations.front().position_mm;
  std::printf("taper over %.1f mm: %.3f mm, truth %.3f; of an even pad %.3f mm\n", run,
              taper->quantity.value_mm, 0.012 * run, size(plain().measurement(), "friction_taper"));
  EXPECT_GT(run, 30);
  EXPECT_NEAR(taper->quantity.value_mm, 0.012 * run, 0.12);
  EXPECT_NEAR(size(plain().measurement(), "friction_taper"), 0, 0.12);
  const Dimension* friction = m.dimension("friction_thickness");
  EXPECT_GT(friction->stations.back().value_mm, friction->stations.front().value_mm);
}

/// The length between two places of the photo, on a plane behind the card's face.
double length_mm(const CardPose& pose, double depth_mm) {
  const Point_mm a = pose.on_plane({900, 700}, depth_mm), b = pose.on_plane({930, 860}, depth_mm);
  return std::hypot(b.x - a.x, b.y - a.y);
}

TEST(Analysis, ALargerPrintMeansALargerPart) {
  const auto scene_at = [](double scale) {
    PhotoLoad load;
    load.photo = photo_of(0);
    MeasureOptions options = checked_sheet();
    options.sheet_scale.x = options.sheet_scale.y = scale;
    return set_up_plane_scene(std::move(load), notch_card(), options).scene.value();
  };
  const double ratio = length_mm(scene_at(1.01).pose, 0) / length_mm(scene_at(1).pose, 0);
  std::printf("print 1 %% larger: length times %.6f\n", ratio);
  EXPECT_NEAR(ratio, 1.01, 1e-4);
}

TEST(Analysis, APartBehindTheCardIsLargerThanItLooks) {
  PhotoLoad load;
  load.photo = photo_of(0);
  const PlaneScene scene =
      set_up_plane_scene(std::move(load), notch_card(), checked_sheet()).scene.value();
  const double camera_mm = -scene.pose.camera_centre().z;
  // Similar triangles: a plane d behind the card is Z + d from the camera.
  EXPECT_NEAR(length_mm(scene.pose, 2) / length_mm(scene.pose, 0), (camera_mm + 2) / camera_mm,
              1e-9);
}

TEST(Analysis, BadPicturesEndInAStopCheck) {
  EXPECT_TRUE(any_stop(Analysis::run("no/such/photo.jpg", {}).measurement().checks));
  const auto stops = [](const cv::Mat& luma) {
    PhotoLoad load;
    load.photo = Photo{};
    load.photo->luma = luma;
    const Analysis analysis = Analysis::run(std::move(load), {});
    EXPECT_FALSE(analysis.measurement().usable());
    EXPECT_FALSE(analysis.snapped({{1, 1}, {30, 1}}, 10));
    EXPECT_TRUE(analysis.with_edges({}).dimensions.empty());
    return any_stop(analysis.measurement().checks);
  };
  EXPECT_TRUE(stops({}));
  for (const cv::Size tiny : {cv::Size(1, 1), cv::Size(3, 200), cv::Size(40, 30)})
    EXPECT_TRUE(stops(cv::Mat(tiny, CV_8UC1, cv::Scalar(128)))) << tiny;
  cv::Mat noise(600, 800, CV_8UC1);
  cv::RNG(1).fill(noise, cv::RNG::UNIFORM, 0, 256);
  EXPECT_TRUE(stops(noise));
}

}  // namespace
}  // namespace scantling
