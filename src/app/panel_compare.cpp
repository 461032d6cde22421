// Two photos side by side, both laid on their cards' plane.
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "app/app.h"
#include "app/edge_overlay.h"
#include "app/fonts.h"
#include "app/panels.h"
#include "app/shown_size.h"
#include "app/size_drawing.h"
#include "app/theme.h"
#include "app/widgets.h"
#include "report/wording.h"

namespace scantling {

namespace {

constexpr float kHead = 46, kFoot = 40;
constexpr ImU32 kCasing = IM_COL32(0, 0, 0, 190);
constexpr ImU32 kChalk = IM_COL32(255, 255, 255, 235);
constexpr double kLeastScaleBar = 60;  ///< style pixels

// One of the two photos, as far as it is there.
struct Pane {
  const char* name = "";  ///< for the probe
  std::string title = {};
  std::string waiting = {};  ///< in place of the photo; empty where it can be shown
  PhotoTexture* texture = nullptr;
  const CardPose* pose = nullptr;
  const Analysis* analysis = nullptr;
  const Measurement* measurement = nullptr;
  std::optional<ShownSize> size = {};
};

std::string no_card() {
  return "No card was read on this photo, so it cannot be laid beside another one.";
}

Pane side_here(App& app) {
  Session& session = app.session();
  const PhotoFinding& photo = *session.photo();
  Pane side{.name = "here",
            .title = date_title(session.job()->job.date) + ": " + photo.photo.original_name};
  side.analysis = session.analysis();
  const bool shown = app.texture().ready() && app.texture().photo_id() == photo.photo.id;
  if (!app.photo_fault().empty())
    side.waiting = app.photo_fault();
  else if (!side.analysis || !shown)
    side.waiting = "Opening the photo";
  else if (side.pose = side.analysis->card_pose(); !side.pose)
    side.waiting = no_card();
  side.texture = &app.texture();
  side.measurement = session.measurement();
  if (side.measurement)
    side.size = shown_size(session.photo_size(), *side.measurement, photo.confirmations);
  return side;
}

Pane side_other(App& app) {
  ComparePage& page = app.compare_page();
  const CompareChoice& choice = *page.choice();
  Pane side{.name = "other", .title = choice_title(choice) + ": " + choice.photo.original_name};
  const ComparedPhoto* other = page.other();
  if (!other) {
    side.waiting = "Opening the photo";
    return side;
  }
  side.analysis = other->analysis ? &*other->analysis : nullptr;
  if (!page.texture().ready())
    side.waiting = "The photo's file is missing or cannot be read.";
  else if (side.pose = side.analysis ? side.analysis->card_pose() : nullptr; !side.pose)
    side.waiting = no_card();
  side.texture = &page.texture();
  if (other->finding && other->finding->newest) {
    side.measurement = &other->finding->newest->measurement;
    side.size = shown_size(other->finding->size ? &*other->finding->size : nullptr,
                           *side.measurement, other->finding->confirmations);
  }
  return side;
}

// The places on the card's plane that are to be seen: the parts' edges, or the cards' corners.
void add_places(const Pane& side, bool part, std::vector<Point_mm>& places) {
  if (!side.pose) return;
  if (part && side.measurement)
    for (const MeasuredEdge& edge : side.measurement->edges)
      for (const Point_px& p : edge.points_px) places.push_back(side.pose->on_plane(p, 0));
  if (!part && side.analysis)
    for (const SightedCorner& corner : side.analysis->corners())
      places.push_back(side.pose->on_plane(corner.photo_px, 0));
}

void frame(ComparePage& page, const Pane& here, const Pane& other, const ScreenRect& pane) {
  if (page.framing() == CompareFraming::none) return;
  // While the other photo is being opened, the first one alone says where to look.
  std::vector<Point_mm> places;
  for (const bool part : {page.framing() == CompareFraming::part, false}) {
    add_places(here, part, places);
    add_places(other, part, places);
    if (!places.empty()) break;
  }
  if (places.empty()) return;
  Point_mm from = places.front(), to = places.front();
  for (const Point_mm& p : places) {
    from = {std::min(from.x, p.x), std::min(from.y, p.y)};
    to = {std::max(to.x, p.x), std::max(to.y, p.y)};
  }
  const double margin = page.framing() == CompareFraming::part
                            ? 0.08 * std::max(to.x - from.x, to.y - from.y) + 2
                            : 8;
  page.view.show({from.x - margin, from.y - margin}, {to.x + margin, to.y + margin}, pane);
  page.card_middle = {(from.x + to.x) / 2, (from.y + to.y) / 2};
  if (here.waiting.empty() && other.waiting != "Opening the photo") page.framed();
}

void draw_cross(ImDrawList* draw, ImVec2 at, const ScreenRect& pane) {
  const float gap_px = scaled(6);
  const ImVec2 from = top_left(pane), to = bottom_right(pane);
  for (const auto& [colour, width] : {std::pair{kCasing, 3.0f}, std::pair{kChalk, 1.0f}}) {
    draw->AddLine({from.x, at.y}, {at.x - gap_px, at.y}, with_alpha(colour, 0.55f), scaled(width));
    draw->AddLine({at.x + gap_px, at.y}, {to.x, at.y}, with_alpha(colour, 0.55f), scaled(width));
    draw->AddLine({at.x, from.y}, {at.x, at.y - gap_px}, with_alpha(colour, 0.55f), scaled(width));
    draw->AddLine({at.x, at.y + gap_px}, {at.x, to.y}, with_alpha(colour, 0.55f), scaled(width));
  }
}

void draw_scale_bar(ImDrawList* draw, const CardView& view, const ScreenRect& pane) {
  const double least_mm = scaled(kLeastScaleBar) / view.scale();
  const double length_mm = scale_step(least_mm, 1);
  const std::string words =
      length_mm < 1 ? fmt::format("{:.1f} mm", length_mm) : fmt::format("{:.0f} mm", length_mm);
  const ImVec2 from = vec({pane.x + scaled(14), pane.y + pane.height - scaled(16)});
  const ImVec2 to(from.x + static_cast<float>(length_mm * view.scale()), from.y);
  const float tick = scaled(5);
  for (const auto& [colour, width] : {std::pair{kCasing, 4.5f}, std::pair{kChalk, 1.8f}}) {
    draw->AddLine(from, to, colour, scaled(width));
    draw->AddLine({from.x, from.y - tick}, {from.x, from.y + tick}, colour, scaled(width));
    draw->AddLine({to.x, to.y - tick}, {to.x, to.y + tick}, colour, scaled(width));
  }
  draw_label(draw, {from.x, from.y - scaled(28)}, words);
}

void draw_pane(App& app, const Pane& side, const ScreenRect& pane) {
  ComparePage& page = app.compare_page();
  ImDrawList* draw = ImGui::GetWindowDrawList();
  draw->AddRectFilled(top_left(pane), bottom_right(pane), theme().canvas);
  app.probe().place(std::string("compare:") + side.name, pane);
  draw->PushClipRect(top_left(pane), bottom_right(pane), true);
  std::string words = side.title;
  if (!side.waiting.empty()) {
    centred_text(draw, pane, side.waiting, IM_COL32(235, 235, 232, 255));
  } else {
    const PhotoMap map = [&](Point_px p) { return through_card(*side.pose, page.view, pane, p); };
    side.texture->set_brightness(app.canvas().look_of(side.texture->photo_id()).brightness);
    if (side.texture->draw(draw, map, patch_in_sight(*side.pose, page.view, pane),
                           photo_zoom(*side.pose, page.view)))
      app.window().keep_drawing();
    if (side.measurement)
      for (const MeasuredEdge& edge : side.measurement->edges) {
        std::vector<ImVec2> line;
        for (const Point_px& p : edge.points_px)
          if (const auto at = map(p)) line.push_back(vec(*at));
        draw_edge_curve(draw, line, look_of_edge(edge.name), scaled(1.8f));
      }
    if (page.pointed) draw_cross(draw, vec(page.view.to_screen(*page.pointed, pane)), pane);
    draw_scale_bar(draw, page.view, pane);
    words += "\n" + (side.size          ? side.size->words
                     : side.measurement ? "no size yet: look at the edges first"
                                        : "not measured yet");
  }
  draw_note(draw, vec({pane.x + scaled(10), pane.y + scaled(10)}),
            static_cast<float>(pane.width) - scaled(20), words);
  app.probe().tell(std::string("compare_") + side.name, words);
  draw->PopClipRect();
}

void follow_pointer(ComparePage& page, const ScreenRect& first, const ScreenRect& second,
                    bool hovered) {
  const ImGuiIO& io = ImGui::GetIO();
  const ScreenPoint pointer{io.MousePos.x, io.MousePos.y};
  const ScreenRect& pane = second.contains(pointer) ? second : first;
  page.pointed.reset();
  if (page.panning) {
    page.panning =
        ImGui::IsMouseDown(ImGuiMouseButton_Left) || ImGui::IsMouseDown(ImGuiMouseButton_Middle);
    page.view.pan_by(io.MouseDelta.x, io.MouseDelta.y);
    ImGui::SetMouseCursor(ImGuiMouseCursor_ResizeAll);
  } else if (hovered) {
    if (io.MouseWheel != 0) page.view.zoom_about(pointer, std::pow(1.2, io.MouseWheel), pane);
    page.panning = ImGui::IsMouseClicked(ImGuiMouseButton_Left) ||
                   ImGui::IsMouseClicked(ImGuiMouseButton_Middle);
    page.pointed = page.view.to_card(pointer, pane);
  }
  page.view.keep_near(page.card_middle, 150);
}

void draw_head(App& app, const ScreenRect& area) {
  ComparePage& page = app.compare_page();
  ImGui::SetCursorScreenPos(vec({area.x + scaled(14), area.y + scaled(9)}));
  ImGui::BeginGroup();
  if (small_button(app, "Back to the photo", "compare_back", "Esc")) app.show_compare(false);
  if (page.choices().size() > 1) {
    ImGui::SameLine(0, scaled(14));
    if (small_button(app, "Photo before", "compare_before",
                     "Another photo on the right (Shift+Tab)"))
      page.step(-1);
    ImGui::SameLine(0, scaled(2));
    if (small_button(app, "Next photo", "compare_next", "Another photo on the right (Tab)"))
      page.step(1);
    ImGui::SameLine();
    ImGui::AlignTextToFramePadding();
    muted_text(fmt::format("{} of {}", page.number() + 1, page.choices().size()));
  }
  if (page.choice()) {
    const auto zoom = [&](double factor) {
      page.view.zoom_about(page.pane.middle(), factor, page.pane);
    };
    ImGui::SameLine(0, scaled(14));
    if (small_button(app, "−", "compare_out", "Zoom out (−)")) zoom(1 / 1.5);
    ImGui::SameLine(0, scaled(2));
    if (small_button(app, "+", "compare_in", "Zoom in (+)")) zoom(1.5);
    ImGui::SameLine(0, scaled(2));
    if (small_button(app, "Whole card", "compare_card", "Show the whole card (0)"))
      page.frame(CompareFraming::card);
    ImGui::SameLine(0, scaled(2));
    if (small_button(app, "Part", "compare_part", "Show the part and its edges (2)"))
      page.frame(CompareFraming::part);
  }
  ImGui::EndGroup();
}

void draw_foot(App& app, const Pane& here, const Pane& other, const ScreenRect& area) {
  std::string words =
      "Both photos are laid on their card's plane: the same millimetre lies at the same place.";
  const bool same_view =
      here.measurement && other.measurement && here.measurement->view == other.measurement->view;
  if (same_view && here.size && other.size) {
    const std::string difference = difference_words(here.size->quantity, other.size->quantity);
    app.probe().tell("compare_difference", difference);
    words = difference + " " + words;
  }
  ImFont* font = fonts().small;
  const float wrap = static_cast<float>(area.width) - scaled(28);
  const float height = font->CalcTextSizeA(font->FontSize, 1e6f, wrap, words.c_str()).y;
  ImGui::GetWindowDrawList()->AddText(
      font, font->FontSize,
      vec({area.x + scaled(14), area.y + (area.height - static_cast<double>(height)) / 2}),
      theme().text, words.c_str(), nullptr, wrap);
}

}  // namespace

void draw_compare_page(App& app, const ScreenRect& area) {
  ComparePage& page = app.compare_page();
  ImGui::SetNextWindowPos(vec({area.x, area.y}));
  ImGui::SetNextWindowSize(vec({area.width, area.height}));
  constexpr ImGuiWindowFlags kFlags = ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                                      ImGuiWindowFlags_NoScrollWithMouse |
                                      ImGuiWindowFlags_NoBringToFrontOnFocus;
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {0, 0});
  const bool open = ImGui::Begin("##compare", nullptr, kFlags);
  ImGui::PopStyleVar();
  if (open) {
    const double head = scaled(kHead), foot = scaled(kFoot);
    const ScreenRect panes{area.x, area.y + head, area.width, area.height - head - foot};
    if (!page.choice()) {
      ImGui::GetWindowDrawList()->AddRectFilled(top_left(panes), bottom_right(panes),
                                                theme().canvas);
      centred_text(ImGui::GetWindowDrawList(), panes, nothing_to_compare(),
                   IM_COL32(235, 235, 232, 255));
      app.probe().tell("compare_nothing", nothing_to_compare());
      draw_head(app, area);
      ImGui::End();
      return;
    }
    const double between = scaled(3), width = (panes.width - between) / 2;
    const ScreenRect left{panes.x, panes.y, width, panes.height};
    const ScreenRect right{panes.x + width + between, panes.y, width, panes.height};
    page.pane = left;
    const Pane here = side_here(app), other = side_other(app);
    frame(page, here, other, left);
    ImGui::SetCursorScreenPos(top_left(panes));
    mouse_area("panes", vec({panes.width, panes.height}),
               ImGuiButtonFlags_MouseButtonLeft | ImGuiButtonFlags_MouseButtonMiddle);
    follow_pointer(page, left, right, ImGui::IsItemHovered());
    draw_pane(app, here, left);
    draw_pane(app, other, right);
    draw_head(app, area);
    draw_foot(app, here, other, {area.x, area.y + area.height - foot, area.width, foot});
  }
  ImGui::End();
}

}  // namespace scantling
