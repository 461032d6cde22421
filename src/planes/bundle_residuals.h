#pragma once

#include <ceres/rotation.h>

#include "planes/bundle.h"

// The model of one corner and the priors, as templates for automatic derivatives.

namespace scantling {

/// The sheet's depth for u, v from -1 to 1.
template <typename T>
T surface_depth(const T* s, const T& u, const T& v) {
  return u * u * (s[0] + u * s[3] + v * s[4]) + u * v * s[1] + v * v * (s[2] + u * s[5] + v * s[6]);
}

/// From the world through one photo's camera.
struct CornerCamera {
  double focal_px, centre_x_px, centre_y_px, k1, k2;
  std::array<double, 4> turn;

  template <typename T>
  bool project(const T* photo, const T* camera, const T* world, T& x_px, T& y_px) const {
    T c[3];
    ceres::AngleAxisRotatePoint(photo, world, c);
    c[0] += photo[3];
    c[1] += photo[4];
    c[2] += photo[5];
    if (!(c[2] > T(1.0))) return false;
    const T u = c[0] / c[2], v = c[1] / c[2];
    const T r2 = u * u + v * v;
    const T factor = T(1) + r2 * ((camera[3] + k1) + r2 * (camera[4] + k2));
    const T f = focal_px * (T(1) + camera[0]) * (T(1) + photo[6]) * factor;
    x_px = f * u + centre_x_px + turn[0] * camera[1] + turn[1] * camera[2] + photo[7];
    y_px = f * v + centre_y_px + turn[2] * camera[1] + turn[3] * camera[2] + photo[8];
    return true;
  }
};

struct SheetCornerResidual {
  CornerCamera lens;
  double x_mm, y_mm;  ///< declared scale applied
  double u, v;
  Point_px photo_px;
  double weight;

  template <typename T>
  bool operator()(const T* photo, const T* camera, const T* scales, const T* surface,
                  T* residual) const {
    const T world[3] = {x_mm * (T(1) + scales[0] + scales[2]),
                        y_mm * (T(1) + scales[0] + scales[3]), surface_depth(surface, T(u), T(v))};
    T x, y;
    if (!lens.project(photo, camera, world, x, y)) return false;
    residual[0] = weight * (x - photo_px.x);
    residual[1] = weight * (y - photo_px.y);
    return true;
  }
};

struct CardCornerResidual {
  CornerCamera lens;
  double x_mm, y_mm;
  double along;   ///< -1 to 1 over the card's long side
  double shared;  ///< 1 where the sheet's page scale is the cards' too
  Point_px photo_px;
  double weight;

  template <typename T>
  bool operator()(const T* photo, const T* camera, const T* scales, const T* piece,
                  T* residual) const {
    const T common = shared * scales[0] + scales[1];
    const T place[3] = {x_mm * (T(1) + common + scales[4]), y_mm * (T(1) + common + scales[5]),
                        piece[6] * (along * along - 1.0 / 3)};
    T world[3];
    ceres::AngleAxisRotatePoint(piece, place, world);
    world[0] += piece[3];
    world[1] += piece[4];
    world[2] += piece[5];
    T x, y;
    if (!lens.project(photo, camera, world, x, y)) return false;
    residual[0] = weight * (x - photo_px.x);
    residual[1] = weight * (y - photo_px.y);
    return true;
  }
};

/// Some of a block's unknowns are believed to be zero, each within its standard uncertainty.
template <int kBlock, int kFirst, int kCount>
struct ZeroPrior {
  std::array<double, kCount> u;

  template <typename T>
  bool operator()(const T* block, T* residual) const {
    for (int i = 0; i < kCount; ++i)
      residual[i] = block[kFirst + i] / u[static_cast<std::size_t>(i)];
    return true;
  }
};

}  // namespace scantling
