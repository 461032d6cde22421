#pragma once

#include <string>
#include <vector>

#include "app/planes_solver.h"

namespace scantling {

/// Photos of the planes page sorted by what they show.
enum class PlanesGroup {
  outboard,
  inboard,
  both_cards,
  card_on_pad,
  sheet_only,
  not_used,
  waiting
};

struct PlanesRow {
  std::int64_t photo_id = 0;
  std::size_t number = 0;  ///< in the order they were added, from 1; the scene shows it too
  std::string name;
  PlanesGroup group = PlanesGroup::waiting;
  std::string found;  ///< "sheet, card A; 118 corners to 0.09 px", or why it is not used
};

/// By group, then by number.
std::vector<PlanesRow> planes_rows(const PlanesTask& task, const PlanesOutcome& outcome);
std::string group_title(PlanesGroup group);

/// The result's photo of this id; null where it is not taken in yet.
const SolvedPhoto* solved_photo(const PlanesOutcome& outcome, std::int64_t photo_id);

/// How far a corner lies from where the solution has it, in steps that a legend can name.
enum class CornerStanding { close, middling, far, left_out };
CornerStanding standing_of(const SolvedCorner& corner, double noise_px);

}  // namespace scantling
