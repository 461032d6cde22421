#pragma once

#include <imgui.h>

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "app/session.h"
#include "app/theme.h"

namespace scantling {

/// One of the axle's six parts as the map draws it; lengths in mm.
struct MapPart {
  PartSlot slot;
  std::optional<double> plate_mm;      ///< pads, where a photo shows it
  std::optional<Quantity> size;        ///< friction material or worn disc, from photos
  std::optional<double> over_lips_mm;  ///< discs: the rim, never to be read as what is left
  double lip_out_mm = 0, lip_in_mm = 0;
  std::optional<double> minimum_mm;
  std::vector<double> readings_mm;
  std::string figure;   ///< "2.33 ± 0.37 mm", "2.31 mm by hand"; empty where there is no size
  std::string state;    ///< "gauge it", "confirm the edges first", ...
  std::string missing;  ///< which photos are missing; empty where none is
  StateLook look{0, Pattern::outline};
};

/// The parts as one walks along the axle's wheels: outer pad, disc, inner pad on the left, then on
/// the right. Always six, known or not.
std::array<MapPart, 6> map_parts(const JobSummary& job);
std::array<PartSlot, 6> map_slots();

/// One scale for all six sections, and how wide the three columns are at it.
struct MapScale {
  double px_per_mm = 1;
  std::array<double, 3> column_px{};
};
MapScale map_scale(const std::array<MapPart, 6>& parts, double width_px, double gap_px);

/// Draws one part's section; `at` is the column's top left corner.
void draw_map_section(ImDrawList* draw, ImVec2 at, float height, const MapScale& scale,
                      const MapPart& part);

}  // namespace scantling
