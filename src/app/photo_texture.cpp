#include "app/photo_texture.h"

#define GL_GLEXT_PROTOTYPES
#include <GL/gl.h>
#include <GL/glext.h>

#include <algorithm>
#include <cmath>
#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>
#include <utility>
#include <vector>

#include "app/photo_look.h"
#include "photo/photo.h"

namespace scantling {

namespace {

constexpr int kTileSide = 1022;  ///< with a border of one pixel all round: 1024
constexpr std::size_t kMostTiles = 40;
constexpr int kUploadsPerFrame = 2;
constexpr int kLeastCell = 96;  ///< of a mesh: photo pixels along a side, unless
constexpr int kMostCells = 28;  ///< that would make more than so many cells

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
  // Four channels and the smaller levels are made here: where the processor does the drawing, the
  // driver takes ten times as long over either.
  cv::Mat level, half;
  cv::cvtColor(rgb, level, cv::COLOR_RGB2RGBA);
  glPixelStorei(GL_UNPACK_ALIGNMENT, 4);
  for (int number = 0;; ++number) {
    glTexImage2D(GL_TEXTURE_2D, number, GL_RGBA8, level.cols, level.rows, 0, GL_RGBA,
                 GL_UNSIGNED_BYTE, level.data);
    if (!mipmaps || (level.cols == 1 && level.rows == 1)) break;
    cv::resize(level, half, {std::max(1, level.cols / 2), std::max(1, level.rows / 2)}, 0, 0,
               cv::INTER_AREA);
    cv::swap(level, half);
  }
  return texture;
}

namespace {

ImVec2 corner(const ViewTransform& view, double x, double y) {
  const ScreenPoint p = view.to_screen({x - 0.5, y - 0.5});
  return {static_cast<float>(p.x), static_cast<float>(p.y)};
}

// A rectangle of the photo, from its texture's `from` to `to`.
void add_picture(ImDrawList* draw, unsigned texture, const ViewTransform& view, const cv::Rect& at,
                 ImVec2 from, ImVec2 to) {
  const double left = at.x, top = at.y, right = at.br().x, bottom = at.br().y;
  draw->AddImageQuad(texture_id(texture), corner(view, left, top), corner(view, right, top),
                     corner(view, right, bottom), corner(view, left, bottom), from, {to.x, from.y},
                     to, {from.x, to.y});
}

// The same through a map that bends: as a mesh whose cells are straight enough.
void add_mesh(ImDrawList* draw, unsigned texture, const PhotoMap& map, const cv::Rect& at,
              ImVec2 from, ImVec2 to) {
  const auto cells = [](int side) { return std::clamp(side / kLeastCell, 1, kMostCells); };
  const int columns = cells(at.width), rows = cells(at.height);
  struct Knot {
    std::optional<ScreenPoint> place;
    ImVec2 texel;
  };
  std::vector<Knot> above, below;
  for (int row = 0; row <= rows; ++row) {
    below.clear();
    const float down = static_cast<float>(row) / static_cast<float>(rows);
    for (int column = 0; column <= columns; ++column) {
      const float along = static_cast<float>(column) / static_cast<float>(columns);
      below.push_back(
          {map({at.x + double{along} * at.width - 0.5, at.y + double{down} * at.height - 0.5}),
           {from.x + along * (to.x - from.x), from.y + down * (to.y - from.y)}});
    }
    for (std::size_t i = 1; row > 0 && i < below.size(); ++i) {
      const Knot &a = above[i - 1], &b = above[i], &c = below[i], &d = below[i - 1];
      if (!a.place || !b.place || !c.place || !d.place) continue;
      const auto screen = [](const Knot& knot) {
        return ImVec2(static_cast<float>(knot.place->x), static_cast<float>(knot.place->y));
      };
      draw->AddImageQuad(texture_id(texture), screen(a), screen(b), screen(c), screen(d), a.texel,
                         b.texel, c.texel, d.texel);
    }
    std::swap(above, below);
  }
}

}  // namespace

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

void PhotoTexture::drop_textures() {
  if (reduced_) glDeleteTextures(1, &reduced_);
  for (const Tile& tile : tiles_) glDeleteTextures(1, &tile.texture);
  tiles_.clear();
  reduced_ = 0;
}

void PhotoTexture::clear() {
  drop_textures();
  photo_id_ = 0;
  brightness_ = 0;
  colours_ = {};
}

void PhotoTexture::set(std::int64_t photo_id, PhotoColours colours) {
  clear();
  photo_id_ = photo_id;
  colours_ = std::move(colours);
  if (!colours_.reduced.empty()) reduced_ = upload_picture(colours_.reduced, true);
}

void PhotoTexture::set_brightness(int brightness) {
  if (brightness == brightness_ || !ready()) return;
  brightness_ = brightness;
  drop_textures();
  reduced_ = upload_picture(shown(colours_.reduced), true);
}

cv::Mat PhotoTexture::shown(const cv::Mat& rgb) const {
  if (brightness_ == 0) return rgb;
  cv::Mat changed;
  cv::LUT(rgb, brightness_table(brightness_), changed);
  return changed;
}

const PhotoTexture::Tile* PhotoTexture::tile(int column, int row, int& uploads_left) {
  const auto known = std::find_if(tiles_.begin(), tiles_.end(), [&](const Tile& t) {
    return t.column == column && t.row == row;
  });
  if (known != tiles_.end()) {
    tiles_.splice(tiles_.begin(), tiles_, known);
    tiles_.front().drawn_in = ImGui::GetFrameCount();
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
  // What this frame draws already must stay, however many tiles a large screen shows at once.
  while (tiles_.size() >= kMostTiles && tiles_.back().drawn_in != ImGui::GetFrameCount()) {
    glDeleteTextures(1, &tiles_.back().texture);
    tiles_.pop_back();
  }
  tiles_.push_front({column, row, upload_picture(shown(pixels), false), ImGui::GetFrameCount()});
  return &tiles_.front();
}

std::vector<PhotoTexture::Tile> PhotoTexture::tiles_in_sight(const PhotoPatch& in_sight,
                                                             bool& missing) {
  const auto first = [](double at) {
    return std::max(0, static_cast<int>(std::floor(at / kTileSide)));
  };
  const auto last = [](double at, int size) {
    return static_cast<int>(std::floor(std::min(at + 1, size - 1.0) / kTileSide));
  };
  std::vector<Tile> found;
  int uploads_left = kUploadsPerFrame;
  for (int row = first(in_sight.from.y); row <= last(in_sight.to.y, height_px()); ++row)
    for (int column = first(in_sight.from.x); column <= last(in_sight.to.x, width_px()); ++column) {
      if (const Tile* one = tile(column, row, uploads_left))
        found.push_back(*one);
      else
        missing = true;
    }
  return found;
}

template <typename Add>
bool PhotoTexture::each_texture(const PhotoPatch& in_sight, double zoom, const Add& add) {
  if (!ready()) return false;
  const double reduced_scale = static_cast<double>(colours_.reduced.cols) / width_px();
  const bool tiled = zoom > reduced_scale * 1.05;
  bool missing = false;
  const std::vector<Tile> tiles = tiled ? tiles_in_sight(in_sight, missing) : std::vector<Tile>();
  // Beneath the tiles the reduced picture would be drawn for nothing.
  if (!tiled || missing)
    add(reduced_, cv::Rect(0, 0, width_px(), height_px()), ImVec2(0, 0), ImVec2(1, 1));
  for (const Tile& each : tiles) {
    const int x = each.column * kTileSide, y = each.row * kTileSide;
    const int width = std::min(kTileSide, width_px() - x);
    const int height = std::min(kTileSide, height_px() - y);
    constexpr float kTexel = 1.0f / (kTileSide + 2);
    add(each.texture, cv::Rect(x, y, width, height), ImVec2(kTexel, kTexel),
        ImVec2(kTexel * static_cast<float>(1 + width), kTexel * static_cast<float>(1 + height)));
  }
  return missing;
}

Opaque::Opaque(ImDrawList* draw) : draw_(draw) {
  draw_->AddCallback([](const ImDrawList*, const ImDrawCmd*) { glDisable(GL_BLEND); }, nullptr);
}

Opaque::~Opaque() {
  draw_->AddCallback(ImDrawCallback_ResetRenderState, nullptr);
}

bool PhotoTexture::draw(ImDrawList* draw, const ViewTransform& view, const ScreenRect& area) {
  const Opaque opaque(draw);
  const Point_px one = view.to_photo({area.x, area.y});
  const Point_px other = view.to_photo({area.x + area.width, area.y + area.height});
  const PhotoPatch in_sight{{std::min(one.x, other.x), std::min(one.y, other.y)},
                            {std::max(one.x, other.x), std::max(one.y, other.y)}};
  return each_texture(in_sight, view.zoom(),
                      [&](unsigned texture, const cv::Rect& at, ImVec2 from, ImVec2 to) {
                        add_picture(draw, texture, view, at, from, to);
                      });
}

bool PhotoTexture::draw(ImDrawList* draw, const PhotoMap& map, const PhotoPatch& in_sight,
                        double zoom) {
  const Opaque opaque(draw);
  return each_texture(in_sight, zoom,
                      [&](unsigned texture, const cv::Rect& at, ImVec2 from, ImVec2 to) {
                        add_mesh(draw, texture, map, at, from, to);
                      });
}

}  // namespace scantling
