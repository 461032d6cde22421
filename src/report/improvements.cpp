#include "report/improvements.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <mutex>

#include "dimension/better_input.h"
#include "dimension/lip_outlook.h"
#include "dimension/lip_sizes.h"
#include "planes/faces_outlook.h"
#include "report/every_photo.h"
#include "report/planes_beside.h"
#include "report/wording.h"
#include "verdict/instrument.h"

namespace scantling {

namespace {

struct Lips {
  std::optional<Measurement> out, in;
};

Quantity worn_of(const Measurement& rim, const Lips& lips) {
  const WornThickness worn =
      worn_thickness(rim, lips.out ? &*lips.out : nullptr, lips.in ? &*lips.in : nullptr);
  return worn.worn ? worn.worn->quantity : Quantity{};
}

const char* face_words(DiscFace face) {
  return face == DiscFace::outboard ? "outboard" : "inboard";
}

/// One more photo of a lip, or the first of the face that lacks one.
void add_lip_photos(const PartSummary& part, double now_95_mm, std::vector<BetterSize>& list) {
  const Measurement* rim = settled_rim(part);
  if (!rim) return;
  const std::vector<Measurement> out = settled_lips(part, DiscFace::outboard),
                                 in = settled_lips(part, DiscFace::inboard);
  Lips now;
  if (!out.empty()) now.out = solve_lip_together(out);
  if (!in.empty()) now.in = solve_lip_together(in);
  if (!now.out && !now.in) return;
  const auto add = [&](const char* input, std::string words, const Lips& then) {
    Quantity size = worn_of(*rim, then);
    if (const Agreement* agreement = agreement_of_edges(part))
      size = corrected_by(size, *agreement);
    size.value_mm = part.size->quantity.value_mm;
    list.push_back({input, std::move(words), std::move(size), now_95_mm});
  };
  for (const DiscFace face : {DiscFace::outboard, DiscFace::inboard}) {
    const bool outboard = face == DiscFace::outboard;
    const std::vector<Measurement>& photos = outboard ? out : in;
    Lips then = now;
    std::optional<Measurement>& lip = outboard ? then.out : then.in;
    if (photos.empty()) {
      lip = outboard ? now.in : now.out;
      add(kOtherLip, fmt::format("photograph the {} lip too", face_words(face)), then);
    } else if (auto more = lip_with_another_photo(photos)) {
      lip = std::move(more);
      add(kAnotherHeight,
          fmt::format("photograph the {} lip {}", face_words(face), another_height_words(photos)),
          then);
    }
  }
}

/// Sessions are solved once for sheets known alike and discs of much the same thickness.
std::optional<Quantity> outlook(double thickness_mm, const SheetScale& sheet) {
  static std::mutex mutex;
  static std::map<std::pair<long, double>, std::optional<Quantity>> known;
  const long thickness = std::clamp(std::lround(thickness_mm / 4), 1L, 12L);
  const std::lock_guard lock(mutex);
  const auto [place, is_new] = known.try_emplace({thickness, sheet.standard_uncertainty});
  if (is_new) {
    PlanesOptions options;
    options.sheet_scale = {1, 1, sheet.standard_uncertainty, sheet.checked};
    place->second = faces_outlook(4.0 * static_cast<double>(thickness), options);
  }
  return place->second;
}

void add_planes(const PartSummary& part, std::vector<BetterSize>& list) {
  const SheetScale* sheet = nullptr;
  for (const PhotoFinding& f : part.photos) {
    if (from_planes(f.photo.view)) return;
    if (f.newest && !f.newest->options.sheet_scale.id_card) sheet = &f.newest->options.sheet_scale;
  }
  const Quantity& size = part.size->quantity;
  auto then = outlook(size.value_mm, sheet ? *sheet : SheetScale{});
  if (!then) return;
  then->value_mm = size.value_mm;
  list.push_back({kFromPlanes, "lay a card on each track and measure from planes", std::move(*then),
                  size.expanded_95_mm()});
}

BetterSize by_hand(const PartSummary& part) {
  const bool disc = part.part.kind == PartKind::disc;
  const Instrument& instrument = *instrument_named(disc ? "micrometer" : "digital calliper");
  const Quantity& size = part.size->quantity;
  const double u = standard_uncertainty_mm(instrument, size.value_mm);
  return {kByHand, fmt::format("gauge it with a {}", disc ? "micrometer" : "calliper"),
          combine_independent(size.value_mm,
                              {{std::string(instrument.name), u, kUnlimitedDegreesOfFreedom, ""}}),
          size.expanded_95_mm()};
}

/// Planes clear no disc that its edges doubt.
bool clears_too_easily(const PartSummary& part, const BetterSize& better) {
  return better.input == kFromPlanes &&
         !(probability_below(part.size->quantity, *part.part.minimum_mm) <= kEdgesMayDoubt);
}

Improvement with_verdict(const PartSummary& part, BetterSize better) {
  Improvement improvement;
  improvement.sentence = better_size_sentence(better);
  if (part.verdict && part.part.minimum_mm)
    if (const auto then = judge(better.then, {}, part.part.minimum_mm);
        then && then->state != part.verdict->state && !clears_too_easily(part, better) &&
        part.verdict->state != VerdictState::keep_due_soon) {
      improvement.state_then = then->state;
      improvement.sentence +=
          fmt::format(" If the size stays as it is: {}.", verdict_word(then->state));
    }
  improvement.better = std::move(better);
  return improvement;
}

/// The sizes wait for somebody to look at the edges: that comes first.
std::vector<Improvement> confirming(const PartSummary& part) {
  std::vector<Improvement> list;
  for (const PhotoFinding& f : part.photos) {
    if (f.edges_to_confirm.empty() || !f.newest) continue;
    const auto size = governing_size(part.part.kind, f.newest->measurement, part.part.minimum_mm);
    Improvement improvement;
    improvement.better.input = kConfirmEdges;
    improvement.better.words = "look at the edges and confirm them";
    improvement.sentence =
        size ? fmt::format("Look at the edges of {} and confirm them: its size counts then, {}.",
                           f.photo.original_name,
                           fmt::format("± {:.2f} mm", size->quantity.expanded_95_mm()))
             : fmt::format("Look at the edges of {} and confirm them: the photo counts then.",
                           f.photo.original_name);
    if (size) improvement.better.then = size->quantity;
    list.push_back(std::move(improvement));
  }
  return list;
}

}  // namespace

std::vector<Improvement> improvements(const PartSummary& part) {
  if (!part.readings.empty()) return {};
  if (part.standing == PartStanding::confirm_first) return confirming(part);
  if (!part.size) return {};
  const Quantity& size = part.size->quantity;
  std::vector<BetterSize> list = better_sizes(size);
  const bool disc_by_edges =
      part.part.kind == PartKind::disc && part.worn_by_edges && !planes_govern(part);
  if (disc_by_edges) add_lip_photos(part, size.expanded_95_mm(), list);
  if (disc_by_edges) add_planes(part, list);
  keep_worthwhile(list);
  std::vector<BetterSize> hand{by_hand(part)};
  keep_worthwhile(hand);
  list.insert(list.end(), hand.begin(), hand.end());
  std::vector<Improvement> found;
  for (BetterSize& better : list) found.push_back(with_verdict(part, std::move(better)));
  return found;
}

}  // namespace scantling
