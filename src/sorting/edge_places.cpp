// Pads, rims and lips, in the order in which they were taken.
#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>

#include "sorting/placing.h"
#include "sorting/sorting_words.h"
#include "sorting/taken_time.h"

namespace scantling {
namespace {

class Walk {
 public:
  explicit Walk(const Placing& placing) : p_(placing) {}

  EdgePlaces go() {
    for (const std::size_t i : p_.order) {
      const std::optional<View> view = p_.view_of(i);
      if (view == View::pad)
        take_pad(i);
      else if (view == View::rim || view == View::lip)
        take_disc_photo(i, *view);
    }
    return std::move(found_);
  }

 private:
  const PhotoSight& photo(std::size_t i) const { return p_.photos[i]; }

  /// Moments after the other one.
  bool soon_after(std::size_t before, std::size_t i) const {
    const auto seconds = seconds_between(photo(before), photo(i));
    return seconds && *seconds <= kGroupGap_s;
  }
  bool sizes_agree(std::size_t a, std::size_t b) const {
    return !photo(a).thickness || !photo(b).thickness ||
           may_be_same_size(*photo(a).thickness, *photo(b).thickness);
  }
  std::string how_late(std::size_t before, std::size_t i) const {
    const auto seconds = seconds_between(photo(before), photo(i));
    return seconds ? time_apart_words(*seconds) : "no time in the file";
  }

  // ---- pads

  bool free(const PartSlot& slot) const {
    if (p_.filed(PhotoPlace::part(slot, {View::pad, {}})) > 0) return false;
    return std::none_of(found_.pads.begin(), found_.pads.end(),
                        [&](const PadVisit& visit) { return visit.slot == slot; });
  }

  static bool before(const PartSlot& a, const PartSlot& b) {
    const std::vector<PartSlot> slots = pad_slots();
    return std::find(slots.begin(), slots.end(), a) < std::find(slots.begin(), slots.end(), b);
  }

  /// The place of a pad that was not seen before; nothing where all four are taken.
  std::optional<PartSlot> next_pad() const {
    const std::vector<PartSlot> slots = pad_slots();
    std::size_t from = 0;
    if (!found_.pads.empty()) {
      const PartSlot& last = found_.pads.back().slot;
      from = static_cast<std::size_t>(std::find(slots.begin(), slots.end(), last) - slots.begin());
      // With a disc's photos in between, the next pad is the other wheel's.
      if (disc_since_pad_ && last.side == Side::left) from = 2;
    } else if (p_.context.start && p_.context.start->kind == PartKind::pad &&
               free(*p_.context.start)) {
      return p_.context.start;
    }
    for (std::size_t k = 0; k < slots.size(); ++k) {
      const PartSlot& slot = slots[(from + k) % slots.size()];
      if (free(slot)) return slot;
    }
    return std::nullopt;
  }

  void take_pad(std::size_t i) {
    PadVisit* last = found_.pads.empty() ? nullptr : &found_.pads.back();
    const std::optional<PhotoPlace>& pin = p_.pin(i);
    const bool again = last && !disc_since_pad_ && soon_after(last->photos.back(), i) &&
                       sizes_agree(last->photos.back(), i);
    if (pin ? last && last->slot == pin->slot : again) {
      p_.propose(
          i, PhotoPlace::part(last->slot, {View::pad, {}}), 0.85,
          fmt::format("{}, as thick: the same pad once more", how_late(last->photos.back(), i)));
      last->photos.push_back(i);
      disc_since_pad_ = false;
      return;
    }
    const std::optional<PartSlot> next = pin ? std::optional(pin->slot) : next_pad();
    const PartSlot slot = next ? *next : last ? last->slot : PartSlot{};
    std::string why;
    double sureness = 0.9;
    if (!next) {
      why = "All four pads have photos: choose its place";
      sureness = 0.3;
    } else if (!last) {
      why = "The first pad of these photos";
    } else if (soon_after(last->photos.back(), i)) {
      why = fmt::format("{}, but of another thickness: the next pad",
                        how_late(last->photos.back(), i));
      sureness = 0.8;
    } else if (!seconds_between(photo(last->photos.back()), photo(i))) {
      why = "No time in the file: by its name the next pad";
      sureness = 0.6;
    } else {
      why = fmt::format("{}: the next pad", how_late(last->photos.back(), i));
    }
    // Round the corner, to a place that was passed over: the order says little.
    if (last && next && before(*next, last->slot)) sureness = std::min(sureness, 0.6);
    p_.propose(i, PhotoPlace::part(slot, {View::pad, {}}), sureness, std::move(why));
    found_.pads.push_back({slot, {i}});
    disc_since_pad_ = false;
  }

  // ---- discs

  std::size_t filed_lips(Side side) const {
    const PartSlot disc = PartSlot::disc(side);
    return p_.filed(PhotoPlace::part(disc, {View::lip, DiscFace::outboard})) +
           p_.filed(PhotoPlace::part(disc, {View::lip, DiscFace::inboard}));
  }
  bool wants(Side side, View view) const {
    const PartSlot disc = PartSlot::disc(side);
    if (view == View::rim) return p_.filed(PhotoPlace::part(disc, {View::rim, {}})) == 0;
    return filed_lips(side) < 4;
  }

  std::optional<Side> next_disc(View view) const {
    const auto seen = [&](Side side) {
      return std::any_of(found_.discs.begin(), found_.discs.end(),
                         [&](const DiscVisit& visit) { return visit.side == side; });
    };
    if (found_.discs.empty() && p_.context.start && p_.context.start->kind == PartKind::disc &&
        wants(p_.context.start->side, view))
      return p_.context.start->side;
    for (const Side side : {Side::left, Side::right})
      if (!seen(side) && wants(side, view)) return side;
    return std::nullopt;
  }

  /// Whether a photo without the user's word belongs to the disc photographed last.
  bool goes_on(const DiscVisit& disc, std::size_t i, View view) const {
    if (view == View::rim) {
      if (disc.rims.empty()) return true;
      return disc.lips.empty() && soon_after(disc.rims.back(), i) &&
             sizes_agree(disc.rims.back(), i);
    }
    if (disc.lips.size() + filed_lips(disc.side) < 4) return true;
    // More than two a face: only if it shows the last lip once more.
    const PhotoSight& last = photo(disc.lips.back());
    return last.foot_mm && photo(i).foot_mm && soon_after(disc.lips.back(), i) &&
           std::abs(*last.foot_mm - *photo(i).foot_mm) < 0.3;
  }

  DiscVisit* disc_of_pin(Side side) {
    for (DiscVisit& disc : found_.discs)
      if (disc.side == side) return &disc;
    return nullptr;
  }

  void take_disc_photo(std::size_t i, View view) {
    disc_since_pad_ = true;
    const std::optional<PhotoPlace>& pin = p_.pin(i);
    DiscVisit* disc = nullptr;
    if (pin)
      disc = disc_of_pin(pin->slot.side);
    else if (!found_.discs.empty() && goes_on(found_.discs.back(), i, view))
      disc = &found_.discs.back();
    std::string why;
    if (!disc) {
      const std::optional<Side> next = pin ? std::optional(pin->slot.side) : next_disc(view);
      DiscVisit begun;
      begun.side = next ? *next : found_.discs.empty() ? Side::left : found_.discs.back().side;
      begun.begun_s = photo(i).taken_s;
      begun.sureness = next ? 0.9 : 0.3;
      why = !next                  ? "Both discs have photos: choose its place"
            : found_.discs.empty() ? "The first disc of these photos"
            : view == View::rim    ? "Another rim: the next disc"
                                   : "Both lips of the disc before have two photos: the next disc";
      found_.discs.push_back(begun);
      disc = &found_.discs.back();
    } else if (view == View::rim) {
      why = disc->rims.empty()
                ? "The rim of the lips before"
                : fmt::format("{}, as thick: the same rim", how_late(disc->rims.back(), i));
    }
    if (view == View::rim) {
      p_.propose(i, PhotoPlace::part(PartSlot::disc(disc->side), {View::rim, {}}), disc->sureness,
                 std::move(why));
      disc->rims.push_back(i);
    } else {
      disc->lips.push_back(i);  // its face is found when all of the disc are known
    }
  }

  const Placing& p_;
  EdgePlaces found_;
  bool disc_since_pad_ = false;
};

}  // namespace

EdgePlaces place_by_edges(const Placing& placing) {
  return Walk(placing).go();
}

}  // namespace scantling
