// Writes drawn photos with their truth: draw_photos --out DIR [--view pad|rim|lip] [--seeds 1..20]
//   [--megapixels 5] [--difficulty easy|normal|hard] [--photos N]   N photos of each lip

#include <CLI/CLI.hpp>
#include <chrono>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <nlohmann/json.hpp>

#include "support/drawn_disc_truth.h"
#include "support/drawn_file.h"
#include "support/drawn_lots.h"
#include "support/drawn_truth.h"

namespace {

using namespace scantling::drawn;

template <typename Scene>
void write_one(const Scene& scene, const std::filesystem::path& stem) {
  const auto bytes = jpeg_file(scene.camera, draw(scene));
  std::ofstream photo(stem.string() + ".jpg", std::ios::binary);
  photo.write(reinterpret_cast<const char*>(bytes.data()),
              static_cast<std::streamsize>(bytes.size()));
  std::ofstream truth(stem.string() + ".json");
  truth << truth_json(scene).dump(1) << '\n';
  if (!photo.flush() || !truth.flush())
    throw std::runtime_error("cannot write " + stem.string() + ".jpg or .json");
}

struct Wanted {
  std::filesystem::path folder;
  std::string view = "pad", seeds = "1..20", difficulty;
  double megapixels = 5;
  int photos = 1;
};

void write_seed(const Wanted& wanted, unsigned seed) {
  Difficulty d = random_difficulty(seed);
  for (Difficulty named : {Difficulty::easy, Difficulty::normal, Difficulty::hard})
    if (wanted.difficulty == difficulty_word(named)) d = named;
  const auto start = std::chrono::steady_clock::now();
  char name[32];
  std::snprintf(name, sizeof name, "%s_%04u", wanted.view.c_str(), seed);
  const std::string stem = (wanted.folder / name).string();
  if (wanted.view == "pad") {
    write_one(random_scene(seed, wanted.megapixels, d), stem);
  } else if (wanted.view == "rim") {
    write_one(random_rim_scene(seed, wanted.megapixels, d), stem);
  } else {
    char letter = 'a';
    for (const auto& scene : random_lip_scenes(seed, wanted.megapixels, d, wanted.photos))
      write_one(scene, wanted.photos == 1 ? stem : stem + '_' + letter++);
  }
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
  std::cerr << name << ' ' << difficulty_word(d) << ", " << took.count() << " s\n";
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app{"Draws photos of brake pads and discs with known sizes"};
  Wanted wanted;
  app.add_option("--out", wanted.folder, "Folder for the photos")->required();
  app.add_option("--view", wanted.view)->check(CLI::IsMember({"pad", "rim", "lip"}));
  app.add_option("--seeds", wanted.seeds, "First and last seed, as 1..20");
  app.add_option("--megapixels", wanted.megapixels)->check(CLI::Range(0.5, 50.0));
  app.add_option("--difficulty", wanted.difficulty)
      ->check(CLI::IsMember({"easy", "normal", "hard"}));
  app.add_option("--photos", wanted.photos, "Photos of each lip")->check(CLI::Range(1, 4));
  CLI11_PARSE(app, argc, argv);
  unsigned first = 0, last = 0;
  if (std::sscanf(wanted.seeds.c_str(), "%u..%u", &first, &last) != 2) {
    std::cerr << "give --seeds as 1..20\n";
    return 2;
  }
  std::filesystem::create_directories(wanted.folder);
  for (unsigned seed = first; seed <= last; ++seed) write_seed(wanted, seed);
}
