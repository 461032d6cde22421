#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/session.h"
#include "report/figure_style.h"

namespace scantling {

/// A place on the axle where a new part may have been fitted, as typed.
struct FittedForm {
  PartSlot slot;
  bool fitted = false;
  std::string maker = {}, number = {};
  std::string size = {};     ///< new, mm
  std::string give_95 = {};  ///< the half-width of its 95 % interval, mm
  std::string minimum = {};  ///< mm
};

struct FastenerForm {
  std::string name;
  std::string count = "1";
  bool renewed = false;
  std::string figure = {};  ///< the maker's, "30 N m, then 90 deg"
};

/// The work done at the end of a job, as typed.
struct WorkForm {
  Axle axle = Axle::front;  ///< the job's, for the parts' names
  FigureStyle style;        ///< what bare numbers are in
  std::string date, odometer, done_by;
  std::vector<FittedForm> parts;  ///< all six places, as the axle's plan shows them
  std::vector<FastenerForm> fasteners;
  bool fluid_looked_at = false;
  std::string fluid;
  bool slides_looked_at = false;
  std::string slides;
  std::string bedding_in, next_check_km, next_check_date;
  std::string note;
};

/// What a job's work says, ready for typing; a job that was not closed yet offers its own date and
/// odometer reading, `person`, and the next check after `check_every_km`. Lengths and distances are
/// in the style's units.
WorkForm work_form(const JobSummary& job, const std::string& person, const FigureStyle& style = {},
                   double check_every_km = 0);

/// Either the work or why it cannot be taken over, in a sentence.
struct ReadWork {
  std::optional<WorkDone> work;
  std::string refusal;
};
ReadWork read_work(const WorkForm& form);

/// Examples to stand in a new part's empty fields, in the style's units.
struct LengthHints {
  std::string size;
  std::string give_95;
};
LengthHints length_hints(const FigureStyle& style, PartKind kind);

/// What the maker's figure means in both units, or what is wrong with it; empty where none is
/// typed.
std::string tightening_note(const FastenerForm& fastener);

}  // namespace scantling
