// Measures the rendered corpus (.dev/remake-corpus) and says how well:
//   measure_corpus [FOLDER] [--entries FILE] [--worst N]

#include <CLI/CLI.hpp>
#include <exception>
#include <iostream>

#include "accuracy/corpus_summary.h"

int main(int argc, char** argv) {
  CLI::App app{"Measures the rendered corpus and compares with its true sizes"};
  std::string folder = SCANTLING_SOURCE_DIR "/build/corpus";
  std::string entries = SCANTLING_SOURCE_DIR "/tests/corpus/entries.json";
  int worst = 15;
  app.add_option("folder", folder, "Photos with their truth, as .dev/remake-corpus makes them");
  app.add_option("--entries", entries, "What the owner would enter for each photo");
  app.add_option("--worst", worst, "How many of the worst sizes to list");
  CLI11_PARSE(app, argc, argv);
  try {
    scantling::accuracy::print_corpus_report(
        std::cout, scantling::accuracy::run_corpus(folder, entries), worst);
  } catch (const std::exception& fault) {
    std::cerr << "measure_corpus: " << fault.what()
              << "; make the photos with .dev/remake-corpus\n";
    return 1;
  }
}
