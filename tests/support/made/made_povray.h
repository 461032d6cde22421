#pragma once

#include <filesystem>
#include <string>

#include "made_scene.h"

namespace scantling::made {

/// Writes NAME.pov and four settings files into `folder`: NAME_light_coarse.ini,
/// NAME_light_fine.ini (the picture) and NAME_depth_coarse.ini, NAME_depth_fine.ini (distances).
/// POV-Ray then makes the PNGs of the same names there, linear, 16 bits a channel.
/// @param cards calibration/cards
/// @param include_folder where pad_scene.inc lies
void write_povray_scene(const Scene& scene, const std::filesystem::path& cards,
                        const std::filesystem::path& include_folder,
                        const std::filesystem::path& folder);

/// What follows the scene's name in its files, such as "_light_fine".
std::string picture_suffix(bool depth, bool coarse);

/// White in the depth picture, mm along the optical axis.
inline constexpr double kDepthRange_mm = 4000;

}  // namespace scantling::made
