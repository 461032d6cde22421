// Feeds the photo readers with changed files (libFuzzer):
//
//   ninja -C build/fuzz photo_fuzz photo_fuzz_seeds
//   build/fuzz/tests/fuzz/photo_fuzz_seeds seeds
//   build/fuzz/tests/fuzz/photo_fuzz -max_len=60000 -timeout=20 -rss_limit_mb=3000 corpus seeds

#include <cstddef>
#include <cstdint>

#include "memory_file.h"
#include "photo/photo.h"
#include "promise.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using scantling::fuzz::require;
  const scantling::fuzz::MemoryFile file(data, size);
  scantling::PhotoLimits limits;
  limits.pixels = 300'000;
  limits.side_px = 2'000;
  limits.smallest_side_px = 8;
  const scantling::PhotoLoad load = scantling::load_photo(file.path(), limits);
  require(load.photo.has_value() != scantling::any_stop(load.checks), "a photo or a stop");
  if (load.photo) {
    require(load.photo->luma.type() == CV_8UC1, "luma of 8 bits");
    require(load.photo->width_px() >= 8 && load.photo->height_px() >= 8, "smallest side");
    require(load.photo->luma.total() <= 300'000, "pixels");
    require(load.photo->exif_orientation >= 1 && load.photo->exif_orientation <= 8, "orientation");
    // The whole picture must be readable memory.
    unsigned sum = 0;
    for (int y = 0; y < load.photo->height_px(); ++y)
      for (int x = 0; x < load.photo->width_px(); ++x) sum += load.photo->luma.at<uchar>(y, x);
    require(sum < 300'000u * 256u, "sum");
    scantling::load_colour(file.path(), 64);
  }
  return 0;
}
