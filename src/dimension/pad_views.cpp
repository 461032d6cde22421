#include "dimension/pad_views.h"

#include <algorithm>
#include <cmath>
#include <opencv2/core.hpp>

#include "base/each_index.h"

namespace scantling {
namespace {

constexpr double kMargin_mm = 3.0;  ///< kept clear of the notch's cut edges and their shadow

struct Window {
  double along_first, along_last, across_first, across_last;
};

void sample(const PlaneScene& scene, PadPose& pose, const Window& w) {
  LaneRequest request;
  request.along_first_mm = w.along_first;
  request.along_last_mm = w.along_last;
  request.across_first_mm = w.across_first;
  request.across_last_mm = w.across_last;
  request.lane_width_mm = 0.4;
  pose.lanes = sample_lanes(scene.photo.luma, scene.pose, pose.frame, request);
  pose.rows = read_surface_rows(pose.lanes);
  CandidateOptions options;
  options.kernel_px = std::clamp(scene.card_blur_px, 1.0, 3.0);
  pose.search.lines = find_line_candidates(pose.lanes, options);
}

/// The same lines and light with `across` turned round.
void mirror(const PadPose& from, PadPose& to) {
  to.frame = from.frame;
  to.frame.across_x = -from.frame.across_x;
  to.frame.across_y = -from.frame.across_y;
  to.lanes = from.lanes;
  to.lanes.across_first_mm = -from.lanes.across_mm(from.lanes.light.cols - 1);
  to.lanes.light = cv::Mat1f();  // the copy above shares its pixels with `from`
  to.lanes.texture = cv::Mat1f();
  cv::flip(from.lanes.light, to.lanes.light, 1);
  cv::flip(from.lanes.texture, to.lanes.texture, 1);
  to.rows = from.rows;
  std::reverse(to.rows.level.begin(), to.rows.level.end());
  std::reverse(to.rows.roughness.begin(), to.rows.roughness.end());
  to.search.lines = from.search.lines;
  for (LineCandidate& line : to.search.lines) {
    line.across_mm = -line.across_mm;
    line.slope = -line.slope;
    line.step = -line.step;
  }
  std::reverse(to.search.lines.begin(), to.search.lines.end());
}

void complete(const PlaneScene& scene, PadPose& pose) {
  pose.search.lanes = &pose.lanes;
  pose.search.rows = &pose.rows;
  const Point3_mm camera = scene.pose.camera_centre();
  pose.search.camera_across_mm = pose.frame.coordinates({camera.x, camera.y}).y;
  pose.search.camera_distance_mm = pose.frame.depth_mm - camera.z;
}

}  // namespace

void sample_pad_poses(const PlaneScene& scene, double offset_mm, std::vector<PadPose>& poses) {
  const CardDefinition& card = *scene.sighting.card;
  const double sx = scene.pose.scale_x(), sy = scene.pose.scale_y();
  const Rectangle_mm notch{card.notch->x_min * sx, card.notch->y_min * sy, card.notch->x_max * sx,
                           card.sheet.y_max * sy};
  const double middle_x = (notch.x_min + notch.x_max) / 2;
  poses.clear();
  poses.resize(4);

  PadPose& down = poses[0];
  down.words = "lying on its plate";
  down.frame.origin = {middle_x, notch.y_max};
  down.frame.depth_mm = offset_mm;
  const double half = (notch.x_max - notch.x_min) / 2 - kMargin_mm;
  down.search.plate_rests_at_mm = 0;

  PadPose& up = poses[1];
  up.words = "lying on its friction material";
  up.search.friction_rests_at_mm = 0;
  up.search.prior = -2.0;  // the guide says: plate down

  PadPose& right = poses[2];
  right.words = "standing, plate to the left";
  right.frame.origin = {middle_x, (notch.y_min + notch.y_max) / 2};
  right.frame.depth_mm = offset_mm;
  right.frame.along_x = 0;
  right.frame.along_y = 1;
  right.frame.across_x = 1;
  right.frame.across_y = 0;
  const double height = (notch.y_max - notch.y_min) / 2;
  const Window lying{-half, half, -3, notch.y_max - notch.y_min - kMargin_mm};
  const Window standing{-height + kMargin_mm, height - 2.0, -half, half};
  for_each_index(2, usable_cores(), [&](std::size_t which) {
    which == 0 ? sample(scene, down, lying) : sample(scene, right, standing);
  });
  mirror(down, up);
  PadPose& left = poses[3];
  left.words = "standing, plate to the right";
  mirror(right, left);
  for (PadPose& pose : poses) complete(scene, pose);
}

}  // namespace scantling
