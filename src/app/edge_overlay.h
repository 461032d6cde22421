#pragma once

#include <imgui.h>

#include <string>
#include <vector>

#include "app/theme.h"
#include "app/view_transform.h"
#include "dimension/analysis.h"

namespace scantling {

inline ImVec2 vec(ScreenPoint p) {
  return {static_cast<float>(p.x), static_cast<float>(p.y)};
}

inline ImVec2 top_left(const ScreenRect& r) {
  return vec({r.x, r.y});
}
inline ImVec2 bottom_right(const ScreenRect& r) {
  return vec({r.x + r.width, r.y + r.height});
}

/// A line in an edge's colour and dashes over a dark casing, so that it shows on any photo.
void draw_edge_line(ImDrawList* draw, ImVec2 a, ImVec2 b, EdgeLook look, float width);
/// The same along a curve; its dashes run on from piece to piece.
void draw_edge_curve(ImDrawList* draw, const std::vector<ImVec2>& line, EdgeLook look, float width);
std::vector<ImVec2> on_screen(const std::vector<Point_px>& curve, const ViewTransform& view);
void draw_card_corners(ImDrawList* draw, const std::vector<SightedCorner>& corners,
                       const ViewTransform& view);
void draw_handle(ImDrawList* draw, ImVec2 at, ImU32 colour, bool large, bool square);
ImVec2 label_size(const std::string& text);
/// White text on a dark plate.
void draw_label(ImDrawList* draw, ImVec2 at, const std::string& text);
/// The same with lines wrapped at `width`; its height.
float draw_note(ImDrawList* draw, ImVec2 at, float width, const std::string& text);
/// The other lines that an edge could be, numbered from 1; `hovered` is drawn stronger.
void draw_rivals(ImDrawList* draw, const MeasuredEdge& edge, const ViewTransform& view,
                 int hovered);
/// A measure arrow between the two edges of the view's size, with its words beside it.
void draw_size_arrow(ImDrawList* draw, const Measurement& measurement, const ViewTransform& view,
                     const std::string& words);

}  // namespace scantling
