// Writes drawn photos of pads with their truth: draw_photos --out DIR [--seeds 1..20]
//                                                [--megapixels 5] [--difficulty easy|normal|hard]

#include <CLI/CLI.hpp>
#include <chrono>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <nlohmann/json.hpp>

#include "support/drawn_file.h"
#include "support/drawn_truth.h"

namespace {

using namespace scantling::drawn;

void write_one(const DrawnScene& scene, const std::filesystem::path& stem) {
  const auto bytes = jpeg_file(scene, draw(scene));
  std::ofstream photo(stem.string() + ".jpg", std::ios::binary);
  photo.write(reinterpret_cast<const char*>(bytes.data()),
              static_cast<std::streamsize>(bytes.size()));
  std::ofstream truth(stem.string() + ".json");
  truth << truth_json(scene).dump(1) << '\n';
  if (!photo.flush() || !truth.flush())
    throw std::runtime_error("cannot write " + stem.string() + ".jpg or .json");
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app{"Draws photos of brake pads with known sizes"};
  std::filesystem::path folder;
  std::string seeds = "1..20", difficulty;
  double megapixels = 5;
  app.add_option("--out", folder, "Folder for the photos")->required();
  app.add_option("--seeds", seeds, "First and last seed, as 1..20");
  app.add_option("--megapixels", megapixels)->check(CLI::Range(0.5, 50.0));
  app.add_option("--difficulty", difficulty)->check(CLI::IsMember({"easy", "normal", "hard"}));
  CLI11_PARSE(app, argc, argv);
  unsigned first = 0, last = 0;
  if (std::sscanf(seeds.c_str(), "%u..%u", &first, &last) != 2) {
    std::cerr << "give --seeds as 1..20\n";
    return 2;
  }
  std::filesystem::create_directories(folder);
  for (unsigned seed = first; seed <= last; ++seed) {
    const auto start = std::chrono::steady_clock::now();
    DrawnScene scene = random_scene(seed, megapixels);
    for (Difficulty wanted : {Difficulty::easy, Difficulty::normal, Difficulty::hard})
      if (difficulty == difficulty_word(wanted)) scene = random_scene(seed, megapixels, wanted);
    char name[32];
    std::snprintf(name, sizeof name, "pad_%04u", seed);
    write_one(scene, folder / name);
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
    std::cerr << name << ' ' << difficulty_word(scene.difficulty) << ", "
              << pose_word(scene.pad.pose) << ", " << took.count() << " s\n";
  }
}
