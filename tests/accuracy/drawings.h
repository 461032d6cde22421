#pragma once

#include <filesystem>
#include <functional>
#include <string>

#include "photo/photo.h"
#include "support/drawn_scene.h"

namespace scantling::accuracy {

/// Drawn photos, each drawn once where a folder is given: drawing takes fifty times as long as
/// measuring. Whoever changes how photos are drawn empties the folder.
struct Drawings {
  std::filesystem::path folder = {};  ///< empty: drawn anew each time, nothing is written

  /// `name` says all that tells this drawing from others.
  Photo photo(const std::string& name, const drawn::DrawnCamera& camera,
              const std::function<cv::Mat()>& draw) const;
};

}  // namespace scantling::accuracy
