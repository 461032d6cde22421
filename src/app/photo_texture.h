#pragma once

#include <imgui.h>

#include <cstdint>
#include <filesystem>
#include <list>
#include <opencv2/core/mat.hpp>

#include "app/view_transform.h"

namespace scantling {

/// A picture (CV_8UC3, RGB) as a texture of OpenGL, and ImGui's handle for it. Main thread only.
unsigned upload_picture(const cv::Mat& rgb, bool mipmaps);
ImTextureID texture_id(unsigned texture);

/// A photo's colours, ready for the screen: made on the worker's thread.
struct PhotoColours {
  cv::Mat full;     ///< CV_8UC3, RGB, upright; empty when the file could not be read
  cv::Mat reduced;  ///< at most kReducedSide long
  static constexpr int kReducedSide = 2048;

  static PhotoColours load(const std::filesystem::path& photo);
};

/// Draws a photo of any size: a reduced picture for the whole, full-size tiles for what is in sight
/// when zoomed in. Tiles are uploaded a few a frame, so that the window never stalls.
/// Main thread only.
class PhotoTexture {
 public:
  PhotoTexture() = default;
  ~PhotoTexture();
  PhotoTexture(const PhotoTexture&) = delete;
  PhotoTexture& operator=(const PhotoTexture&) = delete;

  void set(std::int64_t photo_id, PhotoColours colours);
  void clear();
  std::int64_t photo_id() const { return photo_id_; }
  bool ready() const { return reduced_ != 0; }
  int width_px() const { return colours_.full.cols; }
  int height_px() const { return colours_.full.rows; }

  /// Draws what `view` shows of the photo within `area`. Returns true when tiles are still missing,
  /// so that another frame is due.
  bool draw(ImDrawList* draw, const ViewTransform& view, const ScreenRect& area);

 private:
  struct Tile {
    int column = 0;
    int row = 0;
    unsigned texture = 0;
  };
  const Tile* tile(int column, int row, int& uploads_left);

  PhotoColours colours_;
  std::int64_t photo_id_ = 0;
  unsigned reduced_ = 0;
  std::list<Tile> tiles_;  ///< most recently drawn first
};

}  // namespace scantling
