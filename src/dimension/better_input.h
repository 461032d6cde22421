#pragma once

#include <string>
#include <string_view>

#include "camera/camera_model.h"

namespace scantling {

/// Inputs that the user can come to know better, as `Remedy::input` names them.
inline constexpr char kCheckedScale[] = "print_scale";
inline constexpr char kKnownDiameter[] = "disc_diameter";
inline constexpr char kCameraProfile[] = "camera_profile";
inline constexpr char kMeasuredOffset[] = "part_offset";
inline constexpr char kEdgesLookedAt[] = "edges_looked_at";  ///< confirmed, or dragged
inline constexpr char kCardThickness[] = "card_thickness";
inline constexpr char kAnotherHeight[] = "another_height";  ///< one more photo of a lip

/// What is asked of the user: "check the sheet's print scale".
std::string better_input_words(std::string_view input);

// How well each is known once it was looked after: standard uncertainties.

/// Of a print's scale: check bars of 150 mm by a digital calliper (see `print_scale`).
inline constexpr double kCheckedScale_u = 0.0012;
/// Of the rim's radius, where the disc's diameter is entered: wear and rust of the rim.
inline constexpr double kKnownRadius_u_mm = 1.5;
/// Of how far the part lies behind the card, measured with a calliper's depth rod.
inline constexpr double kMeasuredOffset_u_mm = 0.1;
/// Of a cut-out card's thickness by a calliper that shows 0.02 mm, evenly spread.
inline constexpr double kMeasuredCard_u_mm = 0.012;

/// What a profile from photos of the ground sheet leaves open: focal length 0.2 %, centre 2 px, k1
/// and k2 0.0003 as calibrated, more by what focus and stabiliser move (see `camera_prior`).
CameraPrior usual_profile_prior(const CameraModel& model, double diagonal_px);

}  // namespace scantling
