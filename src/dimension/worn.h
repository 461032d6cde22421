#pragma once

#include <optional>

#include "dimension/measurement.h"

namespace scantling {

/// A disc's worn thickness, T_worn = T_rim - h_out - h_in at one clock position, with the sizes it
/// is made of.
struct WornThickness {
  std::optional<Dimension> worn;  ///< "worn_thickness"; nothing where no lip is known
  std::optional<Dimension> rim;   ///< "rim_thickness": over the lips, never to be judged by itself
  std::optional<Dimension> lip_out;  ///< "lip_height_out"
  std::optional<Dimension> lip_in;   ///< "lip_height_in"
  bool one_face_assumed = false;     ///< the missing face's lip taken to be like the other's
  std::vector<Check> checks;
};

/// Combines rim and lips, which share the sheet's print scale. Where only one face's lip is known
/// the other is assumed alike with a much larger uncertainty: the known lip's own error twice, and
/// the assumption's. The lips' own measurements may come
/// from one photo or from several solved together.
WornThickness worn_thickness(const Measurement& rim, const Measurement* lip_out,
                             const Measurement* lip_in);

}  // namespace scantling
