#pragma once

#include <optional>
#include <vector>

#include "record/record.h"

namespace scantling {

/// Which part of the axle: one of its four pads or its two discs.
struct PartSlot {
  Side side = Side::left;
  PadPlace place = PadPlace::outer;  ///< pads only
  PartKind kind = PartKind::pad;

  static PartSlot disc(Side side) { return {side, PadPlace::outer, PartKind::disc}; }
  static PartSlot pad(Side side, PadPlace place) { return {side, place, PartKind::pad}; }
  bool operator==(const PartSlot& o) const {
    return side == o.side && kind == o.kind && (kind == PartKind::disc || place == o.place);
  }
};

PartSlot slot_of(const Part& part);

/// The four pads in the order they are best taken, wheel by wheel.
std::vector<PartSlot> pad_slots();

/// What a photo of a part shows: which view and, for a lip, of which friction face.
struct PhotoKind {
  View view = View::pad;
  std::optional<DiscFace> face;
  bool operator==(const PhotoKind&) const = default;
};
PhotoKind kind_of(const PhotoEntry& photo);
/// The views a part is measured from edge by edge, in the order they are best taken.
std::vector<PhotoKind> photo_kinds(PartKind part);
/// How many photos of this kind make a good size: two of each lip, one of the others.
std::size_t photos_wanted(const PhotoKind& kind);
/// Which kind of part a view shows.
PartKind part_of_view(View view);

/// Where a photo goes.
struct PhotoPlace {
  enum class Goes {
    to_part,    ///< becomes a photo of `slot`, as `kind`
    to_camera,  ///< of the bare ground sheet: helps to calibrate the phone's camera
    aside       ///< is left where it is and not taken in
  };
  Goes goes = Goes::aside;
  PartSlot slot;
  PhotoKind kind;

  static PhotoPlace part(PartSlot slot, PhotoKind kind) { return {Goes::to_part, slot, kind}; }
  static PhotoPlace camera() { return {Goes::to_camera, {}, {}}; }
  static PhotoPlace aside() { return {}; }
  bool operator==(const PhotoPlace& o) const {
    return goes == o.goes && (goes != Goes::to_part || (slot == o.slot && kind == o.kind));
  }
};

/// The places that a photo of a view may go to, in the order of the parts; `aside` is not among
/// them.
std::vector<PhotoPlace> places_of_view(View view);

}  // namespace scantling
