#pragma once

#include <imgui.h>

#include <map>
#include <opencv2/core/mat.hpp>

namespace scantling {

/// Small pictures of photos as textures, by a number of the caller's. Main thread only.
class PictureShelf {
 public:
  PictureShelf() = default;
  ~PictureShelf();
  PictureShelf(const PictureShelf&) = delete;
  PictureShelf& operator=(const PictureShelf&) = delete;

  /// `rgb`: CV_8UC3; nothing is kept of an empty picture.
  void put(int number, const cv::Mat& rgb);
  bool has(int number) const { return pictures_.contains(number); }
  void clear();
  /// Draws the picture whole and in the middle of a rectangle; false where there is none.
  bool draw(ImDrawList* draw, int number, ImVec2 from, ImVec2 to) const;

 private:
  struct Picture {
    unsigned texture = 0;
    int width_px = 0;
    int height_px = 0;
  };
  std::map<int, Picture> pictures_;
};

}  // namespace scantling
