// Feeds the whole way from a photo's file to its sizes, and then a user's hand (libFuzzer):
//
//   ninja -C build/fuzz measure_fuzz measure_fuzz_seeds
//   build/fuzz/tests/fuzz/measure_fuzz_seeds seeds
//   build/fuzz/tests/fuzz/measure_fuzz -max_len=900000 -timeout=60 -rss_limit_mb=4000 corpus seeds
//
// An input is a head of 64 bytes, then the photo's file. The head says what is measured, paints
// patches over the decoded picture (changed bytes of a JPEG seldom leave one), and moves the edges.

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <opencv2/core.hpp>
#include <vector>

#include "dimension/analysis.h"
#include "memory_file.h"
#include "promise.h"

namespace {

using namespace scantling;
using fuzz::require;

constexpr std::size_t kHead = 64, kPatches = 8;

MeasureOptions options_from(const std::uint8_t* head) {
  MeasureOptions options;
  options.view = std::array{View::pad, View::rim, View::lip}[head[0] % 3];
  options.sheet_scale.x = 1 + (head[1] - 128) / 2000.0;
  options.sheet_scale.y = 1 + (head[2] - 128) / 2000.0;
  options.sheet_scale.checked = head[3] & 1;
  options.sheet_scale.id_card = (head[3] & 6) == 6 && options.view != View::lip;
  options.part_offset.offset_mm = head[4] / 50.0;
  if (head[5]) options.disc_diameter_mm = 150 + head[5];
  return options;
}

/// Five bytes a patch: where, how large, how bright.
void paint(const std::uint8_t* patch, cv::Mat& luma) {
  const auto share = [](int byte, int of) { return byte * of / 256; };
  const int width = share(patch[2], luma.cols) / 2, height = share(patch[3], luma.rows) / 2;
  if (width < 1 || height < 1) return;
  const cv::Rect at =
      cv::Rect(share(patch[0], luma.cols), share(patch[1], luma.rows), width, height) &
      cv::Rect({0, 0}, luma.size());
  luma(at).setTo(patch[4]);
}

void check(const Measurement& m) {
  for (const Dimension& d : m.dimensions) {
    require(std::isfinite(d.quantity.value_mm), "a size is a number");
    require(
        std::isfinite(d.quantity.standard_uncertainty_mm) && d.quantity.standard_uncertainty_mm > 0,
        "no size without its uncertainty");
    require(std::isfinite(d.quantity.expanded_95_mm()), "an interval has ends");
    require(d.confidence >= 0 && d.confidence <= 1, "a confidence from 0 to 1");
    for (const Station& station : d.stations)
      require(std::isfinite(station.value_mm), "a station is a number");
  }
  require(!any_stop(m.checks) || m.dimensions.empty(), "no size beside a refusal");
  require(any_stop(m.checks) || !m.dimensions.empty(), "a size or a reason");
  for (const Check& c : m.checks) require(!c.message.empty(), "a check is a sentence");
  for (const MeasuredEdge& edge : m.edges)
    for (const Point_px p : edge.points_px)
      require(std::isfinite(p.x) && std::isfinite(p.y), "an edge lies somewhere");
}

void drag(const Analysis& analysis, const std::uint8_t* hand) {
  std::vector<MovedEdge> moved;
  for (const MeasuredEdge& edge : analysis.measurement().edges) {
    if (edge.points_px.size() < 2) continue;
    const double dx = hand[0] - 128, dy = hand[1] - 128, turn = (hand[2] - 128) / 4.0;
    const Point_px a = edge.points_px.front(), b = edge.points_px.back();
    const EdgeSegment proposed{{a.x + dx, a.y + dy - turn}, {b.x + dx, b.y + dy + turn}};
    moved.push_back({edge.name, analysis.snapped(proposed, 14).value_or(proposed)});
    if (const auto light = analysis.light_across(proposed); light && light->profile.fitted)
      require(std::isfinite(light->profile.place_px), "a fitted edge lies somewhere");
    check(analysis.with_edges(moved));
  }
  if (const auto length = analysis.length_in_card_plane({hand[0] * 5.0, hand[1] * 3.0},
                                                        {hand[2] * 5.0, hand[3] * 3.0}))
    require(std::isfinite(length->length.value_mm), "a length is a number");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size <= kHead) return 0;
  const fuzz::MemoryFile file(data + kHead, size - kHead);
  PhotoLimits limits;
  limits.pixels = 2'000'000;
  limits.side_px = 3'000;
  PhotoLoad load = load_photo(file.path(), limits);
  if (load.photo)
    for (std::size_t i = 0; i < kPatches; ++i) paint(data + 8 + 5 * i, load.photo->luma);
  const Analysis analysis = Analysis::run(std::move(load), options_from(data));
  check(analysis.measurement());
  drag(analysis, data + 48);
  return 0;
}
