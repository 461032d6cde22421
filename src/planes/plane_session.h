#pragma once

#include <memory>
#include <vector>

#include "planes/planes_result.h"

namespace scantling {

/// A measurement from planes that grows photo by photo. Each change solves afresh from all photos,
/// so the result does not depend on the order in which they came. Copies are independent and cheap
/// beside the solving: a copy may solve in the background while the window shows the last result.
class PlaneSession {
 public:
  explicit PlaneSession(PlanesOptions options);

  const PlanesOptions& options() const { return options_; }
  /// Solves again with other options; nothing is searched again.
  void set_options(PlanesOptions options);

  /// Takes in a photo; another of the same name is replaced.
  void add(PlanePhoto photo);
  /// Takes in several and solves once.
  void add(std::vector<PlanePhoto> photos);
  /// @return whether there was such a photo.
  bool remove(const std::string& name);

  const std::vector<PlanePhoto>& photos() const { return photos_; }
  /// What is known now: poses, residuals, card planes, sizes. With too few photos for a size it
  /// still holds what could be solved, for drawing.
  const PlanesResult& result() const { return result_; }

 private:
  void take(PlanePhoto photo);
  void solve();

  PlanesOptions options_;
  std::vector<PlanePhoto> photos_;
  PlanesResult result_;
};

}  // namespace scantling
