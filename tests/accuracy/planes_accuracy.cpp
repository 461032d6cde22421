// The plane views' solver against drawn photos: errors, claimed uncertainties and their ratio, row
// by row. Corners are drawn, not pictures, so thousands of trials take minutes.
//
//   planes_accuracy [TRIALS [SEED]]

#include <cmath>
#include <cstdio>
#include <cstdlib>

#include "accuracy/planes_sweep.h"

int main(int argc, char** argv) {
  using namespace scantling::drawn;
  const int trials = argc > 1 ? std::atoi(argv[1]) : 100;
  const auto seed = static_cast<std::uint32_t>(argc > 2 ? std::atoi(argv[2]) : 1);
  if (trials < 1) {
    std::fprintf(stderr, "planes_accuracy [TRIALS [SEED]]\n");
    return 2;
  }
  std::printf("%-58s %8s %8s %8s %6s %6s %5s %6s\n", "", "mean um", "rms um", "claim um", "ratio",
              "in95", "fail", "ms");
  double square = 0;
  std::uint32_t row_number = 0;
  int count = 0;
  for (const PlanesSweepRow& row : planes_sweep_rows()) {
    const PlanesSweepResult r = run_planes_row(row, trials, seed + 1000 * ++row_number);
    std::printf("%-58s %8.1f %8.1f %8.1f %6.3f %6.3f %5d %6.0f\n", row.words().c_str(),
                1000 * r.mean_mm, 1000 * r.rms_mm, 1000 * r.claimed_mm, r.ratio, r.within_95,
                r.failed, 1000 * r.seconds / trials);
    std::fflush(stdout);
    square += r.square_sum;
    count += r.trials;
  }
  std::printf("all: ratio %.3f of %d trials\n", std::sqrt(square / count), count);
}
