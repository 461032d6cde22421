#include "app/photo_texture.h"

#define GL_GLEXT_PROTOTYPES
#include <GL/gl.h>
#include <GL/glext.h>

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

#include "photo/photo.h"

namespace scantling {

namespace {

constexpr int kTileSide = 1022;  ///< with a border of one pixel all round: 1024
constexpr std::size_t kMostTiles = 40;
constexpr int kUploadsPerFrame = 2;

ImVec2 corner(const ViewTransform& view, double x, double y) {
  const ScreenPoint p = view.to_screen({x - 0.5, y - 0.5});
  return {static_cast<float>(p.x), static_cast<float>(p.y)};
}

}  // namespace

ImTextureID texture_id(unsigned texture) {
  // NOLINTNEXTLINE(performance-no-int-to-ptr): ImGui's handle for a texture is a pointer
  return reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(texture));
}

unsigned upload_picture(const cv::Mat& rgb, bool mipmaps) {
  unsigned texture = 0;
  glGenTextures(1, &texture);
  glBindTexture(GL_TEXTURE_2D, texture);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER,
                  mipmaps ? GL_LINEAR_MIPMAP_LINEAR : GL_LINEAR);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
  glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
  glPixelStorei(GL_UNPACK_ROW_LENGTH, static_cast<int>(rgb.step[0] / rgb.elemSize()));
  glTexImage2D(GL_TEXTURE_2D, 0, GL_RGB8, rgb.cols, rgb.rows, 0, GL_RGB, GL_UNSIGNED_BYTE,
               rgb.data);
  glPixelStorei(GL_UNPACK_ROW_LENGTH, 0);
  if (mipmaps) glGenerateMipmap(GL_TEXTURE_2D);
  return texture;
}

PhotoColours PhotoColours::load(const std::filesystem::path& photo) {
  PhotoColours colours;
  colours.full = load_colour(photo);
  if (colours.full.empty()) return colours;
  const int longest = std::max(colours.full.cols, colours.full.rows);
  if (longest <= kReducedSide) {
    colours.reduced = colours.full;
  } else {
    const double factor = static_cast<double>(kReducedSide) / longest;
    cv::resize(colours.full, colours.reduced, {}, factor, factor, cv::INTER_AREA);
  }
  return colours;
}

PhotoTexture::~PhotoTexture() {
  clear();
}

void PhotoTexture::clear() {
  if (reduced_) glDeleteTextures(1, &reduced_);
  for (const Tile& tile : tiles_) glDeleteTextures(1, &tile.texture);
  tiles_.clear();
  reduced_ = 0;
  photo_id_ = 0;
  colours_ = {};
}

void PhotoTexture::set(std::int64_t photo_id, PhotoColours colours) {
  clear();
  photo_id_ = photo_id;
  colours_ = std::move(colours);
  if (!colours_.reduced.empty()) reduced_ = upload_picture(colours_.reduced, true);
}

const PhotoTexture::Tile* PhotoTexture::tile(int column, int row, int& uploads_left) {
  const auto known = std::find_if(tiles_.begin(), tiles_.end(), [&](const Tile& t) {
    return t.column == column && t.row == row;
  });
  if (known != tiles_.end()) {
    tiles_.splice(tiles_.begin(), tiles_, known);
    return &tiles_.front();
  }
  if (uploads_left <= 0) return nullptr;
  --uploads_left;
  const cv::Rect inner(column * kTileSide, row * kTileSide, kTileSide, kTileSide);
  const cv::Rect all(0, 0, width_px(), height_px());
  const cv::Rect bordered(inner.x - 1, inner.y - 1, kTileSide + 2, kTileSide + 2);
  const cv::Rect inside = bordered & all;
  cv::Mat pixels;
  cv::copyMakeBorder(colours_.full(inside), pixels, inside.y - bordered.y,
                     bordered.br().y - inside.br().y, inside.x - bordered.x,
                     bordered.br().x - inside.br().x, cv::BORDER_REPLICATE);
  if (tiles_.size() >= kMostTiles) {
    glDeleteTextures(1, &tiles_.back().texture);
    tiles_.pop_back();
  }
  tiles_.push_front({column, row, upload_picture(pixels, false)});
  return &tiles_.front();
}

bool PhotoTexture::draw(ImDrawList* draw, const ViewTransform& view, const ScreenRect& area) {
  if (!ready()) return false;
  draw->AddImage(texture_id(reduced_), corner(view, 0, 0), corner(view, width_px(), height_px()));
  const double reduced_scale = static_cast<double>(colours_.reduced.cols) / width_px();
  if (view.zoom() <= reduced_scale * 1.05) return false;

  const Point_px from = view.to_photo({area.x, area.y});
  const Point_px to = view.to_photo({area.x + area.width, area.y + area.height});
  const auto first = [](double at) {
    return std::max(0, static_cast<int>(std::floor(at / kTileSide)));
  };
  const auto last = [](double at, int size) {
    return static_cast<int>(std::floor(std::min(at + 1, size - 1.0) / kTileSide));
  };
  bool missing = false;
  int uploads_left = kUploadsPerFrame;
  for (int row = first(from.y); row <= last(to.y, height_px()); ++row)
    for (int column = first(from.x); column <= last(to.x, width_px()); ++column) {
      const Tile* shown = tile(column, row, uploads_left);
      if (!shown) {
        missing = true;
        continue;
      }
      const int x = column * kTileSide, y = row * kTileSide;
      const int width = std::min(kTileSide, width_px() - x);
      const int height = std::min(kTileSide, height_px() - y);
      constexpr float kTexel = 1.0f / (kTileSide + 2);
      draw->AddImage(
          texture_id(shown->texture), corner(view, x, y), corner(view, x + width, y + height),
          {kTexel, kTexel},
          {kTexel * static_cast<float>(1 + width), kTexel * static_cast<float>(1 + height)});
    }
  return missing;
}

}  // namespace scantling
