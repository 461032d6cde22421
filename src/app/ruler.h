#pragma once

#include <imgui.h>

#include <optional>
#include <string>

#include "app/edge_drag.h"
#include "app/view_transform.h"
#include "dimension/analysis.h"

namespace scantling {

/// A length between two places of the photo that the user puts where they like; it is measured in
/// the card's plane and never recorded.
class Ruler {
 public:
  bool on() const { return on_; }
  void end() { on_ = false, held_.reset(); }
  /// Lays the ruler across the middle of what `view` shows of a photo, clear of its sides.
  void lay(const ViewTransform& view, const ScreenRect& area);

  const EdgeSegment& places() const { return places_; }
  bool holding() const { return held_.has_value(); }
  Point_px chosen_place() const { return first_chosen_ ? places_.a : places_.b; }
  void choose_other() { first_chosen_ = !first_chosen_; }
  /// Moves the chosen end on the photo.
  void move_chosen(double dx_px, double dy_px);

  /// Takes the end under the pointer, else begins a new length there.
  void press(const ViewTransform& view, ScreenPoint pointer, double reach);
  void drag_to(Point_px place);
  void let_go() { held_.reset(); }

  /// The line with its ends and what it says.
  void draw(ImDrawList* draw, const ViewTransform& view, const std::string& words) const;

 private:
  bool on_ = false;
  EdgeSegment places_;
  bool first_chosen_ = false;
  std::optional<Point_px> held_;  ///< from the pointer to the chosen end
};

/// "12.34 ± 0.21 mm"; where the photo gives no length: why, and what to do.
std::string ruler_words(const Analysis& analysis, const EdgeSegment& places);
/// The sentence beside it: what the plane means for what does not lie in it.
std::string ruler_note(const Analysis& analysis, const EdgeSegment& places);

}  // namespace scantling
