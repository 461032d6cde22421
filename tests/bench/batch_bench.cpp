// How much faster a heap of forty photos is looked at and measured on two cores than on one. The
// demo's photos of pads, rims and lips come again and again until there are forty, as what counts
// is the work, not what they show.
//
//   bench_batch [PHOTOS] [MOST_THREADS]   (default: 40 photos, 2 threads)
//
// Prints milliseconds and ratios; ends with status 1 where measuring on all threads is less than
// 1.8 times as fast for two threads.

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <opencv2/core/utility.hpp>
#include <vector>

#include "base/each_index.h"
#include "report/demo_job.h"
#include "report/measure_photos.h"
#include "sorting/photo_sight.h"

namespace {

using namespace scantling;
using Clock = std::chrono::steady_clock;

template <class Body>
double taken_ms(Body body) {
  const auto start = Clock::now();
  body();
  return std::chrono::duration<double, std::milli>(Clock::now() - start).count();
}

struct Heap {
  std::vector<std::filesystem::path> files;
  std::vector<PhotoToMeasure> photos;
};

// Each round of the demo's parts stands for parts of its own, so that lips keep to their pairs.
Heap heap_of(std::size_t wanted) {
  const DemoJob demo = read_demo_job(demo_folder());
  Heap heap;
  for (std::int64_t part = 1; heap.files.size() < wanted; ++part) {
    const DemoPart& from = demo.parts[static_cast<std::size_t>(part - 1) % demo.parts.size()];
    for (const DemoPhoto& photo : from.photos) {
      if (from_planes(photo.view) || heap.files.size() == wanted) continue;
      PhotoToMeasure item;
      item.photo.id = static_cast<std::int64_t>(heap.files.size()) + 1;
      item.photo.part_id = part;
      item.photo.view = photo.view;
      item.photo.face = photo.face;
      item.path = photo.file;
      item.options.view = photo.view;
      item.options.sheet_scale = demo.sheet.scale;
      item.options.disc_diameter_mm = from.part.disc_diameter_mm;
      heap.files.push_back(photo.file);
      heap.photos.push_back(std::move(item));
    }
  }
  return heap;
}

/// The least of several rounds, in which the numbers of threads take turns.
template <class Body>
double ratio_of(const char* what, unsigned threads, Body body) {
  constexpr int kRounds = 3;
  double one = 1e12, many = 1e12;
  body(1u);  // files into memory, code loaded
  for (int round = 0; round < kRounds; ++round) {
    one = std::min(one, taken_ms([&] { body(1u); }));
    many = std::min(many, taken_ms([&] { body(threads); }));
  }
  std::printf("%-28s 1 thread %7.0f ms   %u threads %7.0f ms   %.2f times as fast\n", what, one,
              threads, many, one / many);
  return one / many;
}

}  // namespace

int main(int argc, char** argv) {
  const std::size_t wanted = argc > 1 ? static_cast<std::size_t>(std::atoi(argv[1])) : 40;
  const unsigned threads = argc > 2 ? static_cast<unsigned>(std::atoi(argv[2])) : 2;
  // One thread is to mean one core.
  cv::setNumThreads(1);
  const Heap heap = heap_of(wanted);
  std::printf("%zu photos, %u cores here\n", heap.files.size(), usable_cores());
  const double measuring =
      ratio_of("measuring", threads, [&](unsigned n) { measure_many(heap.photos, n); });
  ratio_of("looking (sort)", threads, [&](unsigned n) { sight_photos(heap.files, {}, n); });
  return threads != 2 || measuring >= 1.8 ? 0 : 1;
}
