#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "record/record.h"

namespace scantling {

/// Where the edge runs, for the one who has to check it; empty for an edge that needs no words.
std::string edge_explanation(std::string_view edge_name);
/// Which way another line lies from the edge: "nearer the plate", "towards the other face", ...;
/// `shift_mm` as in EdgeRival.
std::string shift_words(std::string_view edge_name, double shift_mm);
/// Who has confirmed the edge; empty when nobody has.
std::string confirmed_by(const std::vector<EdgeConfirmation>& confirmations,
                         std::string_view edge_name);

/// A decimal number with a point or a comma, blanks and a trailing unit allowed ("5,2 mm").
/// Nothing when it is not one, not finite or followed by anything else than `unit`.
std::optional<double> number_from(std::string_view text, std::string_view unit = {});
/// True when the text is a real calendar date in the form "2026-11-25".
bool is_iso_date(std::string_view text);
/// Shortest text that reads back as the number.
std::string number_words(double value);
/// "5.02", as size_with_95 writes it.
std::string figure_words(const Quantity& size);
/// "± 0.06 mm", as size_with_95 writes it.
std::string interval_words(const Quantity& size);
std::string capitalised(std::string text);

}  // namespace scantling
