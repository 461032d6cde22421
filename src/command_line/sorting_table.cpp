#include "command_line/sorting_table.h"

#include <fmt/format.h>

#include <algorithm>

#include "command_line/aligned_rows.h"
#include "record/words.h"
#include "sorting/sorting_words.h"
#include "sorting/taken_time.h"

namespace scantling {
namespace {

using Json = nlohmann::ordered_json;

std::string shows(const PhotoSight& sight) {
  if (sight.bare_sheet) return "bare sheet";
  return sight.view ? view_title(*sight.view) : "-";
}

const char* goes_word(PhotoPlace::Goes goes) {
  switch (goes) {
    case PhotoPlace::Goes::to_part:
      return "part";
    case PhotoPlace::Goes::to_camera:
      return "camera";
    case PhotoPlace::Goes::aside:
      break;
  }
  return "aside";
}

Json part_json(const PartSlot& slot) {
  Json json = {{"kind", kind_word(slot.kind)}, {"side", side_word(slot.side)}};
  if (slot.kind == PartKind::pad) json["place"] = place_word(slot.place);
  return json;
}

Json photo_json(const PhotoSight& sight, const PhotoProposal& proposal,
                const std::vector<PhotoSight>& sights) {
  Json json = {{"photo", sight.file.string()},
               {"view", sight.view ? Json(view_word(*sight.view)) : Json(nullptr)},
               {"view_sureness", sight.sureness},
               {"recognised_by", sight.why},
               {"goes_to", goes_word(proposal.place.goes)}};
  if (proposal.place.goes == PhotoPlace::Goes::to_part) {
    json["part"] = part_json(proposal.place.slot);
    if (const auto& face = proposal.place.kind.face) json["face"] = face_word(*face);
  }
  json["sureness"] = proposal.sureness;
  json["why"] = proposal.why;
  json["taken_at"] = sight.taken_at.empty() ? Json(nullptr) : Json(sight.taken_at);
  json["time_group"] = proposal.time_group;
  if (proposal.repeats) {
    json["repeats"] = sights[proposal.repeats->of].file.string();
    json["same_file"] = proposal.repeats->same_file;
  }
  json["checks"] = Json::array();
  for (const Check& check : sight.checks)
    json["checks"].push_back({{"id", check.id},
                              {"severity", severity_word(check.severity)},
                              {"message", check.message}});
  return json;
}

}  // namespace

std::string sorting_table(const std::vector<PhotoSight>& sights,
                          const std::vector<PhotoProposal>& proposals) {
  std::vector<std::vector<std::string>> rows = {
      {"photo", "taken", "shows", "goes to", "sure", "why"}};
  int group = 0;
  for (const std::size_t i : order_taken(sights)) {
    const PhotoSight& sight = sights[i];
    const PhotoProposal& proposal = proposals[i];
    if (group != proposal.time_group && group != 0) rows.push_back({});
    group = proposal.time_group;
    rows.push_back({sight.file.filename().string(), clock_words(sight.taken_at), shows(sight),
                    place_words(proposal.place), fmt::format("{:.0f} %", 100 * proposal.sureness),
                    proposal.why});
  }
  const auto look = std::count_if(proposals.begin(), proposals.end(),
                                  [](const PhotoProposal& p) { return p.sureness < kLookBelow; });
  const auto aside = std::count_if(proposals.begin(), proposals.end(), [](const PhotoProposal& p) {
    return p.place.goes == PhotoPlace::Goes::aside;
  });
  return aligned_rows(rows) +
         fmt::format("{} photo{}: {} left out, {} to be looked at.\n", sights.size(),
                     sights.size() == 1 ? "" : "s", aside, look);
}

Json sorting_json(const std::vector<PhotoSight>& sights,
                  const std::vector<PhotoProposal>& proposals) {
  Json photos = Json::array();
  int groups = 0;
  for (const std::size_t i : order_taken(sights)) {
    photos.push_back(photo_json(sights[i], proposals[i], sights));
    groups = std::max(groups, proposals[i].time_group);
  }
  return {{"photos", std::move(photos)}, {"time_groups", groups}};
}

}  // namespace scantling
