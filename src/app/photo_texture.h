#pragma once

#include <imgui.h>

#include <cstdint>
#include <filesystem>
#include <functional>
#include <list>
#include <opencv2/core/mat.hpp>
#include <optional>
#include <vector>

#include "app/view_transform.h"

namespace scantling {

/// A picture (CV_8UC3, RGB) as a texture of OpenGL, and ImGui's handle for it. Main thread only.
unsigned upload_picture(const cv::Mat& rgb, bool mipmaps);
ImTextureID texture_id(unsigned texture);

/// While it lives, what is added covers what is beneath it: blending would read that back for each
/// pixel, which costs where the processor does the drawing.
class Opaque {
 public:
  explicit Opaque(ImDrawList* draw);
  ~Opaque();
  Opaque(const Opaque&) = delete;
  Opaque& operator=(const Opaque&) = delete;

 private:
  ImDrawList* draw_;
};

/// A photo's colours, ready for the screen: made on the worker's thread.
struct PhotoColours {
  cv::Mat full;     ///< CV_8UC3, RGB, upright; empty when the file could not be read
  cv::Mat reduced;  ///< at most kReducedSide long
  static constexpr int kReducedSide = 2048;

  static PhotoColours load(const std::filesystem::path& photo);
};

/// Where a place of the photo lies in the window; nothing where it is not to be seen.
using PhotoMap = std::function<std::optional<ScreenPoint>(Point_px)>;

/// An upright rectangle of a photo, px.
struct PhotoPatch {
  Point_px from, to;
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
  /// How bright the photo is shown, in PhotoLook's steps: what is on the graphics card is made anew
  /// once, at screen size and tile by tile, so that no frame pays for it afterwards.
  void set_brightness(int brightness);
  std::int64_t photo_id() const { return photo_id_; }
  bool ready() const { return reduced_ != 0; }
  int width_px() const { return colours_.full.cols; }
  int height_px() const { return colours_.full.rows; }

  /// Draws what `view` shows of the photo within `area`. Returns true when tiles are still missing,
  /// so that another frame is due.
  bool draw(ImDrawList* draw, const ViewTransform& view, const ScreenRect& area);
  /// The same through a map that bends. `in_sight`: what of the photo may be seen; `zoom`: about
  /// how many screen pixels there are for one of the photo.
  bool draw(ImDrawList* draw, const PhotoMap& map, const PhotoPatch& in_sight, double zoom);

 private:
  struct Tile {
    int column = 0;
    int row = 0;
    unsigned texture = 0;
    int drawn_in = 0;  ///< ImGui's number of the frame
  };
  const Tile* tile(int column, int row, int& uploads_left);
  /// Those that are at hand or could be uploaded; `missing` is set where not all could.
  std::vector<Tile> tiles_in_sight(const PhotoPatch& in_sight, bool& missing);
  /// `add` for the reduced picture, or for the tiles that are wanted in its place, or for both.
  template <typename Add>
  bool each_texture(const PhotoPatch& in_sight, double zoom, const Add& add);
  void drop_textures();
  cv::Mat shown(const cv::Mat& rgb) const;

  PhotoColours colours_;
  int brightness_ = 0;
  std::int64_t photo_id_ = 0;
  unsigned reduced_ = 0;
  std::list<Tile> tiles_;  ///< most recently drawn first
};

}  // namespace scantling
