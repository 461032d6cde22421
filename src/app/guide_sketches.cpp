// The capture guide's drawings of the views that are read by edges, and of the ID-1 card.
#include <cmath>

#include "app/capture_guide.h"
#include "app/guide_sketches.h"
#include "app/theme.h"

namespace scantling {

namespace {

using At = SketchPen::Align;

constexpr ImU32 kMetal = IM_COL32(0x77, 0x7B, 0x82, 255);
constexpr float kTable = 150;

// The notch card from its side at x, standing on the table, its fin behind it.
void card_from_side(const SketchPen& pen, float x) {
  pen.polygon({{x, 92}, {x + 8, 92}, {x + 32, kTable - 10}, {x + 32, kTable}, {x, kTable}}, 0,
              theme().muted);
  pen.line(x, 54, x, kTable, theme().text, 3.2f);
  pen.label(x - 6, 42, "card", At::right);
}

void pad_from_side(const SketchPen& pen) {
  constexpr float kCard = 196;
  pen.line(128, kTable, 292, kTable, theme().text);
  pen.fill(kCard + 1, kTable - 12, 284, kTable - 1, kMetal);
  pen.fill(kCard + 1, kTable - 36, 276, kTable - 12, theme().accent);
  card_from_side(pen, kCard);
  pen.label(240, kTable - 56, "pad", At::middle);
  const float lens = kTable - 18;
  pen.sees(38, lens, {kCard, 54}, {kCard, kTable});
  pen.phone(38, lens, 0);
  pen.length(38, 186, kCard, 186, "25 to 40 cm");
  pen.label(14, 42, "phone, level with the pad");
}

// The notch card from its front about the part's thickness, in a picture's frame.
void picture_frame(const SketchPen& pen) {
  pen.list()->AddRect(pen.at(10, 8), pen.at(290, 188), theme().muted, scaled(4), 0, scaled(1.4f));
}

void notch_card(const SketchPen& pen) {
  const ImU32 ink = theme().text;
  // Outline with its notch.
  const float x1 = 34, x2 = 266, y1 = 26, y2 = 164, n1 = 104, n2 = 196, top = 84;
  pen.line(x1, y2, x1, y1, ink);
  pen.line(x1, y1, x2, y1, ink);
  pen.line(x2, y1, x2, y2, ink);
  pen.line(x1, y2, n1, y2, ink);
  pen.line(n1, y2, n1, top, ink);
  pen.line(n1, top, n2, top, ink);
  pen.line(n2, top, n2, y2, ink);
  pen.line(n2, y2, x2, y2, ink);
  pen.squares(44, 36, 256, 76, 16, 3);
  pen.squares(44, 76, 97, 156, 4, 6);
  pen.squares(203, 76, 256, 156, 4, 6);
}

void pad_photo(const SketchPen& pen) {
  pen.fill(106, 146, 194, 163, kMetal);
  pen.fill(110, 112, 190, 146, theme().accent);
  pen.line(10, 164, 290, 164, theme().muted, 1);
  notch_card(pen);
  picture_frame(pen);
  pen.label(150, 92, "pad", At::middle, true);
}

void rim_from_side(const SketchPen& pen) {
  constexpr float kCard = 196;
  pen.line(128, kTable, 292, kTable, theme().text);
  // Two faces with the vents between them.
  pen.fill(kCard + 1, kTable - 40, 290, kTable - 28, kMetal);
  pen.fill(kCard + 1, kTable - 13, 290, kTable - 1, kMetal);
  for (float x = kCard + 12; x < 286; x += 20) pen.fill(x, kTable - 28, x + 5, kTable - 13, kMetal);
  card_from_side(pen, kCard);
  pen.label(248, kTable - 60, "disc", At::middle);
  const float lens = kTable - 20;
  pen.sees(38, lens, {kCard, 54}, {kCard, kTable});
  pen.phone(38, lens, 0);
  pen.length(38, 186, kCard, 186, "25 to 40 cm");
  pen.label(14, 42, "phone, level with the rim");
}

void rim_from_above(const SketchPen& pen) {
  // The disc touches the card's printed face in the middle of the notch.
  constexpr float kFace = 96, kRadius = 190, kMiddle = 150;
  for (float x = -112; x <= 112; x += 1) {
    const float y = kFace - (kRadius - std::sqrt(kRadius * kRadius - x * x));
    pen.fill(kMiddle + x, 12, kMiddle + x + 1.5f, y, kMetal);
  }
  pen.label(kMiddle, 34, "disc", At::middle, true);
  pen.line(44, kFace, 112, kFace, theme().text, 3.2f);
  pen.line(188, kFace, 256, kFace, theme().text, 3.2f);
  pen.line(112, kFace, 188, kFace, theme().muted, 1.2f);
  pen.label(40, kFace - 20, "card");
  const float lens = 154;
  pen.dashed(kMiddle, lens, 44, kFace, theme().muted);
  pen.dashed(kMiddle, lens, 256, kFace, theme().muted);
  pen.polygon({{kMiddle - 30, lens},
               {kMiddle + 30, lens},
               {kMiddle + 30, lens + 9},
               {kMiddle - 30, lens + 9}},
              theme().panel, theme().text);
  pen.list()->AddCircleFilled(pen.at(kMiddle, lens), 3.2f * pen.unit(), theme().accent, 16);
  pen.label(kMiddle + 8, kFace + 4, "touches here");
  pen.list()->AddCircleFilled(pen.at(kMiddle, kFace), 3 * pen.unit(), theme().accent, 12);
  pen.label(kMiddle, lens + 16, "phone, square to the card", At::middle);
}

void lip_cut(const SketchPen& pen) {
  // Hub at the left, the worn track, the lip at the right; phones at 20 and 35 degrees over it.
  const float track = 150, foot = 262;
  pen.fill(20, track, foot, track + 22, kMetal);
  pen.polygon({{foot, track},
               {foot + 4, track - 9},
               {288, track - 9},
               {288, track + 22},
               {foot, track + 22}},
              kMetal, 0);
  pen.fill(foot - 60, track - 4, foot - 14, track - 1, theme().text);
  pen.label(foot - 37, track + 26, "card", At::middle, true);
  pen.label(286, track - 28, "lip", At::right, true);
  pen.label(20, track + 26, "hub's side");
  for (const float degrees : {20.0f, 35.0f}) {
    const float angle = degrees * static_cast<float>(M_PI) / 180,
                reach = degrees < 30 ? 208.0f : 158.0f;
    const float x = foot - reach * std::cos(angle), y = track - reach * std::sin(angle);
    pen.dashed(x, y, foot, track, theme().muted);
    pen.phone(x, y, degrees);
    pen.arc(foot, track, degrees < 30 ? 120.0f : 96.0f, 180, 180 + degrees, theme().accent);
    const float beside = degrees < 30 ? 128.0f : 104.0f;
    const float half = degrees * 0.78f * static_cast<float>(M_PI) / 180;
    pen.label(foot - beside * std::cos(half), track - beside * std::sin(half) - 8,
              degrees < 30 ? "20°" : "35°", At::right, true);
  }
  pen.label(206, 84, "14 to 22 cm", At::left, true);
}

void lip_photo(const SketchPen& pen) {
  // Looking outwards: the card before, the lip's foot and top as two arcs beyond it.
  const auto arc = [&](float y, float bow, ImU32 colour, float width) {
    for (int i = 0; i < 40; ++i) {
      const auto at = [&](int k) {
        const float x = 10 + 7 * static_cast<float>(k), d = (x - 150) / 140;
        return std::pair{x, y + bow * d * d};
      };
      const auto [x1, y1] = at(i);
      const auto [x2, y2] = at(i + 1);
      pen.line(x1, y1, x2, y2, colour, width);
    }
  };
  for (float y = 36; y < 54; y += 1) arc(y, 20, kMetal, 1.6f);
  arc(54, 21, theme().accent, 2.6f);
  arc(35, 20, theme().text, 2);
  pen.polygon({{92, 84}, {208, 84}, {232, 168}, {68, 168}}, 0, theme().text);
  for (int row = 0; row < 5; ++row)
    for (int column = row % 2; column < 7; column += 2) {
      const auto x = [&](float c, float r) {
        const float half = 50 + 22 * r / 5;
        return 150 - half + 2 * half * c / 7;
      };
      const auto y = [](float r) { return 91 + 14.0f * r; };
      const auto r = static_cast<float>(row), c = static_cast<float>(column);
      pen.polygon({{x(c, r), y(r)},
                   {x(c + 1, r), y(r)},
                   {x(c + 1, r + 1), y(r + 1)},
                   {x(c, r + 1), y(r + 1)}},
                  theme().text, 0);
    }
  picture_frame(pen);
  pen.label(24, 16, "beyond the disc");
  pen.label(284, 56, "foot", At::right, true);
  pen.label(24, 96, "worn");
  pen.label(24, 110, "track");
}

}  // namespace

void draw_id_card_sketch(const SketchPen& pen, View view) {
  pen.line(20, kTable, 284, kTable, theme().text);
  const float top = view == View::rim ? kTable - 40 : kTable - 36;
  if (view == View::rim) {
    pen.fill(170, top, 276, kTable - 1, kMetal);
  } else {
    pen.fill(166, kTable - 12, 276, kTable - 1, kMetal);
    pen.fill(172, top, 270, kTable - 12, theme().accent);
  }
  pen.list()->AddRect(pen.at(36, kTable - 82), pen.at(152, kTable - 1), theme().text,
                      6 * pen.unit(), 0, scaled(1.8f));
  pen.label(94, kTable - 50, "blank card", At::middle, true);
  pen.label(222, top - 22, view == View::rim ? "disc" : "pad", At::middle);
}

void draw_guide_sketch(const SketchPen& pen, View view, int which) {
  switch (view) {
    case View::pad:
      return which == 0 ? pad_from_side(pen) : pad_photo(pen);
    case View::rim:
      return which == 0 ? rim_from_side(pen) : rim_from_above(pen);
    case View::lip:
      return which == 0 ? lip_cut(pen) : lip_photo(pen);
    case View::faces:
      return which == 0 ? draw_faces_edge_on(pen) : draw_faces_from_above(pen);
    case View::pile:
      return which == 0 ? draw_pile_from_side(pen) : draw_pile_from_above(pen);
  }
}

}  // namespace scantling
