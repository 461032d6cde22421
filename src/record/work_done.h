#pragma once

#include <optional>
#include <string>
#include <vector>

#include "record/places.h"
#include "verdict/tightening.h"

namespace scantling {

/// A new part put on the car; its size starts the wear of that place afresh.
struct FittedPart {
  PartKind kind = PartKind::pad;
  Side side = Side::left;
  PadPlace place = PadPlace::inner;  ///< pads only
  std::string maker;
  std::string number;
  std::optional<double> new_size_mm;  ///< friction material of a pad, thickness of a disc
  double standard_uncertainty_mm = 0.1;
  std::optional<double> minimum_mm;  ///< as stamped on the new part, or its maker's figure
};

struct Fastener {
  std::string name;  ///< "calliper bracket bolts"
  int count = 1;
  bool renewed = false;   ///< else used again
  Tightening tightening;  ///< the maker's figure as the user entered it; may be empty
};

/// What was done when a job was closed, all as the user says.
struct WorkDone {
  std::string date;  ///< ISO 8601 calendar date
  std::optional<double> odometer_km;
  std::string done_by;
  std::vector<FittedPart> parts;
  std::vector<Fastener> fasteners;
  bool fluid_looked_at = false;
  std::string fluid;  ///< level, colour, age
  bool slides_looked_at = false;
  std::string slides;  ///< guide pins, boots, abutments
  std::optional<double> bedding_in_km;
  std::optional<double> next_check_km;
  std::string next_check_date;  ///< ISO 8601 calendar date; empty: none
  std::string note;
};

/// The record's own form. @throws RecordError for numbers that are none, or
/// text that is not what work_to_text() writes; the sentence names the field.
std::string work_to_text(const WorkDone& work);
WorkDone work_from_text(const std::string& text);

/// @throws RecordError with a sentence where a date, odometer reading, size or
/// distance makes no sense.
void require_sense(const WorkDone& work);

}  // namespace scantling
