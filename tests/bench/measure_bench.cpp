// How long a measurement takes, told as a multiple of what no reader of the photo can avoid: the
// bare colour decoding of the same JPEG by libjpeg-turbo, in the same run. The two take turns, and
// medians are compared, so that other work on the machine weighs on both alike. Then the step of a
// drag (snap, refit, budget, verdict), and the memory at most in use.
//
//   bench_measure [PHOTO.jpg ...]
//
// Without photos: a 12-megapixel photo of the demo, and the same at 48 megapixels. Ends with status
// 1 when a target is missed.
//
//   bench_measure --peak PHOTO.jpg
//
// One analysis, and this process's peak memory in kB.

#include <benchmark/benchmark.h>
#include <turbojpeg.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <functional>
#include <iterator>
#include <memory>
#include <stdexcept>
#include <string>
#include <vector>

#include "dimension/analysis.h"
#include "support/large_photo.h"
#include "support/run_program.h"
#include "support/temporary_folder.h"
#include "verdict/verdict.h"

namespace {

using namespace scantling;
using Clock = std::chrono::steady_clock;
namespace fs = std::filesystem;

constexpr const char* kDemoPhoto = SCANTLING_SOURCE_DIR "/assets/demo/pad_left_outer.jpg";
constexpr double kTargetRatio = 1.0, kTargetDrag_ms = 8, kTargetMemory = 3;

struct Results {
  fs::path photo;
  double megapixels = 0;
  std::vector<double> bare, whole, decode, card, edges, drag;
  double peak_mb = 0;
};

/// Reads the file and decodes it to RGB with the library's default flags; the pixels' count.
double decode_colour(const fs::path& photo) {
  std::ifstream file(photo, std::ios::binary);
  const std::vector<unsigned char> bytes(std::istreambuf_iterator<char>(file), {});
  const auto size = static_cast<unsigned long>(bytes.size());
  const std::unique_ptr<void, int (*)(void*)> decoder(tjInitDecompress(), tjDestroy);
  int width = 0, height = 0, sampling = 0, colours = 0;
  if (tjDecompressHeader3(decoder.get(), bytes.data(), size, &width, &height, &sampling,
                          &colours) != 0)
    throw std::runtime_error("not a JPEG: " + photo.string());
  const auto pixels = std::make_unique_for_overwrite<unsigned char[]>(
      3 * static_cast<std::size_t>(width) * static_cast<std::size_t>(height));
  if (tjDecompress2(decoder.get(), bytes.data(), size, pixels.get(), width, 0, height, TJPF_RGB,
                    0) != 0)
    throw std::runtime_error("damaged JPEG: " + photo.string());
  benchmark::DoNotOptimize(pixels.get());
  return 1e-6 * width * height;
}

Analysis analyse(const fs::path& photo) {
  Analysis analysis = Analysis::run(photo, MeasureOptions{});
  if (!analysis.measurement().usable())
    throw std::runtime_error("the photo can't be measured: " + photo.string());
  return analysis;
}

double median(std::vector<double> values) {
  if (values.empty()) return 0;
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

void measure_whole(benchmark::State& state, Results& results) {
  results.megapixels = decode_colour(results.photo);  // the first run pays for loading code
  analyse(results.photo);
  for (auto _ : state) {
    results.bare.push_back(taken_ms([&] { decode_colour(results.photo); }));
    Timing_ms stages;
    results.whole.push_back(
        taken_ms([&] { stages = analyse(results.photo).measurement().timing_ms; }));
    results.decode.push_back(stages.decode);
    results.card.push_back(stages.card);
    results.edges.push_back(stages.edges);
    state.SetIterationTime((results.bare.back() + results.whole.back()) / 1000);
  }
  state.counters["ratio"] = median(results.whole) / median(results.bare);
}

/// What follows the pointer: the friction face a little farther on each time.
void drag(benchmark::State& state, Results& results) {
  const Analysis analysis = analyse(results.photo);
  const MeasuredEdge& edge = *analysis.measurement().edge("friction_outer");
  const double minimum_mm = 2;
  int step = 0;
  for (auto _ : state) {
    const double off = 0.5 * (step++ % 20 - 10);
    const EdgeSegment proposed{{edge.points_px.front().x, edge.points_px.front().y + off},
                               {edge.points_px.back().x, edge.points_px.back().y + off}};
    const double ms = taken_ms([&] {
      const EdgeSegment placed = analysis.snapped(proposed, 14).value_or(proposed);
      const MovedEdge moved{edge.name, placed};
      const Measurement measured = analysis.with_edges({&moved, 1});
      benchmark::DoNotOptimize(
          judge(measured.dimension("friction_thickness")->quantity, {}, minimum_mm));
    });
    results.drag.push_back(ms);
    state.SetIterationTime(ms / 1000);
  }
}

double peak_mb(const fs::path& program, const fs::path& photo) {
  const ProgramResult result = run_program({program.string(), "--peak", photo.string()});
  if (result.exit_status != 0) throw std::runtime_error(result.errors);
  return std::stod(result.output) / 1000;
}

/// The most memory this process ever held; 0 where the system doesn't tell.
int print_peak(const fs::path& photo) {
  analyse(photo);
  std::ifstream status("/proc/self/status");
  for (std::string word; status >> word;)
    if (word == "VmHWM:" && status >> word) {
      std::printf("%s\n", word.c_str());
      return 0;
    }
  return 1;
}

void print_row(const char* title, const std::vector<Results>& all, double (*value)(const Results&),
               const char* format, const char* target = "") {
  std::printf("%-42s", title);
  for (const Results& results : all) std::printf(format, value(results));
  std::printf("  %s\n", target);
}

void print_table(const std::vector<Results>& all) {
  std::printf("\n");
  print_row(
      "median ms at megapixels", all, [](const Results& r) { return r.megapixels; }, " %8.1f");
  print_row(
      "luma decoding, upright", all, [](const Results& r) { return median(r.decode); }, " %8.1f");
  print_row(
      "card and pose", all, [](const Results& r) { return median(r.card); }, " %8.1f");
  print_row(
      "edges, sizes and budget", all, [](const Results& r) { return median(r.edges); }, " %8.1f");
  print_row(
      "whole analysis", all, [](const Results& r) { return median(r.whole); }, " %8.1f");
  print_row(
      "bare colour decoding", all, [](const Results& r) { return median(r.bare); }, " %8.1f");
  print_row(
      "analysis / bare colour decoding", all,
      [](const Results& r) { return median(r.whole) / median(r.bare); }, " %8.2f",
      "target at most 1.0");
  print_row(
      "a drag's step", all, [](const Results& r) { return median(r.drag); }, " %8.2f",
      "target at most 8 ms");
  print_row(
      "peak memory, MB", all, [](const Results& r) { return r.peak_mb; }, " %8.0f");
  print_row(
      "peak memory / the decoded colour picture", all,
      [](const Results& r) { return r.peak_mb / (3 * r.megapixels); }, " %8.2f",
      "target at most 3");
}

bool on_target(const Results& r) {
  return median(r.whole) <= kTargetRatio * median(r.bare) && median(r.drag) <= kTargetDrag_ms &&
         r.peak_mb <= kTargetMemory * 3 * r.megapixels;
}

}  // namespace

int main(int argc, char** argv) {
  benchmark::Initialize(&argc, argv);
  try {
    if (argc == 3 && std::string(argv[1]) == "--peak") return print_peak(argv[2]);
    const TemporaryFolder folder;
    std::vector<Results> all;
    for (int i = 1; i < argc; ++i) all.push_back({argv[i], 0, {}, {}, {}, {}, {}, {}, 0});
    if (all.empty()) {
      write_larger_photo(kDemoPhoto, 2, folder / "large.jpg");
      for (const fs::path& photo : {fs::path(kDemoPhoto), folder / "large.jpg"})
        all.push_back({photo, 0, {}, {}, {}, {}, {}, {}, 0});
    }
    for (Results& results : all) {
      const std::string name = results.photo.filename().string();
      benchmark::RegisterBenchmark(("analysis/" + name).c_str(), measure_whole, std::ref(results))
          ->UseManualTime()
          ->Unit(benchmark::kMillisecond)
          ->Iterations(21);
      benchmark::RegisterBenchmark(("drag/" + name).c_str(), drag, std::ref(results))
          ->UseManualTime()
          ->Unit(benchmark::kMillisecond)
          ->Iterations(60);
    }
    benchmark::RunSpecifiedBenchmarks();
    for (Results& results : all)
      results.peak_mb = peak_mb(fs::read_symlink("/proc/self/exe"), results.photo);
    print_table(all);
    benchmark::Shutdown();
    return std::all_of(all.begin(), all.end(), on_target) ? 0 : 1;
  } catch (const std::exception& fault) {
    std::fprintf(stderr, "bench_measure: %s\n", fault.what());
    return 1;
  }
}
