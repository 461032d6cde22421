// Which of a disc's two faces a lip photo shows: nothing in it says so, but the photos of one lip
// come one after another, with the card in one place.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "record/words.h"
#include "sorting/placing.h"

namespace scantling {
namespace {

constexpr double kSameFoot_mm = 0.3, kOtherFoot_mm = 0.6;

/// How badly it fits that the first `first` photos show one face and the others the other one.
double cost_of(const Placing& placing, const std::vector<std::size_t>& lips, std::size_t first,
               double wanted_first) {
  double cost = std::abs(static_cast<double>(first) - wanted_first);
  for (std::size_t k = 0; k + 1 < lips.size(); ++k) {
    const PhotoSight &a = placing.photos[lips[k]], &b = placing.photos[lips[k + 1]];
    if (!a.foot_mm || !b.foot_mm) continue;
    const double apart = std::abs(*a.foot_mm - *b.foot_mm);
    const bool together = k + 1 != first;
    if (together && apart > kOtherFoot_mm) cost += 0.8;
    if (!together && apart < kSameFoot_mm) cost += 0.3;
  }
  return cost;
}

struct Split {
  bool inboard_first = false;
  std::size_t first = 0;
  double cost = 1e9;
};

DiscFace face_at(const Split& split, std::size_t k) {
  const bool in_first = k < split.first;
  return in_first == split.inboard_first ? DiscFace::inboard : DiscFace::outboard;
}

}  // namespace

void place_lips(const Placing& placing, const DiscVisit& disc) {
  const std::vector<std::size_t>& lips = disc.lips;
  if (lips.empty()) return;
  const PartSlot slot = PartSlot::disc(disc.side);
  const auto filed = [&](DiscFace face) {
    return placing.filed(PhotoPlace::part(slot, {View::lip, face}));
  };
  const auto lacking = [&](DiscFace face) {
    return 2.0 - std::min(2.0, static_cast<double>(filed(face)));
  };
  Split best;
  double second = 1e9;
  for (const bool inboard_first : {false, true}) {
    double wanted = lacking(inboard_first ? DiscFace::inboard : DiscFace::outboard);
    // More photos than wanted are shared out.
    if (lips.size() > 4) wanted = static_cast<double>(lips.size()) / 2;
    for (std::size_t first = 0; first <= lips.size(); ++first) {
      Split split{inboard_first, first, inboard_first ? 0.5 : 0.0};
      split.cost +=
          cost_of(placing, lips, first, std::min(wanted, static_cast<double>(lips.size())));
      for (std::size_t k = 0; k < lips.size(); ++k)
        if (const auto& pin = placing.pin(lips[k]); pin && pin->kind.face)
          split.cost += *pin->kind.face == face_at(split, k) ? 0 : 100;
      if (split.cost < best.cost) {
        second = std::min(second, best.cost);
        best = split;
      } else {
        second = std::min(second, split.cost);
      }
    }
  }
  // Single lip photos, or an odd number of them, leave it open which face they show.
  const double face_sureness = lips.size() % 2 == 1 ? 0.65 : second - best.cost < 0.4 ? 0.75 : 0.92;
  std::size_t shown[2] = {filed(DiscFace::outboard), filed(DiscFace::inboard)};
  for (std::size_t k = 0; k < lips.size(); ++k) {
    const DiscFace face = face_at(best, k);
    const std::size_t number = ++shown[face == DiscFace::inboard];
    std::string why = number == 1 ? fmt::format("The {} lip's first photo", face_word(face))
                                  : fmt::format("The same lip, photo {}", number);
    placing.propose(lips[k], PhotoPlace::part(slot, {View::lip, face}),
                    disc.sureness * face_sureness, std::move(why));
  }
}

}  // namespace scantling
