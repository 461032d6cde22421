#pragma once

#include <gmock/gmock.h>

#include <cmath>
#include <string>
#include <vector>

#include "planes/plane_session.h"
#include "support/drawn_planes.h"

namespace scantling::drawn {

inline PlanesOptions checked_options(PlanesView view) {
  PlanesOptions options;
  options.view = view;
  options.sheet_scale = {1, 1, 0.001, true};
  options.card_thickness = {0.25, 0.01, true};
  return options;
}

/// Side A, side B, and side A again.
inline std::vector<PlaneCamera> faces_cameras() {
  std::vector<PlaneCamera> cameras = {
      faces_camera(PlanePiece::card_a, -25, 30), faces_camera(PlanePiece::card_a, 25, 40),
      faces_camera(PlanePiece::card_b, -25, 40), faces_camera(PlanePiece::card_b, 25, 30),
      faces_camera(PlanePiece::card_a, 5, 50)};
  const char* names[] = {"out1", "out2", "in1", "in2", "out3"};
  for (std::size_t i = 0; i < cameras.size(); ++i) cameras[i].name = names[i];
  return cameras;
}

inline std::vector<PlaneCamera> pile_cameras() {
  std::vector<PlaneCamera> cameras = {pile_camera(-40, 40), pile_camera(60, 50),
                                      pile_camera(170, 45)};
  const char* names[] = {"front", "right", "back"};
  for (std::size_t i = 0; i < cameras.size(); ++i) cameras[i].name = names[i];
  return cameras;
}

inline std::vector<PlanePhoto> sighted_all(const PlanesScene& scene,
                                           const std::vector<PlaneCamera>& cameras,
                                           double noise_px = 0.08, std::uint64_t seed = 1) {
  Random random(seed);
  std::vector<PlanePhoto> photos;
  for (const PlaneCamera& camera : cameras)
    photos.push_back(sighted(scene, camera, noise_px, random));
  return photos;
}

inline PlanesResult solved(PlanesView view, std::vector<PlanePhoto> photos) {
  PlaneSession session(checked_options(view));
  session.add(std::move(photos));
  return session.result();
}

inline const Check* check_of(const PlanesResult& result, const std::string& id) {
  for (const Check& check : result.checks)
    if (check.id == id) return &check;
  return nullptr;
}

/// Ids of the checks that are no mere information, with "stop" or "warn" before them.
inline std::vector<std::string> doubts(const PlanesResult& result) {
  std::vector<std::string> ids;
  for (const Check& check : result.checks)
    if (check.severity != Severity::info)
      ids.push_back(std::string(severity_word(check.severity)) + " " + check.id);
  return ids;
}

}  // namespace scantling::drawn
