#include "dimension/lip_model.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

namespace scantling {

LipModel::LipModel(const CardPose& p, const PartReading& reading) : pose(p), frame(reading.frame) {
  const PlacedEdge& foot = reading.edges[PartReading::wall_foot];
  const PlacedEdge& top = reading.edges[PartReading::wall_top];
  const double first = std::max(foot.along_first_mm, top.along_first_mm);
  const double last = std::max(first + 2, std::min(foot.along_last_mm, top.along_last_mm));
  for (std::size_t i = 0; i < kStations; ++i) {
    // Kept off the ends, where a parabola is least sure.
    along_mm_[i] =
        first + (last - first) * (0.08 + 0.84 * static_cast<double>(i) / (kStations - 1));
    foot_px_[i] = pose.project(frame.place(along_mm_[i], foot.at(along_mm_[i])));
    top_px_[i] = pose.project(frame.place(along_mm_[i], top.at(along_mm_[i])));
  }
}

LipModel::Foot LipModel::foot() const {
  Eigen::Matrix<double, kStations, 3> a;
  Eigen::Matrix<double, kStations, 1> b;
  for (std::size_t i = 0; i < kStations; ++i) {
    const Point_mm at = frame.seen(pose, foot_px_[i]);
    const auto row = static_cast<Eigen::Index>(i);
    a.row(row) << 1, at.x, at.x * at.x;
    b[row] = at.y + foot_shift_mm;
  }
  const Eigen::Vector3d c = a.colPivHouseholderQr().solve(b);
  return {c[0], c[1], c[2]};
}

double LipModel::height_mm(double run_mm, std::size_t station, const Foot& foot) const {
  const Point3_mm camera = pose.camera_centre();
  const double height_of_camera = frame.depth_mm - camera.z;
  Point_mm seen = frame.seen(pose, top_px_[station]);
  seen.y += top_shift_mm;
  const Point3_mm top = frame.place(seen.x, seen.y);
  // On the ray from the camera to where the top appears, the place that stands `run_mm` outside the
  // foot; `share` is 1 on the track's plane and 0 at the camera.
  const auto outside = [&](double share) {
    const Point_mm p = frame.coordinates(
        {camera.x + (top.x - camera.x) * share, camera.y + (top.y - camera.y) * share});
    return p.y - foot.at(p.x) - run_mm;
  };
  double a = 1, fa = outside(a), b = 0.99, fb = outside(b);
  for (int i = 0; i < 20 && std::abs(fb) > 1e-9 && fa != fb; ++i) {
    const double next = b - fb * (b - a) / (fb - fa);
    a = b;
    fa = fb;
    b = next;
    fb = outside(b);
  }
  return height_of_camera * (1 - b);
}

double LipModel::height_mm(double run_mm, std::size_t station) const {
  return height_mm(run_mm, station, foot());
}

double LipModel::height_mm(double run_mm) const {
  const Foot line = foot();
  double sum = 0;
  for (std::size_t i = 0; i < kStations; ++i) sum += height_mm(run_mm, i, line);
  return sum / kStations;
}

double LipModel::seen_gap_mm() const {
  const Foot line = foot();
  double sum = 0;
  for (const Point_px& px : top_px_) {
    const Point_mm seen = frame.seen(pose, px);
    sum += seen.y + top_shift_mm - line.at(seen.x);
  }
  return sum / kStations;
}

double LipModel::elevation_deg() const {
  const Point3_mm camera = pose.camera_centre();
  const Point3_mm foot = frame.place(along_mm_[kStations / 2], 0);
  return std::atan2(frame.depth_mm - camera.z, std::hypot(foot.x - camera.x, foot.y - camera.y)) *
         180 / M_PI;
}

double LipModel::camera_distance_mm() const {
  const Point3_mm camera = pose.camera_centre();
  const Point3_mm foot = frame.place(along_mm_[kStations / 2], 0);
  return std::hypot(foot.x - camera.x, foot.y - camera.y, foot.z - camera.z);
}

double LipModel::px_per_mm_height() const {
  const Point3_mm foot = frame.place(along_mm_[kStations / 2], 0);
  return distance_px(pose.project(foot), pose.project({foot.x, foot.y, foot.z - 1}));
}

}  // namespace scantling
