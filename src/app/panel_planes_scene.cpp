// The solved scene, to be turned with the mouse: sheet, cards, part, cameras and the size.
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "app/app.h"
#include "app/edge_overlay.h"
#include "app/fonts.h"
#include "app/panels.h"
#include "app/scene_model.h"
#include "app/theme.h"
#include "app/widgets.h"

namespace scantling {

namespace {

constexpr ImU32 kPaper = IM_COL32(236, 235, 228, 235);
constexpr ImU32 kPaperLine = IM_COL32(120, 122, 126, 255);
constexpr ImU32 kIron = IM_COL32(150, 153, 160, 120);
constexpr ImU32 kIronRim = IM_COL32(116, 119, 126, 150);
constexpr ImU32 kIronLine = IM_COL32(24, 25, 27, 150);
constexpr ImU32 kOutboard = IM_COL32(0x56, 0xB4, 0xE9, 255);  // Okabe and Ito: sky, orange
constexpr ImU32 kInboard = IM_COL32(0xE6, 0x9F, 0x00, 255);
constexpr ImU32 kWhite = IM_COL32(250, 250, 248, 255);
constexpr ImU32 kCasing = IM_COL32(0, 0, 0, 190);
constexpr double kTurn_deg_per_px = 0.4;
constexpr float kGrip = 16;  ///< how near a click must come to a camera

ImU32 colour_of(const std::optional<PlanePiece>& side) {
  if (!side) return kWhite;
  return *side == PlanePiece::card_a ? kOutboard : kInboard;
}

ImU32 fill_of(SceneRole role) {
  switch (role) {
    case SceneRole::card_a:
      return kOutboard;
    case SceneRole::card_b:
      return kInboard;
    case SceneRole::part:
      return kIron;
    case SceneRole::part_rim:
      return kIronRim;
    case SceneRole::sheet:
      break;
  }
  return kPaper;
}

class SceneDrawing {
 public:
  SceneDrawing(App& app, const Scene& scene, const ScreenRect& area)
      : app_(app),
        scene_(scene),
        view_(app.planes_page().scene()),
        area_(area),
        draw_(ImGui::GetWindowDrawList()) {}

  void draw() {
    std::vector<Item> items;
    for (const SceneFace& face : scene_.faces) items.push_back(item_of(face));
    const double middle = view_.seen(scene_.middle, area_).distance_mm;
    std::sort(items.begin(), items.end(),
              [](const Item& a, const Item& b) { return a.order > b.order; });
    // The sheet lies under everything, seen from above.
    const bool from_above = view_.elevation_deg() >= 0;
    if (from_above) draw_items(items, true);
    for (const SceneCamera& camera : scene_.cameras)
      if (distance(camera) > middle) draw_camera(camera);
    draw_items(items, false);
    if (!from_above) draw_items(items, true);
    for (const SceneCamera& camera : scene_.cameras)
      if (distance(camera) <= middle) draw_camera(camera);
    if (scene_.next) draw_next(*scene_.next);
    if (scene_.size) draw_size(*scene_.size);
    for (const SceneCamera& camera : scene_.cameras) draw_number(camera);
  }

  /// The camera under the pointer, as an index of the result's photos.
  std::optional<std::size_t> under(ImVec2 pointer) const {
    std::optional<std::size_t> found;
    float nearest = scaled(kGrip);
    for (const SceneCamera& camera : scene_.cameras) {
      const ImVec2 at = middle_of(camera);
      const float off = std::hypot(at.x - pointer.x, at.y - pointer.y);
      if (off >= nearest) continue;
      nearest = off;
      found = camera.photo;
    }
    return found;
  }

 private:
  struct Item {
    const SceneFace* face = nullptr;
    std::vector<ImVec2> points;
    double order = 0;
    bool turned_away = false;
  };

  ImVec2 seen(const World3& place) const { return vec(view_.seen(place, area_).at); }
  double distance(const SceneCamera& camera) const {
    return view_.seen(camera.eye, area_).distance_mm;
  }
  ImVec2 middle_of(const SceneCamera& camera) const {
    World3 middle{};
    for (const World3& corner : camera.picture)
      for (std::size_t k = 0; k < 3; ++k) middle[k] += corner[k] / 5;
    for (std::size_t k = 0; k < 3; ++k) middle[k] += camera.eye[k] / 5;
    return seen(middle);
  }

  Item item_of(const SceneFace& face) const {
    Item item;
    item.face = &face;
    double area = 0;
    for (const World3& corner : face.outline) {
      const SceneView::Seen s = view_.seen(corner, area_);
      item.points.push_back(vec(s.at));
      item.order += s.distance_mm / static_cast<double>(face.outline.size());
    }
    for (std::size_t i = 0; i < item.points.size(); ++i) {
      const ImVec2 a = item.points[i], b = item.points[(i + 1) % item.points.size()];
      area += static_cast<double>(a.x * b.y - b.x * a.y);
    }
    item.turned_away = area < 0;
    // A card lies on a face far larger than itself: behind all of the part or before it.
    if (face.role == SceneRole::card_a || face.role == SceneRole::card_b)
      item.order += item.turned_away ? 1e6 : -1e6;
    return item;
  }

  void draw_items(const std::vector<Item>& items, bool sheet) {
    for (const Item& item : items) {
      if ((item.face->role == SceneRole::sheet) != sheet) continue;
      const int count = static_cast<int>(item.points.size());
      const bool card =
          item.face->role == SceneRole::card_a || item.face->role == SceneRole::card_b;
      fill(item.points, fill_of(item.face->role));
      if (item.face->outlined)
        draw_->AddPolyline(item.points.data(), count, sheet || card ? kPaperLine : kIronLine,
                           ImDrawFlags_Closed,
                           scaled(item.face->role == SceneRole::part ? 1.6f : 1));
      if (card && !item.turned_away) draw_letter(item);
      if (sheet) draw_grid(*item.face);
    }
  }

  // Without ImGui's smoothing, which wants clockwise corners; the outline smooths the edge.
  void fill(const std::vector<ImVec2>& points, ImU32 colour) {
    const ImDrawListFlags before = draw_->Flags;
    draw_->Flags &= ~ImDrawListFlags_AntiAliasedFill;
    draw_->AddConvexPolyFilled(points.data(), static_cast<int>(points.size()), colour);
    draw_->Flags = before;
  }

  void draw_letter(const Item& item) {
    ImVec2 middle{0, 0};
    for (const ImVec2& p : item.points) {
      middle.x += p.x / 4;
      middle.y += p.y / 4;
    }
    const char* letter = item.face->role == SceneRole::card_a ? "A" : "B";
    ImFont* font = fonts().strong;
    const ImVec2 size = font->CalcTextSizeA(font->FontSize, 1e6f, 0, letter);
    draw_->AddText(font, font->FontSize, {middle.x - size.x / 2, middle.y - size.y / 2},
                   IM_COL32(10, 12, 14, 255), letter);
  }

  void draw_grid(const SceneFace& sheet) {
    if (sheet.outline.size() != 4) return;
    constexpr int kCells = 8;
    const auto between = [](const World3& a, const World3& b, double t) {
      return World3{a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]), a[2] + t * (b[2] - a[2])};
    };
    const auto& o = sheet.outline;
    for (int i = 1; i < kCells; ++i) {
      const double t = 1.0 * i / kCells;
      const ImU32 ink = IM_COL32(150, 152, 152, 90);
      draw_->AddLine(seen(between(o[0], o[1], t)), seen(between(o[3], o[2], t)), ink, scaled(1));
      draw_->AddLine(seen(between(o[0], o[3], t)), seen(between(o[1], o[2], t)), ink, scaled(1));
    }
  }

  void cased(ImVec2 a, ImVec2 b, ImU32 colour, float width) {
    draw_->AddLine(a, b, kCasing, scaled(width + 2));
    draw_->AddLine(a, b, colour, scaled(width));
  }

  void draw_camera(const SceneCamera& camera) {
    const ImU32 colour = colour_of(camera.side);
    const bool hovered = hovered_ == camera.photo;
    const ImVec2 eye = seen(camera.eye);
    std::vector<ImVec2> picture;
    for (const World3& corner : camera.picture) picture.push_back(seen(corner));
    fill(picture, with_alpha(colour, 0.22f));
    for (std::size_t i = 0; i < 4; ++i) {
      cased(eye, picture[i], colour, hovered ? 2.2f : 1.4f);
      cased(picture[i], picture[(i + 1) % 4], colour, hovered ? 2.2f : 1.4f);
    }
  }

  void draw_number(const SceneCamera& camera) {
    const std::string number = std::to_string(camera.photo + 1);
    const ImVec2 eye = seen(camera.eye);
    const ImVec2 size = label_size(number);
    draw_label(draw_, {eye.x - size.x / 2, eye.y - size.y - scaled(5)}, number);
    const ImVec2 at = middle_of(camera);
    app_.probe().place(fmt::format("scene_camera:{}", number), {at.x - 4, at.y - 4, 8, 8});
  }

  void dashed(ImVec2 a, ImVec2 b) {
    const float length = std::hypot(b.x - a.x, b.y - a.y);
    const float dash = scaled(5);
    if (length < 1) return;
    const ImVec2 way{(b.x - a.x) / length, (b.y - a.y) / length};
    for (float t = 0; t < length; t += 2 * dash) {
      const float end = std::min(t + dash, length);
      cased({a.x + t * way.x, a.y + t * way.y}, {a.x + end * way.x, a.y + end * way.y}, kWhite,
            1.4f);
    }
  }

  void draw_next(const SceneCamera& camera) {
    const ImVec2 eye = seen(camera.eye);
    for (std::size_t i = 0; i < 4; ++i) {
      dashed(eye, seen(camera.picture[i]));
      dashed(seen(camera.picture[i]), seen(camera.picture[(i + 1) % 4]));
    }
    const std::string words = "next";
    const ImVec2 size = label_size(words);
    draw_label(draw_, {eye.x - size.x / 2, eye.y - size.y - scaled(5)}, words);
  }

  void arrow(ImVec2 tip, ImVec2 from) {
    const float length = std::hypot(tip.x - from.x, tip.y - from.y);
    if (length < 1) return;
    const float s = std::min(scaled(8), length / 3);
    const ImVec2 way{(tip.x - from.x) / length, (tip.y - from.y) / length};
    const ImVec2 foot{tip.x - s * way.x, tip.y - s * way.y};
    draw_->AddTriangleFilled(tip, {foot.x - s * 0.45f * way.y, foot.y + s * 0.45f * way.x},
                             {foot.x + s * 0.45f * way.y, foot.y - s * 0.45f * way.x}, kWhite);
  }

  void draw_size(const SceneSize& size) {
    const ImVec2 a = seen(size.a), b = seen(size.b);
    cased(seen(size.from_a), a, kWhite, 1);
    cased(seen(size.from_b), b, kWhite, 1);
    cased(a, b, kWhite, 1.8f);
    arrow(a, b);
    arrow(b, a);
    const ImVec2 words = label_size(size.words);
    const ImVec2 middle{(a.x + b.x) / 2, (a.y + b.y) / 2};
    // Outside the part: to the left of an arrow that stands left of it.
    const bool left = middle.x < seen(scene_.middle).x;
    const float x = left ? middle.x - words.x - scaled(14) : middle.x + scaled(12);
    const ImVec2 at{std::clamp(x, static_cast<float>(area_.x) + scaled(6),
                               static_cast<float>(area_.x + area_.width) - words.x - scaled(6)),
                    middle.y + scaled(8)};
    draw_label(draw_, at, size.words);
    app_.probe().place("scene_size", {at.x, at.y, words.x, words.y});
  }

 public:
  void hover(std::optional<std::size_t> photo) { hovered_ = photo; }

 private:
  App& app_;
  const Scene& scene_;
  const SceneView& view_;
  ScreenRect area_;
  ImDrawList* draw_;
  std::optional<std::size_t> hovered_;
};

void draw_controls(App& app, const ScreenRect& area) {
  SceneView& view = app.planes_page().scene();
  const float side = scaled(34);
  float x = static_cast<float>(area.x + area.width) - 2 * side - scaled(112);
  const float y = static_cast<float>(area.y) + scaled(10);
  ImGui::SetCursorScreenPos({x, y});
  if (wide_button(app, "Reset view", "scene_reset", scaled(96), false)) view.reset();
  tip_for_last_item("As at first (0)");
  ImGui::SameLine(0, scaled(4));
  if (wide_button(app, "+", "scene_in", side, false)) view.zoom_by(1.3);
  tip_for_last_item("Nearer (wheel, +)");
  ImGui::SameLine(0, scaled(4));
  if (wide_button(app, "−", "scene_out", side, false)) view.zoom_by(1 / 1.3);
  tip_for_last_item("Farther (wheel, −)");
}

void draw_key(const Scene& scene, bool faces, const ScreenRect& area) {
  ImDrawList* draw = ImGui::GetWindowDrawList();
  std::vector<std::string> lines = {
      faces ? "A, blue: outboard. B, orange: inboard. A pyramid is a photo, with its number."
            : "A and B: the cards on the pad. A pyramid is a photo, with its number.",
      "Drag or arrow keys turn, wheel zooms, a click on a pyramid shows its photo."};
  if (scene.next) lines.insert(lines.begin() + 1, "Dashed: where the next photo would help most.");
  if (!faces)
    lines.push_back("The pad's outline is drawn, not measured.");
  else if (scene.disc_assumed && scene.faces.size() > 4)
    lines.push_back(fmt::format("The disc is drawn {:.0f} mm across; its diameter is not entered.",
                                kUsualDiscDiameter_mm));
  ImFont* font = fonts().small;
  const float line = font->FontSize + scaled(3);
  const float wrap = static_cast<float>(area.width) - scaled(28);
  float height = 0, width = 0;
  for (const std::string& text : lines) {
    const ImVec2 size = font->CalcTextSizeA(font->FontSize, 1e6f, wrap, text.c_str());
    height += std::max(line, size.y + scaled(3));
    width = std::max(width, size.x);
  }
  const float x = static_cast<float>(area.x) + scaled(14);
  float y = static_cast<float>(area.y + area.height) - height - scaled(12);
  draw->AddRectFilled({x - scaled(7), y - scaled(5)},
                      {x + width + scaled(7), y + height + scaled(3)}, IM_COL32(20, 21, 23, 200),
                      scaled(3));
  for (const std::string& text : lines) {
    draw->AddText(font, font->FontSize, {x, y}, IM_COL32(225, 226, 224, 255), text.c_str(), nullptr,
                  wrap);
    y +=
        std::max(line, font->CalcTextSizeA(font->FontSize, 1e6f, wrap, text.c_str()).y + scaled(3));
  }
}

void follow_pointer(App& app, SceneDrawing& drawing, const PlanesOutcome& outcome) {
  SceneView& view = app.planes_page().scene();
  const ImGuiIO& io = ImGui::GetIO();
  const ImVec2 moved = ImGui::GetMouseDragDelta(0, 0);
  bool& turned = app.planes_page().turned;  // a press that turned the scene is no click
  if (ImGui::IsItemActivated()) turned = false;
  if (ImGui::IsItemActive() && std::hypot(moved.x, moved.y) > scaled(4)) turned = true;
  if (ImGui::IsItemActive() && turned)
    view.turn(kTurn_deg_per_px * io.MouseDelta.x, kTurn_deg_per_px * io.MouseDelta.y);
  const bool hovered = ImGui::IsItemHovered();
  if (hovered && io.MouseWheel != 0) view.zoom_by(std::pow(1.15, io.MouseWheel));
  if (hovered && ImGui::IsMouseDoubleClicked(0)) view.reset();
  const auto camera = hovered ? drawing.under(io.MousePos) : std::nullopt;
  drawing.hover(camera);
  if (!camera || *camera >= outcome.photo_ids.size()) return;
  ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
  if (ImGui::IsItemDeactivated() && !turned)
    app.planes_page().show_photo(outcome.photo_ids[*camera]);
}

}  // namespace

void draw_planes_scene(App& app, const ScreenRect& area) {
  ImDrawList* draw = ImGui::GetWindowDrawList();
  const ImVec2 from = vec({area.x, area.y}), to = vec({area.x + area.width, area.y + area.height});
  draw->AddRectFilled(from, to, theme().canvas);
  ImGui::SetCursorScreenPos(from);
  mouse_area("scene", vec({area.width, area.height}));
  ImGui::SetItemAllowOverlap();
  app.probe().place("scene", area);

  const PartSummary* part = app.session().part();
  const PlanesCase* known = part ? app.planes_page().find(part->part.id) : nullptr;
  if (!known || known->outcome.result.pieces.empty()) {
    const bool photos = part && !Session::planes_photos(*part).empty();
    centred_text(draw, area,
                 known && known->running ? "Looking for the ground sheet and the cards"
                 : photos                ? "No photo shows the ground sheet with a card so far."
                                         : "Drop the photos here, in any order.",
                 IM_COL32(235, 235, 232, 255));
    return;
  }
  const PlanesOutcome& outcome = known->outcome;
  const Scene scene =
      scene_of(outcome.result, outcome.options.part_offset.offset_mm, part->part.disc_diameter_mm);
  app.planes_page().scene().look_at(scene.middle, scene.radius_mm);
  app.planes_page().scene().set_home(scene.home_deg);
  std::vector<World3> places;
  for (const SceneFace& face : scene.faces)
    places.insert(places.end(), face.outline.begin(), face.outline.end());
  for (const SceneCamera& camera : scene.cameras) places.push_back(camera.eye);
  if (scene.next) places.push_back(scene.next->eye);
  app.planes_page().scene().fit(places, area);
  SceneDrawing drawing(app, scene, area);
  follow_pointer(app, drawing, outcome);
  draw->PushClipRect(from, to, true);
  drawing.draw();
  draw_key(scene, outcome.options.view == View::faces, area);
  draw->PopClipRect();
  draw_controls(app, area);
}

}  // namespace scantling
