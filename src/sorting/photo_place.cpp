#include "sorting/photo_place.h"

namespace scantling {

PartSlot slot_of(const Part& part) {
  return part.kind == PartKind::disc ? PartSlot::disc(part.side)
                                     : PartSlot::pad(part.side, part.place);
}

std::vector<PartSlot> pad_slots() {
  return {PartSlot::pad(Side::left, PadPlace::inner), PartSlot::pad(Side::left, PadPlace::outer),
          PartSlot::pad(Side::right, PadPlace::inner), PartSlot::pad(Side::right, PadPlace::outer)};
}

PhotoKind kind_of(const PhotoEntry& photo) {
  return {photo.view, photo.face};
}

std::vector<PhotoKind> photo_kinds(PartKind part) {
  if (part == PartKind::pad) return {{View::pad, {}}};
  return {{View::rim, {}}, {View::lip, DiscFace::outboard}, {View::lip, DiscFace::inboard}};
}

std::size_t photos_wanted(const PhotoKind& kind) {
  return kind.view == View::lip ? 2 : 1;
}

PartKind part_of_view(View view) {
  return view == View::pad || view == View::pile ? PartKind::pad : PartKind::disc;
}

std::vector<PhotoPlace> places_of_view(View view) {
  std::vector<PhotoPlace> places;
  if (part_of_view(view) == PartKind::pad) {
    for (const PartSlot& slot : pad_slots()) places.push_back(PhotoPlace::part(slot, {view, {}}));
    return places;
  }
  for (const Side side : {Side::left, Side::right}) {
    const PartSlot disc = PartSlot::disc(side);
    if (view != View::lip) {
      places.push_back(PhotoPlace::part(disc, {view, {}}));
      continue;
    }
    for (const DiscFace face : {DiscFace::outboard, DiscFace::inboard})
      places.push_back(PhotoPlace::part(disc, {view, face}));
  }
  return places;
}

}  // namespace scantling
