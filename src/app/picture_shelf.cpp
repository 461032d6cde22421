#include "app/picture_shelf.h"

#define GL_GLEXT_PROTOTYPES
#include <GL/gl.h>
#include <GL/glext.h>

#include <algorithm>

#include "app/photo_texture.h"

namespace scantling {

PictureShelf::~PictureShelf() {
  clear();
}

void PictureShelf::clear() {
  for (const auto& [number, picture] : pictures_) glDeleteTextures(1, &picture.texture);
  pictures_.clear();
}

void PictureShelf::put(int number, const cv::Mat& rgb) {
  if (rgb.empty()) return;
  const auto known = pictures_.find(number);
  if (known != pictures_.end()) glDeleteTextures(1, &known->second.texture);
  pictures_[number] = {upload_picture(rgb, true), rgb.cols, rgb.rows};
}

bool PictureShelf::draw(ImDrawList* draw, int number, ImVec2 from, ImVec2 to) const {
  const auto known = pictures_.find(number);
  if (known == pictures_.end()) return false;
  const Picture& picture = known->second;
  const auto width = static_cast<float>(picture.width_px);
  const auto height = static_cast<float>(picture.height_px);
  const float scale = std::min((to.x - from.x) / width, (to.y - from.y) / height);
  const ImVec2 middle((from.x + to.x) / 2, (from.y + to.y) / 2);
  const ImVec2 half(width * scale / 2, height * scale / 2);
  draw->AddImage(texture_id(picture.texture), {middle.x - half.x, middle.y - half.y},
                 {middle.x + half.x, middle.y + half.y});
  return true;
}

}  // namespace scantling
