#include "sorting/place_photos.h"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>

#include "sorting/photo_names.h"
#include "sorting/placing.h"
#include "sorting/sorting_words.h"

namespace scantling {

std::optional<View> Placing::view_of(std::size_t photo) const {
  if (const auto& chosen = pin(photo))
    return chosen->goes == PhotoPlace::Goes::to_part ? std::optional(chosen->kind.view)
                                                     : std::nullopt;
  return photos[photo].view;
}

void Placing::propose(std::size_t photo, PhotoPlace place, double place_sureness,
                      std::string why) const {
  PhotoProposal& proposal = proposals[photo];
  if (const auto& chosen = pin(photo)) {
    proposal.place = *chosen;
    proposal.sureness = 1;
    proposal.why = "Your choice";
    return;
  }
  proposal.place = place;
  proposal.sureness = photos[photo].sureness * place_sureness;
  proposal.why = std::move(why);
}

std::size_t Placing::filed(const PhotoPlace& place) const {
  return static_cast<std::size_t>(
      std::count_if(context.filed.begin(), context.filed.end(),
                    [&](const FiledPhoto& photo) { return photo.place == place; }));
}

std::optional<std::int64_t> seconds_between(const PhotoSight& a, const PhotoSight& b) {
  if (!a.taken_s || !b.taken_s) return std::nullopt;
  return *b.taken_s - *a.taken_s;
}

std::vector<std::size_t> order_taken(const std::vector<PhotoSight>& photos) {
  std::vector<std::size_t> order(photos.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    const PhotoSight &x = photos[a], &y = photos[b];
    if (x.taken_s.has_value() != y.taken_s.has_value()) return x.taken_s.has_value();
    if (x.taken_s && *x.taken_s != *y.taken_s) return *x.taken_s < *y.taken_s;
    return name_before(x.file.filename().string(), y.file.filename().string());
  });
  return order;
}

namespace {

void number_time_groups(const std::vector<PhotoSight>& photos,
                        const std::vector<std::size_t>& order,
                        std::vector<PhotoProposal>& proposals) {
  int group = 0;
  std::optional<std::int64_t> before;
  for (const std::size_t i : order) {
    if (!photos[i].taken_s) continue;
    if (!before || *photos[i].taken_s - *before > kGroupGap_s) ++group;
    proposals[i].time_group = group;
    before = photos[i].taken_s;
  }
}

/// What goes to no part by itself: the bare sheet, doubles, what shows nothing.
bool settle_apart(const Placing& placing, std::size_t i,
                  const std::optional<PhotoDouble>& repeats) {
  const PhotoSight& photo = placing.photos[i];
  PhotoProposal& proposal = placing.proposals[i];
  const auto filed = std::find_if(
      placing.context.filed.begin(), placing.context.filed.end(),
      [&](const FiledPhoto& f) { return !photo.sha256.empty() && f.sha256 == photo.sha256; });
  proposal.filed_already = filed != placing.context.filed.end();
  proposal.repeats = repeats;
  if (const auto& chosen = placing.pin(i); chosen && chosen->goes != PhotoPlace::Goes::to_part) {
    placing.propose(i, *chosen, 1, {});
    return true;
  }
  if (placing.pin(i)) return false;
  const auto set_aside = [&](double sureness, std::string why) {
    proposal.place = PhotoPlace::aside();
    proposal.sureness = sureness;
    proposal.why = std::move(why);
    return true;
  };
  if (proposal.filed_already)
    return set_aside(1, fmt::format("The job has it already: {}", place_words(filed->place)));
  if (repeats) {
    const std::string other = placing.photos[repeats->of].file.filename().string();
    return repeats->same_file
               ? set_aside(1, "The same file as " + other)
               : set_aside(0.9, "Nearly the same picture as " + other + ", which is surer");
  }
  if (photo.bare_sheet) {
    placing.propose(i, PhotoPlace::camera(), 1, "Tells how the phone's lens draws");
    return true;
  }
  if (!photo.view) return set_aside(0.9, "Shows nothing that can be measured");
  return false;
}

}  // namespace

std::vector<PhotoProposal> propose_places(const std::vector<PhotoSight>& photos,
                                          const SortingContext& context,
                                          const std::vector<std::optional<PhotoPlace>>& pinned) {
  std::vector<PhotoProposal> proposals(photos.size());
  std::vector<std::optional<PhotoPlace>> pins = pinned;
  pins.resize(photos.size());
  Placing placing{photos, context, pins, {}, proposals};
  const std::vector<std::size_t> order = order_taken(photos);
  number_time_groups(photos, order, proposals);
  const auto doubles = find_doubles(photos);
  for (const std::size_t i : order)
    if (!settle_apart(placing, i, doubles[i])) placing.order.push_back(i);
  const EdgePlaces edges = place_by_edges(placing);
  for (const DiscVisit& disc : edges.discs) place_lips(placing, disc);
  place_by_planes(placing, edges);
  // What gives no size goes to its part all the same, which then says why; but the user looks
  // first.
  for (const std::size_t i : placing.order)
    if (!photos[i].usable() && !pins[i] && photos[i].view && any_stop(photos[i].checks))
      proposals[i].sureness = std::min(proposals[i].sureness, 0.5);
  return proposals;
}

}  // namespace scantling
