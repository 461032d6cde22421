// Makes photographs of brake pads and discs whose true sizes are known: a scene becomes a POV-Ray
// scene, and POV-Ray's light becomes a phone's JPEG with its truth beside it.

#include <cmath>
#include <cstdio>
#include <exception>
#include <fstream>
#include <string>
#include <vector>

#include "made_check.h"
#include "made_develop.h"
#include "made_povray.h"
#include "made_scene.h"
#include "made_truth.h"

namespace {

constexpr const char* kUsage =
    "use: develop_photo scene SCENE.json CARDS_FOLDER INCLUDE_FOLDER OUT_FOLDER\n"
    "     develop_photo develop SCENE.json RENDERED_FOLDER OUT.jpg OUT_TRUTH.json\n"
    "     develop_photo truth SCENE.json\n"
    "     develop_photo check SCENE.json PHOTO.jpg [MOST_MEAN_PX MOST_RMS_PX]\n";

int run(const std::vector<std::string>& words) {
  using namespace scantling::made;
  if (words.size() == 5 && words[0] == "scene") {
    write_povray_scene(read_scene(words[1]), words[2], words[3], words[4]);
    return 0;
  }
  if (words.size() == 5 && words[0] == "develop") {
    const Scene scene = read_scene(words[1]);
    const auto picture = [&](bool depth) {
      const auto frame = render_frame(scene, Camera(scene));
      const auto read = [&](bool coarse) {
        return read_linear_png(words[2] + "/" + scene.name + picture_suffix(depth, coarse) +
                               ".png");
      };
      const cv::Mat coarse = read(true);
      return depth && scene.view != "pad" ? widened(frame, coarse)
                                          : assemble(frame, coarse, read(false));
    };
    write_photo(scene, develop(scene, picture(false), picture(true)), words[3]);
    std::ofstream out(words[4]);
    out << truth_of(scene).dump(1) << '\n';
    return out.flush() ? 0 : 1;
  }
  if (words.size() == 2 && words[0] == "truth") {
    std::puts(truth_of(read_scene(words[1])).dump(1).c_str());
    return 0;
  }
  if ((words.size() == 3 || words.size() == 5) && words[0] == "check") {
    const auto check = check_corners(read_scene(words[1]), words[2]);
    std::printf("%d corners, mean %+.3f %+.3f px, rms %.3f px, worst %.3f px\n", check.corners,
                check.mean_x_px, check.mean_y_px, check.rms_px, check.worst_px);
    if (words.size() == 3) return 0;
    const double mean = std::hypot(check.mean_x_px, check.mean_y_px);
    return mean <= std::stod(words[3]) && check.rms_px <= std::stod(words[4]) ? 0 : 1;
  }
  std::fputs(kUsage, stderr);
  return 2;
}

}  // namespace

int main(int argc, char** argv) {
  try {
    return run(std::vector<std::string>(argv + 1, argv + argc));
  } catch (const std::exception& error) {
    std::fprintf(stderr, "develop_photo: %s\n", error.what());
    return 1;
  }
}
