#pragma once

#include "app/sketch_pen.h"

namespace scantling {

// The drawings of the views that are solved from planes.
void draw_faces_edge_on(const SketchPen& pen);
void draw_faces_from_above(const SketchPen& pen);
void draw_pile_from_side(const SketchPen& pen);
void draw_pile_from_above(const SketchPen& pen);

}  // namespace scantling
