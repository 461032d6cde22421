// Writes photos of pads, rims and lips, good and bad, each under a head of zeros, for measure_fuzz
// to begin with.

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "support/bad_photos.h"
#include "support/drawn_disc.h"
#include "support/drawn_file.h"
#include "support/drawn_scene.h"

namespace {

using namespace scantling;

void write(const std::filesystem::path& file, char view, const std::vector<unsigned char>& jpeg) {
  std::string head(64, '\0');
  head[0] = view;
  head[1] = head[2] = static_cast<char>(128);
  for (int i = 48; i < 51; ++i) head[static_cast<std::size_t>(i)] = static_cast<char>(130);
  std::ofstream stream(file, std::ios::binary);
  stream << head;
  stream.write(reinterpret_cast<const char*>(jpeg.data()),
               static_cast<std::streamsize>(jpeg.size()));
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) {
    std::fprintf(stderr, "measure_fuzz_seeds FOLDER\n");
    return 2;
  }
  const std::filesystem::path folder = argv[1];
  std::filesystem::create_directories(folder);
  constexpr double kMegapixels = 1.6;
  for (unsigned seed = 1; seed <= 4; ++seed) {
    const std::string number = std::to_string(seed);
    const auto pad = drawn::random_scene(seed, kMegapixels, drawn::Difficulty::easy);
    write(folder / ("pad" + number), 0, drawn::jpeg_file(pad.camera, drawn::draw(pad)));
    const auto rim = drawn::random_rim_scene(seed, kMegapixels, drawn::Difficulty::easy);
    write(folder / ("rim" + number), 1, drawn::jpeg_file(rim.camera, drawn::draw(rim)));
    const auto lip = drawn::random_lip_scenes(seed, kMegapixels, drawn::Difficulty::easy, 1)[0];
    write(folder / ("lip" + number), 2, drawn::jpeg_file(lip.camera, drawn::draw(lip)));
  }
  for (const test::BadPhoto& bad : test::bad_photos()) {
    const std::string view = bad.view;
    write(folder / bad.name, view == "pad" ? 0 : view == "rim" ? 1 : 2, bad.jpeg());
  }
  return 0;
}
