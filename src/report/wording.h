#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "dimension/worn.h"
#include "record/record.h"
#include "uncertainty/quantity.h"

namespace scantling {

// What reports and commands call things, in one place.

std::string axle_title(Axle axle);                    ///< "front axle"
std::string part_title(const Part& part, Axle axle);  ///< "Front left, outer pad"
/// What a photo shows: "Lip of the outboard face, photo 2 of 2"; numbered where several show it.
std::string photo_title(const PhotoEntry& photo, const std::vector<PhotoEntry>& of_the_part);
std::string edge_title(std::string_view edge);       ///< "friction face" for "friction_outer"
std::string dimension_title(std::string_view name);  ///< "friction material", ...
std::string date_title(std::string_view iso_date);   ///< "25 November 2026"; else the text itself
std::string time_title(std::string_view iso_time);   ///< "25 November 2026, 09:56 UTC"
std::string in_groups(double number);                ///< "81 250", blanks fixed
std::string distance_title(double km);               ///< "81 250 km"
std::string distance_with_miles(double km);          ///< "40 000 km (24 855 miles)"

/// "5.02 ± 0.06 mm" with the 95 % interval's half-width.
std::string size_with_95(const Quantity& size);
/// "Over the lips 24.10 mm, less the outboard lip 0.62 mm and the inboard lip 0.55 mm."
std::string worn_words(const WornThickness& worn);
/// The same as rows, the rim first and the worn thickness, marked as the result, last.
struct WornRow {
  std::string words;
  std::string size;  ///< with its 95 % interval, or why there is none
  bool result = false;
};
std::vector<WornRow> worn_rows(const WornThickness& worn);
/// That the rim's thickness is not what is judged.
inline constexpr const char* not_over_the_lips() {
  return "The thickness over the lips is not what wears. Never set it against the minimum.";
}
/// "2.0 mm" for a minimum as it was given: no digits added beyond one decimal.
std::string minimum_number(double minimum_mm);

}  // namespace scantling
