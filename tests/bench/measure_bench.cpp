// How long a measurement takes, told as a multiple of what no reader of the photo can avoid: the
// bare colour decoding of the same JPEG by libjpeg-turbo, in the same run. The two take turns, and
// medians are compared, so that other work on the machine weighs on both alike.
//
//   bench_measure [PHOTO.jpg]   (default: a 12-megapixel photo of the demo)
//
// Ends with status 1 when the ratio is above 2.

#include <benchmark/benchmark.h>
#include <turbojpeg.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <memory>
#include <stdexcept>
#include <string>
#include <vector>

#include "dimension/analysis.h"

namespace {

using namespace scantling;
using Clock = std::chrono::steady_clock;

std::string photo_path = SCANTLING_SOURCE_DIR "/assets/demo/pad_left_outer.jpg";
constexpr double kTargetRatio = 2.0;

std::vector<unsigned char> photo_bytes() {
  std::ifstream file(photo_path, std::ios::binary);
  return std::vector<unsigned char>(std::istreambuf_iterator<char>(file), {});
}

/// Reads the file and decodes it to RGB with the library's default flags.
void decode_colour() {
  const std::vector<unsigned char> bytes = photo_bytes();
  const auto size = static_cast<unsigned long>(bytes.size());
  const std::unique_ptr<void, int (*)(void*)> decoder(tjInitDecompress(), tjDestroy);
  int width = 0, height = 0, sampling = 0, colours = 0;
  if (tjDecompressHeader3(decoder.get(), bytes.data(), size, &width, &height, &sampling,
                          &colours) != 0)
    throw std::runtime_error("not a JPEG: " + photo_path);
  const auto pixels = std::make_unique_for_overwrite<unsigned char[]>(
      3 * static_cast<std::size_t>(width) * static_cast<std::size_t>(height));
  if (tjDecompress2(decoder.get(), bytes.data(), size, pixels.get(), width, 0, height, TJPF_RGB,
                    0) != 0)
    throw std::runtime_error("damaged JPEG: " + photo_path);
  benchmark::DoNotOptimize(pixels.get());
}

Timing_ms analyse() {
  const Analysis analysis = Analysis::run(std::filesystem::path(photo_path), MeasureOptions{});
  if (!analysis.measurement().usable())
    throw std::runtime_error("the photo can't be measured: " + photo_path);
  return analysis.measurement().timing_ms;
}

double median(std::vector<double> values) {
  std::nth_element(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2),
                   values.end());
  return values[values.size() / 2];
}

template <class Body>
double taken_ms(Body body) {
  const auto start = Clock::now();
  body();
  return std::chrono::duration<double, std::milli>(Clock::now() - start).count();
}

double ratio = 0;

void BM_AnalysisAgainstBareDecoding(benchmark::State& state) {
  std::vector<double> bare, whole, decode, card, edges;
  decode_colour();  // the first run pays for reading the file and for loading code
  analyse();
  for (auto _ : state) {
    bare.push_back(taken_ms(decode_colour));
    Timing_ms stages;
    whole.push_back(taken_ms([&] { stages = analyse(); }));
    decode.push_back(stages.decode);
    card.push_back(stages.card);
    edges.push_back(stages.edges);
    state.SetIterationTime((bare.back() + whole.back()) / 1000);
  }
  ratio = median(whole) / median(bare);
  state.counters["bare_decoding_ms"] = median(bare);
  state.counters["analysis_ms"] = median(whole);
  state.counters["ratio"] = ratio;
  std::printf("\n%-34s %8s\n", "stage, median ms", "");
  for (const auto& [name, values] :
       {std::pair{"luma decoding, upright", &decode}, std::pair{"card and pose", &card},
        std::pair{"edges and sizes", &edges}, std::pair{"whole analysis", &whole},
        std::pair{"bare colour decoding", &bare}})
    std::printf("%-34s %8.1f\n", name, median(*values));
  std::printf("%-34s %8.2f   (target at most %.1f)\n\n", "analysis / bare colour decoding", ratio,
              kTargetRatio);
}
BENCHMARK(BM_AnalysisAgainstBareDecoding)
    ->UseManualTime()
    ->Unit(benchmark::kMillisecond)
    ->Iterations(31);

}  // namespace

int main(int argc, char** argv) {
  benchmark::Initialize(&argc, argv);
  if (argc > 1) photo_path = argv[1];
  try {
    benchmark::RunSpecifiedBenchmarks();
  } catch (const std::exception& fault) {
    std::fprintf(stderr, "bench_measure: %s\n", fault.what());
    return 1;
  }
  benchmark::Shutdown();
  return ratio > 0 && ratio <= kTargetRatio ? 0 : 1;
}
