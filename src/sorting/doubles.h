#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "sorting/photo_sight.h"

namespace scantling {

/// A photo that repeats another one of the heap.
struct PhotoDouble {
  std::size_t of = 0;      ///< the one that is kept
  bool same_file = false;  ///< the very same content; else nearly the same picture
};

/// For each photo the one that it repeats, if any: with the same content (the first one is kept),
/// or of the same view from the same stand within moments, as in a burst (the one with the surer
/// edges is kept).
std::vector<std::optional<PhotoDouble>> find_doubles(const std::vector<PhotoSight>& photos);

}  // namespace scantling
