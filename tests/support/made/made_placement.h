#pragma once

#include <Eigen/Geometry>
#include <filesystem>
#include <string>
#include <vector>

#include "made_camera.h"
#include "made_mesh.h"
#include "made_scene.h"

namespace scantling::made {

/// A flat printed sheet in the world: where its nominal places lie, its printed scale applied.
struct PlacedSheet {
  std::string card;  ///< "notch", "track", "track_b", "ground": calibration/cards
  Vec3 origin;       ///< of the nominal origin, on the printed face
  Eigen::Matrix3d axes = Eigen::Matrix3d::Identity();  ///< columns: the card's x, y, z
  double scale_x = 1, scale_y = 1;

  Vec3 world(double x, double y, double z = 0) const {
    return origin + axes * Vec3(x * scale_x, y * scale_y, z);
  }
};

/// A rigid place in the world: columns of `axes` are the thing's own x, y, z.
struct Placed {
  Vec3 origin = Vec3::Zero();
  Eigen::Matrix3d axes = Eigen::Matrix3d::Identity();

  Vec3 world(const Vec3& local) const { return origin + axes * local; }
};

/// All sheets of a scene's view (none for the pad view, which has its own card).
/// World of the other views: x right, y down, z away from a viewer at azimuth 0.
std::vector<PlacedSheet> sheets_of(const Scene& scene);
/// The disc's own frame: y along the axis to outboard, 0 in the middle of its thickness.
Placed disc_place(const Scene& scene);
/// For the pile view: from the pad view's world to this one.
Placed pad_place(const Scene& scene);
/// y of the ground, bench or floor.
double ground_mm(const Scene& scene);
bool shows_disc(const Scene& scene);
bool shows_pad(const Scene& scene);

/// From the middle of the thickness to the worn track of a face.
double track_height_mm(const DiscSettings& disc, bool inboard);
double wall_foot_radius_mm(const DiscSettings& disc);
double wall_top_radius_mm(const DiscSettings& disc);

/// The disc in its own frame, by material.
struct DiscMesh {
  Mesh track, lip, rim, bell, dark;
};
DiscMesh disc_mesh(const DiscSettings& disc);

/// A sheet's ink and paper in the world. @param cards folder with the card definitions.
CardMesh sheet_mesh(const PlacedSheet& sheet, const std::filesystem::path& cards);

/// Points around all that is measured in the photo: it is rendered in full.
std::vector<Vec3> points_of_interest(const Scene& scene);

}  // namespace scantling::made
