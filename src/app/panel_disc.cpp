// What a disc asks for: photos of its rim and of each face's lip, and its diameter.
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "app/app.h"
#include "app/fonts.h"
#include "app/panels.h"
#include "app/theme.h"
#include "app/widgets.h"
#include "app/words.h"
#include "record/words.h"
#include "report/wording.h"
#include "verdict/hand_reading_text.h"

namespace scantling {

namespace {

struct KindWords {
  std::string title;
  const char* how;
};

KindWords words_of(const PhotoKind& kind) {
  if (kind.view == View::rim)
    return {"Rim", "The notch card at the rim, the edge seen through the notch, phone level."};
  return {fmt::format("Lip, {} face", face_word(kind.face.value_or(DiscFace::outboard))),
          "The track card flat on the worn track by the lip. Two photos from clearly different "
          "heights tell height and slope apart."};
}

std::string probe_word(const PhotoKind& kind) {
  return kind.view == View::rim
             ? "rim"
             : fmt::format("lip_{}", face_word(kind.face.value_or(DiscFace::outboard)));
}

// The rim from its edge with the notch card before it, or the disc cut through with the track card.
void draw_kind_sign(ImDrawList* draw, const PhotoKind& kind, ImVec2 at, float side) {
  const ImU32 ink = theme().text;
  const float w = scaled(1.4f);
  const auto p = [&](float x, float y) { return ImVec2(at.x + x * side, at.y + y * side); };
  if (kind.view == View::rim) {
    draw->AddRect(p(0.05f, 0.1f), p(0.95f, 0.9f), ink, 0, 0, w);
    draw->AddRectFilled(p(0.3f, 0.35f), p(0.7f, 0.9f), theme().panel);
    draw->AddRect(p(0.3f, 0.35f), p(0.7f, 0.9f), ink, 0, 0, w);
    draw->AddRectFilled(p(0.38f, 0.38f), p(0.62f, 0.9f), theme().accent);
    return;
  }
  // Worn track with its lip at the outer end; the outboard face looks up, the inboard one down.
  const bool up = kind.face != DiscFace::inboard;
  const auto q = [&](float x, float y) { return p(x, up ? y : 1 - y); };
  draw->AddQuadFilled(q(0.05f, 0.55f), q(0.75f, 0.55f), q(0.75f, 0.85f), q(0.05f, 0.85f),
                      IM_COL32(0x77, 0x7B, 0x82, 255));
  draw->AddQuadFilled(q(0.75f, 0.4f), q(0.95f, 0.4f), q(0.95f, 0.85f), q(0.75f, 0.85f),
                      theme().accent);
  draw->AddLine(q(0.2f, 0.5f), q(0.62f, 0.5f), ink, scaled(2.5f));
  draw->AddLine(q(0.12f, 0.08f), q(0.7f, 0.42f), ink, w);
}

// A photo's row; true when it was clicked.
bool draw_photo_row(App& app, const PhotoFinding& finding, std::size_t number) {
  const Session& session = app.session();
  const bool selected = session.photo() && session.photo()->photo.id == finding.photo.id;
  ImGui::PushID(static_cast<int>(finding.photo.id));
  const bool clicked = ImGui::Selectable(finding.photo.original_name.c_str(), selected);
  ImGui::PopID();
  place_last_item(app, fmt::format("row:photo:{}", number));
  return clicked;
}

// One view: its sign, its name, how many photos of it there are, the button that adds one.
void draw_kind_head(App& app, const PhotoKind& kind, std::size_t taken) {
  Session& session = app.session();
  const KindWords words = words_of(kind);
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float height = scaled(34);
  const bool next = session.kind_to_add() == kind && session.kind_is_wanted(kind);
  const float room = ImGui::GetContentRegionAvail().x;
  if (bare_button(app, "kind:" + probe_word(kind), {room - scaled(58), height})) {
    session.choose_kind_to_add(kind);
    if (taken == 0) app.show_guide(kind.view);
  }
  tip_for_last_item(words.how);
  ImDrawList* draw = ImGui::GetWindowDrawList();
  draw_kind_sign(draw, kind, at, height);
  const float x = at.x + height + scaled(8);
  draw->AddText(fonts().body, fonts().body->FontSize, {x, at.y}, theme().text, words.title.c_str());
  const std::string count =
      fmt::format("{} of {}{}", taken, photos_wanted(kind), next ? ", the next photo is this" : "");
  draw->AddText(fonts().small, fonts().small->FontSize, {x, at.y + scaled(18)},
                next ? theme().accent : theme().muted, count.c_str());
  app.probe().tell("kind:" + probe_word(kind), count);
  ImGui::SameLine(ImGui::GetContentRegionMax().x - scaled(52));
  if (small_button(app, "Add…", "add_" + probe_word(kind), words.how)) {
    session.choose_kind_to_add(kind);
    app.ask_for_photos();
  }
  if (next) muted_text(words.how);
}

}  // namespace

void draw_disc_photos(App& app) {
  Session& session = app.session();
  std::int64_t clicked = 0;
  std::size_t number = 0;
  for (const PhotoKind& kind : photo_kinds(PartKind::disc)) {
    std::vector<const PhotoFinding*> photos;
    if (const PartSummary* part = session.part())
      for (const PhotoFinding& finding : part->photos)
        if (kind_of(finding.photo) == kind) photos.push_back(&finding);
    draw_kind_head(app, kind, photos.size());
    for (const PhotoFinding* finding : photos)
      if (draw_photo_row(app, *finding, ++number)) clicked = finding->photo.id;
    gap(1);
  }
  if (clicked) session.select_photo(clicked);
  if (session.photo() && small_button(app, "Remove this photo", "remove_photo",
                                      "Takes it off this disc. Undo brings it back (Delete)"))
    app.attempt([&] { session.remove_photo(); });
}

namespace {

// The disc from its side with the length asked for across it.
void draw_diameter_sign(ImVec2 at, float side) {
  ImDrawList* draw = ImGui::GetWindowDrawList();
  const ImVec2 middle(at.x + side / 2, at.y + side / 2);
  draw->AddCircle(middle, side * 0.47f, theme().text, 40, scaled(1.4f));
  draw->AddCircle(middle, side * 0.16f, theme().muted, 24, scaled(1.2f));
  const float y = middle.y, a = at.x + side * 0.03f, b = at.x + side * 0.97f, s = scaled(4);
  draw->AddLine({a, y}, {b, y}, theme().accent, scaled(1.8f));
  draw->AddTriangleFilled({a, y}, {a + s, y - s * 0.7f}, {a + s, y + s * 0.7f}, theme().accent);
  draw->AddTriangleFilled({b, y}, {b - s, y + s * 0.7f}, {b - s, y - s * 0.7f}, theme().accent);
}

void take_diameter(App& app) {
  DiscForm& form = app.forms().disc;
  const bool cleared = form.diameter.find_first_not_of(' ') == std::string::npos;
  const auto value = cleared ? std::nullopt : number_from(form.diameter, "mm");
  if (!cleared && (!value || *value < 100 || *value > 600)) {
    form.refusal = "A disc's diameter lies between 100 and 600 mm, such as 280. It may stay empty.";
    return;
  }
  form.refusal.clear();
  app.take_disc_diameter(value);
}

}  // namespace

void draw_disc_section(App& app) {
  Session& session = app.session();
  DiscForm& form = app.forms().disc;
  const PartSummary* part = session.part();
  const auto diameter = part ? part->part.disc_diameter_mm : std::nullopt;
  const std::string key = fmt::format("{} {} {}", session.job()->job.id,
                                      static_cast<int>(session.slot().side), diameter.value_or(0));
  if (key != form.key) {
    form.key = key;
    form.diameter = diameter ? number_words(*diameter) : std::string();
    form.refusal.clear();
  }
  gap(4);
  heading("Disc diameter");
  const float side = scaled(46);
  const ImVec2 at = ImGui::GetCursorScreenPos();
  draw_diameter_sign(at, side);
  ImGui::SetCursorScreenPos({at.x + side + scaled(10), at.y + scaled(8)});
  if (text_field(app, "disc_diameter", "mm", form.diameter, scaled(80))) take_diameter(app);
  ImGui::SameLine();
  ImGui::AlignTextToFramePadding();
  ImGui::TextUnformatted("mm, rim to rim");
  ImGui::SetCursorScreenPos({at.x, at.y + side + scaled(4)});
  muted_text(
      "A tape across the disc will do. It tells how far the rim curves away beside the card; leave "
      "it empty if you do not know it.");
  if (!form.refusal.empty()) text_as_written(form.refusal);
}

}  // namespace scantling
