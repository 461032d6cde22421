#include "dimension/measurement.h"

#include <algorithm>

namespace scantling {

const Dimension* Measurement::dimension(std::string_view name) const {
  const auto found = std::find_if(dimensions.begin(), dimensions.end(),
                                  [&](const Dimension& d) { return d.name == name; });
  return found == dimensions.end() ? nullptr : &*found;
}

const MeasuredEdge* Measurement::edge(std::string_view name) const {
  const auto found = std::find_if(edges.begin(), edges.end(),
                                  [&](const MeasuredEdge& e) { return e.name == name; });
  return found == edges.end() ? nullptr : &*found;
}

const char* view_word(View view) {
  switch (view) {
    case View::pad:
      return "pad";
    case View::rim:
      return "rim";
    case View::faces:
      return "faces";
    case View::pile:
      return "pile";
    case View::lip:
      break;
  }
  return "lip";
}

std::optional<View> view_from_word(std::string_view word) {
  for (View view : {View::pad, View::rim, View::lip, View::faces, View::pile})
    if (word == view_word(view)) return view;
  return std::nullopt;
}

}  // namespace scantling
