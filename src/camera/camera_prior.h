#pragma once

#include "camera/camera_model.h"
#include "photo/photo.h"

namespace scantling {

/// The camera as its EXIF tags describe it, for an upright photo of the given size.
/// f_px = f35 / 43.27 mm * picture diagonal (43.27 mm: the diagonal of 36 mm x 24 mm film). Makers
/// round f35 to whole millimetres and some refer it to the width: 4 % standard uncertainty.
/// Without a usable tag: a 26 mm main camera, the commonest of phones, with 15 %.
CameraPrior camera_prior(const CameraTags& tags, int width_px, int height_px);

}  // namespace scantling
