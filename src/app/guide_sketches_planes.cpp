// The capture guide's drawings of the views that are solved from planes.
#include <cmath>

#include "app/guide_sketches.h"
#include "app/theme.h"

namespace scantling {

namespace {

using At = SketchPen::Align;

constexpr ImU32 kMetal = IM_COL32(0x77, 0x7B, 0x82, 255);
constexpr float kGround = 168;

// The ground sheet from its side.
void sheet_from_side(const SketchPen& pen) {
  pen.line(16, kGround + 2, 284, kGround + 2, theme().muted, 1);
  for (int i = 0; i < 16; ++i) {
    const float x = 42 + 13.5f * static_cast<float>(i);
    pen.line(x, kGround, x + 13.5f, kGround, i % 2 ? theme().muted : theme().text, 3);
  }
  pen.label(150, kGround + 8, "ground sheet", At::middle);
}

// From above.
void sheet_from_above(const SketchPen& pen) {
  pen.box(62, 40, 238, 156, theme().text);
  pen.squares(70, 48, 230, 148, 16, 10);
}

// A phone seen from above, looking at (to_x, to_y).
void phone_from_above(const SketchPen& pen, float x, float y, float to_x, float to_y,
                      const char* number) {
  const float run = std::hypot(to_x - x, to_y - y);
  const float ax = (to_x - x) / run, ay = (to_y - y) / run;
  const auto p = [&](float along, float across) {
    return std::pair{x + along * ax - across * ay, y + along * ay + across * ax};
  };
  pen.polygon({p(-7, -15), p(0, -15), p(0, 15), p(-7, 15)}, theme().panel, theme().text);
  pen.list()->AddCircleFilled(pen.at(x, y), 3 * pen.unit(), theme().accent, 12);
  pen.dashed(p(4, 0).first, p(4, 0).second, p(0.45f * run, 0).first, p(0.45f * run, 0).second,
             theme().muted);
  const auto [lx, ly] = p(-16, 0);
  pen.label(lx, ly - 7, number, At::middle, true);
}

}  // namespace

void draw_faces_edge_on(const SketchPen& pen) {
  sheet_from_side(pen);
  pen.fill(138, 22, 162, kGround - 2, kMetal);
  pen.fill(146, 28, 154, kGround - 8, theme().raised);
  // The cards near the ground, on the worn tracks.
  pen.fill(133, 112, 137, 152, theme().accent);
  pen.fill(163, 112, 167, 152, theme().accent);
  pen.label(128, 126, "card A", At::right, true);
  pen.label(172, 126, "card B", At::left, true);
  pen.label(150, 6, "disc", At::middle);
  pen.sees(48, 66, {133, 112}, {120, kGround});
  pen.sees(252, 66, {167, 112}, {180, kGround});
  pen.phone(48, 66, 38);
  pen.phone(252, 66, 142);
  pen.label(20, 8, "outboard");
  pen.label(282, 8, "inboard", At::right);
}

void draw_faces_from_above(const SketchPen& pen) {
  sheet_from_above(pen);
  pen.fill(84, 92, 216, 104, kMetal);
  pen.fill(128, 104, 172, 107, theme().accent);
  pen.fill(128, 89, 172, 92, theme().accent);
  phone_from_above(pen, 100, 178, 146, 104, "1");
  phone_from_above(pen, 204, 178, 156, 104, "2");
  phone_from_above(pen, 100, 18, 146, 92, "3");
  phone_from_above(pen, 204, 18, 156, 92, "4");
  phone_from_above(pen, 150, 182, 150, 104, "5");
  pen.label(246, 92, "disc");
}

void draw_pile_from_side(const SketchPen& pen) {
  sheet_from_side(pen);
  pen.fill(96, kGround - 14, 204, kGround - 2, kMetal);
  pen.fill(102, kGround - 36, 198, kGround - 14, theme().accent);
  pen.fill(122, kGround - 40, 178, kGround - 37, theme().text);
  pen.label(150, kGround - 62, "card A", At::middle, true);
  pen.label(208, kGround - 32, "pad");
  pen.sees(40, 52, {122, kGround - 40}, {70, kGround});
  pen.sees(256, 44, {178, kGround - 40}, {228, kGround});
  pen.phone(40, 52, 48);
  pen.phone(256, 44, 130);
}

void draw_pile_from_above(const SketchPen& pen) {
  sheet_from_above(pen);
  pen.polygon({{98, 118}, {110, 78}, {190, 78}, {202, 118}}, theme().accent, theme().panel);
  pen.box(128, 84, 172, 112, theme().panel, 1);
  pen.fill(129, 85, 171, 111, theme().raised);
  pen.squares(131, 87, 169, 109, 6, 4);
  phone_from_above(pen, 88, 178, 140, 108, "1");
  phone_from_above(pen, 262, 98, 180, 98, "2");
  phone_from_above(pen, 92, 18, 140, 88, "3");
}

}  // namespace scantling
