#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "report/length_unit.h"

namespace scantling {

enum class DistanceUnit { kilometre, mile };
enum class DecimalMark { point, comma };

/// How a reader wants the figures. Sentences are made in millimetres and kilometres with a decimal
/// point; this is what becomes of them on the screen.
struct FigureStyle {
  LengthUnit length = LengthUnit::millimetre;
  DistanceUnit distance = DistanceUnit::kilometre;
  DecimalMark mark = DecimalMark::point;

  constexpr FigureStyle(LengthUnit length_unit = LengthUnit::millimetre,
                        DistanceUnit distance_unit = DistanceUnit::kilometre,
                        DecimalMark decimal_mark = DecimalMark::point)
      : length(length_unit), distance(distance_unit), mark(decimal_mark) {}
  bool operator==(const FigureStyle&) const = default;
};

/// The text with its lengths, distances and decimal marks in that style: "5.02 ± 0.06 mm" becomes
/// "0,198 ± 0,002 in", "81 250 km" "50 486 miles". Where a distance or a wear stands in both units
/// ("0.039 mm per 1 000 km (0.062 mm per 1 000 miles)"), miles keep the second alone. Names such as
/// IMG_1.2.jpg stay as they are.
std::string in_style(std::string_view text, const FigureStyle& style);

/// "km", "miles".
const char* distance_word(DistanceUnit unit);
double distance_in(double km, DistanceUnit unit);  ///< the number of those units

/// A distance as typed, in kilometres: "83 210", "83210 km", "51,700 mi". A bare number is in the
/// given unit. Nothing where it is none, or negative.
std::optional<double> km_from_text(std::string_view text, DistanceUnit unit);
/// The shortest text that reads back, in the unit, whole where it is nearly so: "51704".
std::string distance_for_typing(double km, DistanceUnit unit);

/// What is typed as a length, with the unit made plain: where lengths are in inches, a bare number
/// gets " in".
std::string length_as_typed(std::string_view text, LengthUnit unit);
/// The other way round: what to show in the field, without a unit.
std::string length_for_typing(double mm, LengthUnit unit);

}  // namespace scantling
