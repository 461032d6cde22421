// Discs and pads on the ground sheet: the photos of one set-up belong together, whatever was
// photographed in between.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sorting/placing.h"
#include "sorting/sorting_words.h"

namespace scantling {
namespace {

struct SetUp {
  View view = View::faces;
  std::vector<std::size_t> photos;
  std::optional<PartSlot> slot;
  double sureness = 0.6;
  std::string why;
};

/// Cards A and B on the two faces of one disc: back to back and not far apart.
bool back_to_back(const PieceStance& a, const PieceStance& b) {
  constexpr double kAcross_mm = 90;
  return angle_deg(a.into, b.into) > 177 && distance_mm(a.centre_mm, b.centre_mm) < kAcross_mm;
}

/// Whether the photo shows this set-up: its card as before; or, where that card was not seen yet,
/// the other one on the disc's other face. A card seen elsewhere before tells that something was
/// moved.
bool belongs(const Placing& p, const SetUp& set_up, const PhotoSight& photo) {
  bool card_seen = false, other_face = false;
  for (const std::size_t k : set_up.photos) {
    const PhotoSight& known = p.photos[k];
    for (const auto card : {&PhotoSight::card_a, &PhotoSight::card_b}) {
      if (!(photo.*card) || !(known.*card)) continue;
      if (same_set_up(*(photo.*card), *(known.*card))) return true;
      card_seen = true;
    }
    if (set_up.view != View::faces) continue;
    other_face = other_face ||
                 (known.card_a && photo.card_b && back_to_back(*known.card_a, *photo.card_b)) ||
                 (known.card_b && photo.card_a && back_to_back(*known.card_b, *photo.card_a));
  }
  return other_face && !card_seen;
}

std::vector<SetUp> set_ups(const Placing& p) {
  std::vector<SetUp> found;
  for (const std::size_t i : p.order) {
    const std::optional<View> view = p.view_of(i);
    if (!view || !from_planes(*view)) continue;
    const PhotoSight& photo = p.photos[i];
    SetUp* home = nullptr;
    for (SetUp& set_up : found) {
      if (set_up.view == *view && belongs(p, set_up, photo)) home = &set_up;
    }
    // What tells nothing of its card goes with the photo before.
    if (!home && !photo.card_a && !photo.card_b && !found.empty() && found.back().view == *view)
      home = &found.back();
    const std::optional<PhotoPlace>& pin = p.pin(i);
    if (home && pin && home->slot && *home->slot != pin->slot) home = nullptr;
    if (!home) {
      found.push_back({*view, {}, {}, 0.6, {}});
      home = &found.back();
    }
    home->photos.push_back(i);
    if (pin) home->slot = pin->slot;
  }
  return found;
}

bool taken(const std::vector<SetUp>& all, View view, const PartSlot& slot) {
  return std::any_of(all.begin(), all.end(),
                     [&](const SetUp& s) { return s.view == view && s.slot == slot; });
}

void settle(SetUp& set_up, PartSlot slot, double sureness, std::string why) {
  set_up.slot = slot;
  set_up.sureness = sureness;
  set_up.why = std::move(why);
}

/// The disc whose rim and lips were photographed last before the set-up.
void place_discs(const Placing& p, const EdgePlaces& edges, std::vector<SetUp>& all) {
  for (SetUp& set_up : all) {
    if (set_up.view != View::faces || set_up.slot) continue;
    const std::optional<std::int64_t> begun = p.photos[set_up.photos.front()].taken_s;
    const DiscVisit* before = nullptr;
    for (const DiscVisit& disc : edges.discs)
      if (begun && disc.begun_s && *disc.begun_s <= *begun) before = &disc;
    if (before && !taken(all, View::faces, PartSlot::disc(before->side))) {
      settle(set_up, PartSlot::disc(before->side), 0.9, "After this disc's rim and lips");
      continue;
    }
    std::optional<PartSlot> next;
    if (p.context.start && p.context.start->kind == PartKind::disc) next = p.context.start;
    for (const Side side : {Side::left, Side::right}) {
      const PartSlot disc = PartSlot::disc(side);
      const bool open =
          !taken(all, View::faces, disc) && p.filed(PhotoPlace::part(disc, {View::faces, {}})) == 0;
      if (open && (!next || taken(all, View::faces, *next))) next = disc;
    }
    settle(set_up, next.value_or(PartSlot::disc(Side::left)), next ? 0.7 : 0.3,
           next ? "The next disc on the sheet" : "Both discs have such photos: choose its place");
  }
}

struct KnownPad {
  PartSlot slot;
  RoughSize thickness;
};

std::vector<KnownPad> known_pads(const Placing& p, const EdgePlaces& edges) {
  std::vector<KnownPad> known;
  for (const PadVisit& pad : edges.pads)
    for (const std::size_t i : pad.photos)
      if (p.photos[i].thickness) known.push_back({pad.slot, *p.photos[i].thickness});
  for (const FiledPhoto& filed : p.context.filed)
    if (filed.thickness) known.push_back({filed.place.slot, *filed.thickness});
  return known;
}

RoughSize mean_thickness(const Placing& p, const SetUp& set_up) {
  RoughSize mean;
  int count = 0;
  for (const std::size_t i : set_up.photos)
    if (const auto& t = p.photos[i].thickness) {
      mean.value_mm += t->value_mm;
      mean.standard_uncertainty_mm = t->standard_uncertainty_mm;
      ++count;
    }
  if (count > 0) mean.value_mm /= count;
  return count > 0 ? mean : RoughSize{-1, 0};
}

/// A pad on the sheet is told by its thickness, where the pads' own photos have shown that.
void place_pads(const Placing& p, const EdgePlaces& edges, std::vector<SetUp>& all) {
  const std::vector<KnownPad> known = known_pads(p, edges);
  for (;;) {
    SetUp* closest = nullptr;
    const KnownPad* match = nullptr;
    double least = 1e9, next = 1e9;
    for (SetUp& set_up : all) {
      if (set_up.view != View::pile || set_up.slot) continue;
      const RoughSize own = mean_thickness(p, set_up);
      for (const KnownPad& pad : known) {
        if (own.value_mm < 0 || taken(all, View::pile, pad.slot)) continue;
        if (!may_be_same_size(own, pad.thickness)) continue;
        const double apart = std::abs(own.value_mm - pad.thickness.value_mm);
        if (apart < least) {
          if (closest == &set_up && match->slot != pad.slot) next = least;
          if (closest != &set_up) next = 1e9;
          least = apart, closest = &set_up, match = &pad;
        } else if (closest == &set_up && match->slot != pad.slot) {
          next = std::min(next, apart);
        }
      }
    }
    if (!closest) break;
    settle(*closest, match->slot, next - least > 0.8 ? 0.9 : 0.65,
           fmt::format("{:.1f} mm thick in all, like the {}", mean_thickness(p, *closest).value_mm,
                       slot_words(match->slot)));
  }
  for (SetUp& set_up : all) {
    if (set_up.view != View::pile || set_up.slot) continue;
    std::optional<PartSlot> next;
    if (p.context.start && p.context.start->kind == PartKind::pad) next = p.context.start;
    for (const PartSlot& slot : pad_slots())
      if ((!next || taken(all, View::pile, *next)) && !taken(all, View::pile, slot) &&
          p.filed(PhotoPlace::part(slot, {View::pile, {}})) == 0)
        next = slot;
    settle(set_up, next.value_or(PartSlot{}), next ? 0.6 : 0.3,
           next ? "The next pad on the sheet" : "All pads have such photos: choose its place");
  }
}

}  // namespace

void place_by_planes(const Placing& p, const EdgePlaces& edges) {
  std::vector<SetUp> all = set_ups(p);
  place_discs(p, edges, all);
  place_pads(p, edges, all);
  for (const SetUp& set_up : all)
    for (const std::size_t i : set_up.photos) {
      const bool first = i == set_up.photos.front();
      p.propose(i, PhotoPlace::part(*set_up.slot, {set_up.view, {}}), set_up.sureness,
                first || set_up.why.empty()
                    ? set_up.why
                    : fmt::format("The same set-up as {}",
                                  p.photos[set_up.photos.front()].file.filename().string()));
    }
}

}  // namespace scantling
