#pragma once

#include <array>
#include <span>
#include <string>

#include "app/sketch_pen.h"
#include "dimension/measurement.h"

namespace scantling {

/// How a photo of one view is taken: what is drawn and said to whoever holds the phone.
struct CaptureGuide {
  View view = View::pad;
  const char* tab;     ///< short, on the page's tabs
  const char* title;   ///< "A pad through the notch card"
  const char* photos;  ///< how many are wanted
  std::span<const char* const> steps;
  std::span<const char* const> ruins;   ///< what makes the photo useless, in a few words each
  std::array<const char*, 2> sketches;  ///< titles of the two drawings
  bool id_card = false;                 ///< an ID-1 card serves as well, without a printer
};

/// All views in the order of the page's tabs: pad, its pile; rim, lip, faces.
std::span<const CaptureGuide> capture_guides();
const CaptureGuide& capture_guide(View view);

/// Drawing `which` (0 or 1) of a view's guide.
void draw_guide_sketch(const SketchPen& pen, View view, int which);
/// An ID-1 card beside the part.
void draw_id_card_sketch(const SketchPen& pen, View view);

}  // namespace scantling
