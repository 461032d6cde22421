#pragma once

#include <imgui.h>

#include <string_view>

#include "report/part_summary.h"

namespace scantling {

/// The window's greys; text is never coloured, fills and lines are.
struct Theme {
  ImU32 canvas;  ///< behind the photo
  ImU32 panel;   ///< side panels
  ImU32 raised;  ///< fields and cards on a panel
  ImU32 hovered;
  ImU32 line;
  ImU32 text;
  ImU32 muted;   ///< second-rank text, contrast at least 4.5 on panel
  ImU32 accent;  ///< selection and the main button
  ImU32 on_accent;
};

/// Fill patterns: every state differs by its word and its pattern, not by colour alone.
enum class Pattern { solid, dots, diagonal, cross, outline };

struct StateLook {
  ImU32 colour;
  Pattern pattern;
};

/// How an edge's line is drawn: its own colour and its own rhythm of dashes.
struct EdgeLook {
  ImU32 colour;
  float dash;  ///< length in window pixels at scale 1, 0 for a solid line
  float gap;
};

const Theme& theme();
/// Sets the palette and ImGui's style for a content scale.
void apply_theme(bool light, float scale);
/// The content scale set last: a length in style pixels times this is window pixels.
float ui_scale();
inline float scaled(float length) {
  return length * ui_scale();
}

StateLook look_of(VerdictState state);
StateLook look_of(const PartSummary& part);  ///< the same as in the report
EdgeLook look_of_edge(std::string_view edge_name);

/// Fills a rectangle with a colour and its pattern.
void fill_pattern(ImDrawList* draw, ImVec2 from, ImVec2 to, StateLook look);

ImVec4 as_vec4(ImU32 colour);
ImU32 with_alpha(ImU32 colour, float alpha);

}  // namespace scantling
