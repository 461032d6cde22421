#pragma once

#include <string>

#include "sorting/photo_place.h"

namespace scantling {

/// "left inner pad", "right disc".
std::string slot_words(const PartSlot& slot);

/// "Left inner pad", "Right disc, outboard lip", "Left disc, upright on the sheet", "Your phone's
/// camera", "Left out".
std::string place_words(const PhotoPlace& place);

/// What a view shows, for a column: "pad", "rim", "lip", "disc on the sheet", "pad on the sheet".
const char* view_title(View view);

}  // namespace scantling
