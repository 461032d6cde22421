#include "app/planes_list.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace scantling {

namespace {

bool shows(const SolvedPhoto& photo, PlanePiece piece) {
  return std::find(photo.shows.begin(), photo.shows.end(), piece) != photo.shows.end();
}

PlanesGroup group_of(const SolvedPhoto& photo, View view) {
  if (!photo.solved) return PlanesGroup::not_used;
  const bool a = shows(photo, PlanePiece::card_a), b = shows(photo, PlanePiece::card_b);
  if (!a && !b) return PlanesGroup::sheet_only;
  if (view == View::pile) return a && b ? PlanesGroup::both_cards : PlanesGroup::card_on_pad;
  if (a && b) return PlanesGroup::both_cards;
  return a ? PlanesGroup::outboard : PlanesGroup::inboard;
}

std::string pieces_words(const SolvedPhoto& photo) {
  if (photo.shows.size() == kPlanePieces) return "sheet, cards A, B";
  std::string words;
  for (const PlanePiece piece : photo.shows)
    words += (words.empty() ? "" : ", ") +
             std::string(piece == PlanePiece::ground ? "sheet" : piece_words(piece));
  return words;
}

/// What the checks say of this photo by name.
std::string sentence_on(const PlanesResult& result, const std::string& name) {
  const std::string quoted = "'" + name + "'";
  for (const Check& check : result.checks)
    if (check.severity != Severity::info && check.message.find(quoted) != std::string::npos)
      return check.message;
  return {};
}

std::string why_not_used(const PlanesResult& result, const SolvedPhoto& photo) {
  if (std::string said = sentence_on(result, photo.name); !said.empty()) return said;
  if (photo.shows.empty()) return "Neither the ground sheet nor a card was found in it.";
  if (!shows(photo, PlanePiece::ground))
    return fmt::format("Shows {}, but not the ground sheet, which joins the photos.",
                       pieces_words(photo));
  if (photo.shows.size() == 1) return "Shows the ground sheet and no card.";
  return "Left out of the solution.";
}

std::string what_was_found(const SolvedPhoto& photo) {
  const auto used = std::count_if(photo.corners.begin(), photo.corners.end(),
                                  [](const SolvedCorner& c) { return c.used; });
  std::string words =
      fmt::format("{}; {} corners to {:.2f} px", pieces_words(photo), used, photo.residual_px);
  const auto left_out = static_cast<long>(photo.corners.size()) - used;
  if (left_out > 0) words += fmt::format(", {} left out", left_out);
  return words;
}

}  // namespace

const SolvedPhoto* solved_photo(const PlanesOutcome& outcome, std::int64_t photo_id) {
  const auto at = std::find(outcome.photo_ids.begin(), outcome.photo_ids.end(), photo_id);
  const auto index = static_cast<std::size_t>(at - outcome.photo_ids.begin());
  return index < outcome.result.photos.size() ? &outcome.result.photos[index] : nullptr;
}

std::vector<PlanesRow> planes_rows(const PlanesTask& task, const PlanesOutcome& outcome) {
  std::vector<PlanesRow> rows;
  for (const PlanesSource& source : task.photos) {
    PlanesRow row{source.photo_id, rows.size() + 1, source.name, PlanesGroup::waiting,
                  "Waits to be searched."};
    if (const SolvedPhoto* photo = solved_photo(outcome, source.photo_id)) {
      row.group = group_of(*photo, task.options.view);
      row.found = row.group == PlanesGroup::not_used ? why_not_used(outcome.result, *photo)
                                                     : what_was_found(*photo);
    }
    rows.push_back(std::move(row));
  }
  std::stable_sort(rows.begin(), rows.end(),
                   [](const PlanesRow& a, const PlanesRow& b) { return a.group < b.group; });
  return rows;
}

std::string group_title(PlanesGroup group) {
  switch (group) {
    case PlanesGroup::outboard:
      return "Outboard side, card A";
    case PlanesGroup::inboard:
      return "Inboard side, card B";
    case PlanesGroup::both_cards:
      return "Both cards";
    case PlanesGroup::card_on_pad:
      return "A card on the pad";
    case PlanesGroup::sheet_only:
      return "The sheet, but no card";
    case PlanesGroup::not_used:
      return "Not used";
    case PlanesGroup::waiting:
      break;
  }
  return "Waiting";
}

CornerStanding standing_of(const SolvedCorner& corner, double noise_px) {
  if (!corner.used) return CornerStanding::left_out;
  // Per axis the noise is noise_px; of 1000 good corners 135 lie beyond twice that, 11 beyond three
  // times (Rayleigh).
  const double off = std::hypot(corner.off_x_px, corner.off_y_px);
  if (!(noise_px > 0) || off <= 2 * noise_px) return CornerStanding::close;
  return off <= 3 * noise_px ? CornerStanding::middling : CornerStanding::far;
}

}  // namespace scantling
