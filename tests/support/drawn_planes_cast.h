#pragma once

#include <vector>

#include "card/card_pattern.h"
#include "support/drawn_camera.h"
#include "support/drawn_planes.h"

// How the plane scenes are looked at: lens, rays, what they meet.

namespace scantling::drawn {

const CardDefinition& definition(const PlacedPiece& piece);

/// How far behind its mean plane a piece's face lies; u, v from -1 to 1.
double piece_depth(const PlacedPiece& piece, double u, double v);

/// The focal length as EXIF holds it: whole millimetres.
int written_focal_length_35mm(const PlaneCamera& camera);

/// A pinhole with Brown's radial distortion, exact to 1e-9 px both ways.
class PlaneLens {
 public:
  explicit PlaneLens(const PlaneCamera& camera);
  Point_px project(Vec3 world) const;
  Ray ray(double x_px, double y_px) const;

 private:
  Frame frame_;
  CameraModel model_;
};

struct CastHit {
  double t = 1e9;
  double light = 0;  ///< linear
};

/// A scene ready for rays.
class PlanesCast {
 public:
  explicit PlanesCast(const PlanesScene& scene);
  CastHit first(const Ray& ray) const;

 private:
  void piece(const PlacedPiece& piece, const CardPattern& pattern, const Ray& ray,
             CastHit& hit) const;
  void disc(const Ray& ray, CastHit& hit) const;
  void box(const Ray& ray, CastHit& hit) const;

  const PlanesScene& scene_;
  CardPattern sheet_pattern_;
  std::vector<CardPattern> card_patterns_;
};

}  // namespace scantling::drawn
