#pragma once

#include <imgui.h>

#include <optional>
#include <string>
#include <vector>

#include "app/view_transform.h"
#include "dimension/analysis.h"

namespace scantling {

class App;

/// What the light across an edge says, in words: where the fitted step lies, how surely, how
/// blurred.
std::string light_words(const EdgeLight& light);

/// The light across the selected edge, plotted in a corner of the canvas on demand.
class LightInset {
 public:
  bool on() const { return on_; }
  void set(bool on) { on_ = on; }
  /// What is plotted; nothing while no edge is selected or the photo is being read.
  const std::optional<EdgeLight>& light() const { return light_; }

  /// Samples anew where another edge is selected, or it has moved.
  void follow(App& app);
  /// On the photo: which strip is averaged, and the way in which distances count.
  void draw_strip(ImDrawList* draw, const ViewTransform& view) const;
  /// The plot, in the lower right corner of `area` and `above` pixels over its lower side.
  void draw(App& app, const ScreenRect& area, float above);
  /// Whether the plot lies there: what is pressed on it is not meant for the photo.
  bool covers(ScreenPoint at) const { return on_ && !edge_.empty() && place_.contains(at); }

 private:
  bool on_ = false;
  std::int64_t photo_id_ = 0;
  std::string edge_;
  EdgeSegment segment_;
  std::vector<Point_px> line_;  ///< the edge as it is drawn
  ScreenRect place_;            ///< of the plot, as last drawn
  std::optional<EdgeLight> light_;
};

}  // namespace scantling
