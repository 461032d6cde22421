#include "sorting/doubles.h"

#include <cstdlib>
#include <map>
#include <string>

namespace scantling {
namespace {

constexpr std::int64_t kBurst_s = 10;

bool nearly_the_same(const PhotoSight& a, const PhotoSight& b) {
  if (!a.stand || !b.stand || a.view != b.view || a.bare_sheet != b.bare_sheet) return false;
  if (!a.taken_s || !b.taken_s || std::abs(*a.taken_s - *b.taken_s) > kBurst_s) return false;
  return same_stand(*a.stand, *b.stand);
}

/// Whether `a` is the one to keep of two nearly equal photos; of equals the earlier one.
bool better(const PhotoSight& a, const PhotoSight& b) {
  if (a.usable() != b.usable()) return a.usable();
  return a.surest_edges > b.surest_edges;
}

}  // namespace

std::vector<std::optional<PhotoDouble>> find_doubles(const std::vector<PhotoSight>& photos) {
  std::vector<std::optional<PhotoDouble>> doubles(photos.size());
  std::map<std::string, std::size_t> by_content;
  for (std::size_t i = 0; i < photos.size(); ++i) {
    if (photos[i].sha256.empty()) continue;
    const auto [first, is_new] = by_content.emplace(photos[i].sha256, i);
    if (!is_new) doubles[i] = PhotoDouble{first->second, true};
  }
  for (std::size_t i = 0; i < photos.size(); ++i) {
    if (doubles[i]) continue;
    for (std::size_t k = 0; k < i; ++k) {
      if (doubles[k] || !nearly_the_same(photos[i], photos[k])) continue;
      const std::size_t kept = better(photos[i], photos[k]) ? i : k;
      const std::size_t left = kept == i ? k : i;
      doubles[left] = PhotoDouble{kept, false};
      // What repeated the one that is left now repeats the one that is kept.
      for (auto& other : doubles)
        if (other && other->of == left) other->of = kept;
      if (left == i) break;
    }
  }
  return doubles;
}

}  // namespace scantling
