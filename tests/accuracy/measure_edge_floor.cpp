// Compares the engine's edges with the Cramer-Rao bound: measure_edge_floor [TRIALS]

#include <cstdlib>
#include <iostream>

#include "accuracy/edge_floor.h"

int main(int argc, char** argv) {
  const int trials = argc > 1 ? std::atoi(argv[1]) : 120;
  if (trials < 2) {
    std::cerr << "Give the number of pictures for each row, such as 120.\n";
    return 2;
  }
  scantling::accuracy::print_floor_report(std::cout, trials);
}
