#pragma once

#include <Eigen/Core>

#include "made_scene.h"

namespace scantling::made {

using Vec2 = Eigen::Vector2d;
using Vec3 = Eigen::Vector3d;

/// The photo's camera: pinhole with radial distortion after Brown, pixel centres at whole numbers.
/// World frame: x right, y down, z away from the viewer; the table is y = 78 * card scale.
class Camera {
 public:
  explicit Camera(const Scene& scene);

  /// Where a world point appears on the upright photo, in px.
  Vec2 project(const Vec3& world_mm) const;
  /// The undistorted image position (x/z, y/z) seen at a photo position.
  Vec2 undistorted(const Vec2& photo_px) const;
  /// Distance along the optical axis.
  double depth_mm(const Vec3& world_mm) const;

  double focal_px() const { return focal_px_; }
  Vec2 centre_px() const { return centre_px_; }
  const Eigen::Matrix3d& camera_from_world() const { return rotation_; }
  const Vec3& position_mm() const { return position_mm_; }

 private:
  double focal_px_ = 0;
  Vec2 centre_px_;
  double k1_ = 0, k2_ = 0;
  Eigen::Matrix3d rotation_;
  Vec3 position_mm_;
};

/// The ideal picture that is rendered first: no distortion, wider than the photo wherever the
/// lens needs it, principal point in its middle.
struct RenderFrame {
  int width_px = 0;
  int height_px = 0;
  double focal_px = 0;
  /// The part that is rendered in full: card and pad with a margin. The rest is rendered
  /// kCoarse times coarser, for it lies out of focus.
  int left_px = 0, top_px = 0, right_px = 0, bottom_px = 0;  ///< first and last column and row
  static constexpr int kCoarse = 3;

  /// Position in the rendered picture (pixel centres at whole numbers).
  Vec2 from_undistorted(const Vec2& point) const {
    return {point.x() * focal_px + 0.5 * (width_px - 1),
            point.y() * focal_px + 0.5 * (height_px - 1)};
  }
};

RenderFrame render_frame(const Scene& scene, const Camera& camera);

}  // namespace scantling::made
