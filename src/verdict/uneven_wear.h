#pragma once

#include <span>
#include <vector>

#include "verdict/axle.h"

namespace scantling {

/// All differences within the axle that exceed their joint uncertainty; see judge_axle().
std::vector<UnevenWear> uneven_wear(std::span<const AxlePart> parts);

}  // namespace scantling
