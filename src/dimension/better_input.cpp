#include "dimension/better_input.h"

#include <cmath>

#include "camera/camera_profile.h"

namespace scantling {

std::string better_input_words(std::string_view input) {
  if (input == kCheckedScale) return "check the sheet's print scale with a calliper";
  if (input == kKnownDiameter) return "enter the disc's diameter";
  if (input == kCameraProfile) return "make a profile of the phone's camera";
  if (input == kMeasuredOffset) return "measure how far the part lies behind the card";
  if (input == kEdgesLookedAt) return "look at the edges, and confirm or drag them";
  if (input == kCardThickness) return "measure the cut-out card's thickness with a calliper";
  if (input == kAnotherHeight)
    return "photograph the lip once more, from about 20 degrees higher up or lower down";
  return std::string(input);
}

CameraPrior usual_profile_prior(const CameraModel& model, double diagonal_px) {
  CameraPrior prior;
  prior.model = model;
  prior.focal_relative_u = std::hypot(0.002, kFocusTravel);
  prior.centre_u_px = std::hypot(2, kCentreWander * diagonal_px);
  prior.k1_u = prior.k2_u = std::hypot(0.0003, kDistortionWander);
  prior.k1_k2_correlation = -0.9 * std::pow(0.0003 / prior.k1_u, 2);
  return prior;
}

}  // namespace scantling
