#pragma once

#include <vector>

namespace scantling {

/// A driver that draws with the processor makes its program for each kind of picture when one is
/// first drawn, which takes as long as several frames. This draws one pixel of each kind in the
/// first frames, beneath what is shown there, so that no later frame has to wait.
/// Main thread only.
class PicturePrimer {
 public:
  PicturePrimer() = default;
  ~PicturePrimer();
  PicturePrimer(const PicturePrimer&) = delete;
  PicturePrimer& operator=(const PicturePrimer&) = delete;

  /// Once a frame, one kind each. Returns true while there are kinds left.
  bool draw();

 private:
  void clear();

  int frame_ = 0;
  std::vector<unsigned> textures_;
};

}  // namespace scantling
