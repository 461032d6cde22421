// One photo of the planes page with its corners: how far each lies from where the solution has it.
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "app/app.h"
#include "app/edge_overlay.h"
#include "app/fonts.h"
#include "app/panels.h"
#include "app/planes_list.h"
#include "app/theme.h"
#include "app/widgets.h"

namespace scantling {

namespace {

constexpr ImU32 kCasing = IM_COL32(0, 0, 0, 210);
constexpr ImU32 kInk = IM_COL32(240, 240, 237, 255);
constexpr float kMarkSide = 4.5f;
constexpr double kLinePerPx = 110;  ///< window pixels to one photo pixel of residual

// Okabe and Ito's blue, yellow, vermillion and purple, each with a shape of its own.
ImU32 colour_of(CornerStanding standing) {
  switch (standing) {
    case CornerStanding::close:
      return IM_COL32(0x56, 0xB4, 0xE9, 255);
    case CornerStanding::middling:
      return IM_COL32(0xF0, 0xE4, 0x42, 255);
    case CornerStanding::far:
      return IM_COL32(0xD5, 0x5E, 0x00, 255);
    case CornerStanding::left_out:
      break;
  }
  return IM_COL32(0xCC, 0x79, 0xA7, 255);
}

void draw_mark(ImDrawList* draw, ImVec2 at, CornerStanding standing, float size = 1) {
  const float s = scaled(kMarkSide) * size;
  const ImU32 colour = colour_of(standing);
  switch (standing) {
    case CornerStanding::close:
      draw->AddCircleFilled(at, s * 0.9f + scaled(1), kCasing, 16);
      draw->AddCircleFilled(at, s * 0.9f, colour, 16);
      return;
    case CornerStanding::middling: {
      const float r = s * 0.9f;
      draw->AddRectFilled({at.x - r - 1, at.y - r - 1}, {at.x + r + 1, at.y + r + 1}, kCasing);
      draw->AddRectFilled({at.x - r, at.y - r}, {at.x + r, at.y + r}, colour);
      return;
    }
    case CornerStanding::far: {
      const float r = s * 1.5f;
      draw->AddTriangleFilled({at.x, at.y - r - 2}, {at.x + r + 2, at.y + r},
                              {at.x - r - 2, at.y + r}, kCasing);
      draw->AddTriangleFilled({at.x, at.y - r}, {at.x + r, at.y + r - 1}, {at.x - r, at.y + r - 1},
                              colour);
      return;
    }
    case CornerStanding::left_out: {
      const float r = s * 1.2f;
      for (const auto& [width, ink] : {std::pair{4.0f, kCasing}, std::pair{2.0f, colour}}) {
        draw->AddLine({at.x - r, at.y - r}, {at.x + r, at.y + r}, ink, scaled(width));
        draw->AddLine({at.x - r, at.y + r}, {at.x + r, at.y - r}, ink, scaled(width));
      }
      return;
    }
  }
}

void draw_corners(ImDrawList* draw, const SolvedPhoto& photo, double noise_px,
                  const ViewTransform& view) {
  // Smaller where the corners lie close together on the screen.
  const float size = std::clamp(static_cast<float>(std::sqrt(view.zoom() / 0.4)), 0.5f, 1.2f);
  // Those that need a look come last, on top.
  for (const CornerStanding wanted : {CornerStanding::close, CornerStanding::middling,
                                      CornerStanding::far, CornerStanding::left_out})
    for (const SolvedCorner& corner : photo.corners) {
      if (standing_of(corner, noise_px) != wanted) continue;
      const ImVec2 at = vec(view.to_screen(corner.photo_px));
      if (photo.solved) {
        ImVec2 off{scaled(static_cast<float>(kLinePerPx * corner.off_x_px)),
                   scaled(static_cast<float>(kLinePerPx * corner.off_y_px))};
        const float length = std::hypot(off.x, off.y), most = scaled(90);
        if (length > most) off = {off.x * most / length, off.y * most / length};
        const ImVec2 end{at.x + off.x, at.y + off.y};
        draw->AddLine(at, end, kCasing, scaled(3.5f));
        draw->AddLine(at, end, colour_of(wanted), scaled(1.6f));
      }
      draw_mark(draw, at, wanted, size);
    }
}

/// Marks in words, with how many there are of each, and how long a residual is drawn.
void draw_legend(ImDrawList* draw, const SolvedPhoto& photo, double noise_px,
                 const ScreenRect& area) {
  std::array<int, 4> count{};
  for (const SolvedCorner& corner : photo.corners)
    ++count[static_cast<std::size_t>(standing_of(corner, noise_px))];
  struct Line {
    CornerStanding standing;
    std::string words;
  };
  const std::array<Line, 4> lines = {
      Line{CornerStanding::close, fmt::format("within {:.2f} px", 2 * noise_px)},
      Line{CornerStanding::middling, fmt::format("within {:.2f} px", 3 * noise_px)},
      Line{CornerStanding::far, "further off"},
      Line{CornerStanding::left_out, "left out of the solution"}};
  ImFont* font = fonts().small;
  const float step = font->FontSize + scaled(7), pad = scaled(10);
  const float width = scaled(262), height = step * 5 + 2 * pad;
  const ImVec2 from = vec({area.x + pad, area.y + area.height - pad - height});
  draw->AddRectFilled(from, {from.x + width, from.y + height}, IM_COL32(20, 21, 23, 215),
                      scaled(3));
  float y = from.y + pad;
  for (const Line& line : lines) {
    draw_mark(draw, {from.x + pad + scaled(8), y + font->FontSize / 2}, line.standing);
    const std::string text =
        fmt::format("{}: {}", line.words, count[static_cast<std::size_t>(line.standing)]);
    draw->AddText(font, font->FontSize, {from.x + pad + scaled(24), y}, kInk, text.c_str());
    y += step;
  }
  const float bar = scaled(static_cast<float>(kLinePerPx * 0.2));
  const float middle = y + font->FontSize / 2;
  draw->AddLine({from.x + pad, middle}, {from.x + pad + bar, middle}, kInk, scaled(2));
  draw->AddText(font, font->FontSize, {from.x + pad + bar + scaled(8), y}, kInk,
                "a line this long: 0.2 px off");
}

void follow_pointer(PlanesPage& page, const ScreenRect& area, const ViewTransform& whole,
                    int width_px, int height_px) {
  const ImGuiIO& io = ImGui::GetIO();
  ViewTransform& view = page.photo_view();
  if (ImGui::IsItemActive()) view.pan_by(io.MouseDelta.x, io.MouseDelta.y);
  if (ImGui::IsItemHovered() && io.MouseWheel != 0)
    view.zoom_about({io.MousePos.x, io.MousePos.y}, std::pow(1.2, io.MouseWheel),
                    whole.zoom() * 0.8);
  view.keep_in_sight(width_px, height_px, area);
}

void draw_head(App& app, const SolvedPhoto* photo, const PhotoFinding& finding,
               const ScreenRect& area) {
  ImGui::SetCursorScreenPos(vec({area.x + scaled(10), area.y + scaled(10)}));
  if (wide_button(app, "The scene", "planes_scene", scaled(100), false))
    app.planes_page().show_scene();
  tip_for_last_item("Back to the scene (Esc). Tab shows the next photo");
  std::string words = finding.photo.original_name;
  if (photo && photo->solved)
    words +=
        fmt::format("   {:.2f} px; focal length {:.0f} px", photo->residual_px, photo->focal_px);
  else if (photo)
    words += "   not used";
  draw_label(ImGui::GetWindowDrawList(), vec({area.x + scaled(122), area.y + scaled(14)}), words);
}

}  // namespace

void draw_planes_photo(App& app, const ScreenRect& area) {
  PlanesPage& page = app.planes_page();
  ImDrawList* draw = ImGui::GetWindowDrawList();
  const ImVec2 from = vec({area.x, area.y}), to = vec({area.x + area.width, area.y + area.height});
  draw->AddRectFilled(from, to, theme().canvas);
  ImGui::SetCursorScreenPos(from);
  mouse_area("planes_photo", vec({area.width, area.height}));
  ImGui::SetItemAllowOverlap();
  app.probe().place("planes_photo", area);
  const PartSummary* part = app.session().part();
  const PhotoFinding* finding = nullptr;
  if (part)
    for (const PhotoFinding* known : Session::planes_photos(*part))
      if (known->photo.id == page.photo_id()) finding = known;
  if (!finding) return;
  const PlanesCase* known = page.find(part->part.id);
  const SolvedPhoto* photo = known ? solved_photo(known->outcome, page.photo_id()) : nullptr;
  if (!app.texture().ready() || app.texture().photo_id() != page.photo_id()) {
    centred_text(draw, area, app.photo_fault().empty() ? "Opening the photo" : app.photo_fault(),
                 IM_COL32(235, 235, 232, 255));
    draw_head(app, photo, *finding, area);
    return;
  }
  const int width_px = app.texture().width_px(), height_px = app.texture().height_px();
  const ViewTransform whole = ViewTransform::fitted(width_px, height_px, area);
  if (page.take_reframing()) page.photo_view() = whole;
  follow_pointer(page, area, whole, width_px, height_px);
  draw->PushClipRect(from, to, true);
  if (app.texture().draw(draw, page.photo_view(), area)) app.window().keep_drawing();
  if (photo) {
    const auto& fit = known->outcome.result.fit;
    const double noise_px = fit ? fit->noise_px : 0.1;
    draw_corners(draw, *photo, noise_px, page.photo_view());
    draw_legend(draw, *photo, noise_px, area);
  }
  draw->PopClipRect();
  draw_head(app, photo, *finding, area);
}

}  // namespace scantling
