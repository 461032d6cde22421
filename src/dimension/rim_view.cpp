#include "dimension/rim_view.h"

#include <algorithm>
#include <cmath>

namespace scantling {
namespace {

constexpr double kMargin_mm = 3.0;  ///< kept clear of the notch's cut edges and their shadow
constexpr double kWindow_mm = 27;   ///< half of the window along the rim

void sample(const PlaneScene& scene, RimView& view, LaneRequest request) {
  request.lane_width_mm = 0.4;
  view.lanes = sample_lanes(scene.photo.luma, scene.pose, view.frame, request);
  view.rows = read_surface_rows(view.lanes);
  CandidateOptions options;
  options.kernel_px = std::clamp(scene.card_blur_px, 1.0, 3.0);
  view.lines = find_line_candidates(view.lanes, options);
  const Point3_mm camera = scene.pose.camera_centre();
  view.camera_across_mm = view.frame.coordinates({camera.x, camera.y}).y;
  view.camera_distance_mm = view.frame.depth_mm - camera.z;
  view.middle_mm = (request.along_first_mm + request.along_last_mm) / 2;
}

}  // namespace

std::vector<RimView> unroll_rim(const PlaneScene& scene, const MeasureOptions& options) {
  const CardDefinition& card = *scene.sighting.card;
  const double sx = scene.pose.scale_x(), sy = scene.pose.scale_y();
  const double left = card.notch->x_min * sx, right = card.notch->x_max * sx;
  const double top = card.notch->y_min * sy, bottom = card.sheet.y_max * sy;
  const double half_width = (right - left) / 2 - kMargin_mm;
  const double height = bottom - top;

  std::vector<double> radii_mm;
  if (options.disc_diameter_mm)
    radii_mm = {*options.disc_diameter_mm / 2};
  else
    radii_mm.assign(std::begin(kTriedRimRadii_mm), std::end(kTriedRimRadii_mm));

  std::vector<RimView> views;
  for (const double radius_mm : radii_mm) {
    RimView lying;
    lying.frame.depth_mm = options.part_offset.offset_mm;
    lying.frame.rim_radius_mm = radius_mm;
    if (radii_mm.size() > 1)
      lying.prior = -0.5 * std::pow((radius_mm - kUsualRimRadius_mm) / kUsualRimRadius_u_mm, 2);
    RimView upright = lying;
    lying.frame.origin = {(left + right) / 2, bottom};
    sample(scene, lying,
           {-std::min(kWindow_mm, half_width), std::min(kWindow_mm, half_width), -2,
            height - kMargin_mm});
    upright.frame.origin = {(left + right) / 2, (top + bottom) / 2};
    upright.frame.along_x = 0;
    upright.frame.along_y = 1;
    upright.frame.across_x = 1;
    upright.frame.across_y = 0;
    upright.upright = true;
    sample(scene, upright,
           {-std::min(kWindow_mm, height / 2 - kMargin_mm), std::min(kWindow_mm, height / 2 - 2),
            -half_width, half_width});
    views.push_back(std::move(lying));
    views.push_back(std::move(upright));
  }
  return views;
}

}  // namespace scantling
