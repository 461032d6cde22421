// Draws many pads or discs by seed, measures them, and says how well:
//   measure_accuracy [--view pad|rim|lip] [--seeds 1..100] [--megapixels 8] [--difficulty
//   easy|normal|hard] [--keep FOLDER] [--json]

#include <CLI/CLI.hpp>
#include <cstdio>
#include <iostream>
#include <nlohmann/json.hpp>
#include <optional>

#include "accuracy/accuracy_summary.h"

int main(int argc, char** argv) {
  using namespace scantling;
  using drawn::Difficulty;
  CLI::App app{"Measures drawn pads and compares with their true sizes"};
  std::string seeds = "1..60", difficulty, view = "pad";
  double megapixels = 8;
  accuracy::Drawings drawings;
  bool json = false;
  int worst = 10;
  app.add_option("--view", view)->check(CLI::IsMember({"pad", "rim", "lip"}));
  app.add_option("--seeds", seeds, "First and last seed, as 1..60");
  app.add_option("--megapixels", megapixels)->check(CLI::Range(0.5, 50.0));
  app.add_option("--difficulty", difficulty)->check(CLI::IsMember({"easy", "normal", "hard"}));
  app.add_option("--worst", worst, "How many of the worst photos to list");
  app.add_option("--keep", drawings.folder, "Folder for the drawn photos, drawn there only once");
  app.add_flag("--json", json);
  CLI11_PARSE(app, argc, argv);
  unsigned first = 0, last = 0;
  if (std::sscanf(seeds.c_str(), "%u..%u", &first, &last) != 2 || last < first) {
    std::cerr << "Give --seeds as first and last, such as 1..60.\n";
    return 2;
  }
  std::optional<Difficulty> only;
  for (const Difficulty wanted : {Difficulty::easy, Difficulty::normal, Difficulty::hard})
    if (difficulty == drawn::difficulty_word(wanted)) only = wanted;
  if (view != "pad") {
    std::vector<accuracy::DiscTrial> discs;
    for (unsigned seed = first; seed <= last; ++seed)
      discs.push_back(view == "rim" ? accuracy::run_rim_trial(seed, megapixels, only, drawings)
                                    : accuracy::run_lip_trial(seed, megapixels, only, drawings));
    accuracy::print_disc_report(std::cout, discs, worst);
    return 0;
  }
  std::vector<accuracy::Trial> trials;
  for (unsigned seed = first; seed <= last; ++seed) {
    const drawn::DrawnScene scene =
        only ? drawn::random_scene(seed, megapixels, *only) : drawn::random_scene(seed, megapixels);
    trials.push_back(accuracy::run_trial(scene, drawings));
    if (seed % 10 == 0) std::cerr << seed << '\n';
  }
  if (json)
    std::cout << accuracy::report_json(trials).dump(1) << '\n';
  else
    accuracy::print_report(std::cout, trials, worst);
}
