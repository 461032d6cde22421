#pragma once

#include <string>
#include <vector>

#include "verdict/forecast.h"

namespace scantling {

/// Sizes typed as "KM:MM" or "KM:MM:U". `common_u_mm`: the part of every U that is one and the same
/// error for all of them, such as one sheet's print scale; 0: none is. @throws CLI::ValidationError
/// naming `option` where one is no such size, or its U is missing or smaller than the common part.
std::vector<WearPoint> wear_points_in(const std::string& option,
                                      const std::vector<std::string>& texts,
                                      double common_u_mm = 0);

}  // namespace scantling
