#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "sorting/place_photos.h"

namespace scantling {

/// One line a photo in the order taken, with a blank line where minutes passed.
std::string sorting_table(const std::vector<PhotoSight>& sights,
                          const std::vector<PhotoProposal>& proposals);

nlohmann::ordered_json sorting_json(const std::vector<PhotoSight>& sights,
                                    const std::vector<PhotoProposal>& proposals);

}  // namespace scantling
