#pragma once

#include <imgui.h>

#include <initializer_list>
#include <string>
#include <utility>
#include <vector>

namespace scantling {

/// Draws a small sketch in the window's own line style. Places are in sketch units, y down; the
/// sketch is `kWidth` x `kHeight` of them, whatever its size on the screen.
class SketchPen {
 public:
  static constexpr float kWidth = 300, kHeight = 196;
  using Places = std::initializer_list<std::pair<float, float>>;

  SketchPen(ImDrawList* draw, ImVec2 at, float width_px)
      : draw_(draw), at_(at), unit_(width_px / kWidth) {}

  ImVec2 at(float x, float y) const { return {at_.x + x * unit_, at_.y + y * unit_}; }
  float unit() const { return unit_; }
  ImDrawList* list() const { return draw_; }

  /// `width` in style pixels.
  void line(float x1, float y1, float x2, float y2, ImU32 colour, float width = 1.6f) const;
  void dashed(float x1, float y1, float x2, float y2, ImU32 colour) const;
  void box(float x1, float y1, float x2, float y2, ImU32 colour, float width = 1.6f) const;
  void fill(float x1, float y1, float x2, float y2, ImU32 colour) const;
  void polygon(Places places, ImU32 fill, ImU32 outline) const;
  /// Squares of a printed card within a box.
  void squares(float x1, float y1, float x2, float y2, int columns, int rows) const;
  /// A phone seen from its side, its lens at (x, y) looking along `degrees` (0: right, 90: down).
  void phone(float x, float y, float degrees) const;
  /// What the lens at (x, y) sees: two thin lines.
  void sees(float x, float y, std::pair<float, float> one, std::pair<float, float> other) const;
  enum class Align { left, middle, right };
  void label(float x, float y, const std::string& text, Align align = Align::left,
             bool strong = false) const;
  /// A length with arrow heads and its words over its middle.
  void length(float x1, float y1, float x2, float y2, const std::string& words) const;
  void arc(float x, float y, float radius, float from_deg, float to_deg, ImU32 colour) const;

 private:
  ImDrawList* draw_;
  ImVec2 at_;
  float unit_;
};

}  // namespace scantling
