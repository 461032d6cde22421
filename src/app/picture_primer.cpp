#include "app/picture_primer.h"

#define GL_GLEXT_PROTOTYPES
#include <GL/gl.h>
#include <GL/glext.h>
#include <imgui.h>

#include <array>
#include <opencv2/core.hpp>
#include <optional>

#include "app/photo_texture.h"

namespace scantling {

namespace {

/// What such a program depends on: whether either side is a power of two, whether there are
/// smaller levels, and whether what is beneath shows through.
struct Kind {
  int width_px, height_px;
  bool mipmaps, opaque;
};
constexpr std::array kKinds = {
    Kind{8, 6, true, true},   // a photo as a whole, upright or not
    Kind{6, 8, true, true},   //
    Kind{8, 8, false, true},  // its tiles
    Kind{6, 6, true, false},  // small pictures of photos
    Kind{8, 6, true, false},  //
};

}  // namespace

PicturePrimer::~PicturePrimer() {
  clear();
}

void PicturePrimer::clear() {
  for (const unsigned texture : textures_) glDeleteTextures(1, &texture);
  textures_.clear();
}

bool PicturePrimer::draw() {
  // The very first frame shall be seen soon.
  const int number = frame_++ - 1;
  if (number < 0) return true;
  if (number >= static_cast<int>(kKinds.size())) {
    clear();
    return false;
  }
  const Kind& kind = kKinds[static_cast<std::size_t>(number)];
  const cv::Mat picture(kind.height_px, kind.width_px, CV_8UC3, cv::Scalar::all(0));
  textures_.push_back(upload_picture(picture, kind.mipmaps));
  ImDrawList* draw = ImGui::GetBackgroundDrawList();
  std::optional<Opaque> opaque;
  if (kind.opaque) opaque.emplace(draw);
  draw->AddImage(texture_id(textures_.back()), {0, 0}, {1, 1});
  return true;
}

}  // namespace scantling
