#pragma once

#include "dimension/analysis.h"
#include "dimension/plane_scene.h"
#include "edges/part_frame.h"

namespace scantling {

/// A frame that runs with a segment: `along` from its first end to its second.
struct SegmentFrame {
  PartFrame frame;
  double first_mm = 0;
  double length_mm = 0;

  double last_mm() const { return first_mm + length_mm; }
  double middle_mm() const { return first_mm + length_mm / 2; }
};

/// On a flat part the frame's own axis is turned into the segment; on a curved one the segment's
/// ends give a line in the part's own coordinates, and `across` is counted from its middle.
SegmentFrame segment_frame(const PlaneScene& scene, const PartFrame& part,
                           const EdgeSegment& segment);

}  // namespace scantling
