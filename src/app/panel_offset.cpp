// How far the part's edge lies behind the card's printed face.
#include <fmt/format.h>
#include <imgui.h>

#include <cmath>

#include "app/app.h"
#include "app/fonts.h"
#include "app/panels.h"
#include "app/theme.h"
#include "app/widgets.h"
#include "app/words.h"

namespace scantling {

namespace {

constexpr double kLargestOffset_mm = 30;
constexpr float kSignWidth = 96, kSignHeight = 62;

// Seen from above: the part, the card before it with the gap asked for, the phone and its view.
void draw_offset_sign(ImVec2 at, bool disc) {
  ImDrawList* draw = ImGui::GetWindowDrawList();
  const float w = scaled(kSignWidth), h = scaled(kSignHeight), thin = scaled(1.4f);
  const auto p = [&](float x, float y) { return ImVec2(at.x + x * w, at.y + y * h); };
  const float edge = 0.28f, card = 0.56f, middle = 0.42f;
  const ImU32 metal = IM_COL32(0x77, 0x7B, 0x82, 255);
  if (disc) {  // the rim curves away from the card
    for (int i = 0; i <= 40; ++i) {
      const float x = 0.06f + 0.72f * static_cast<float>(i) / 40;
      const float y = edge - 0.5f * (x - middle) * (x - middle);
      draw->AddLine(p(x, 0), p(x, y), metal, w * 0.72f / 40 + 1);
    }
  } else {
    draw->AddRectFilled(p(0.06f, 0), p(0.78f, edge), metal);
  }
  // The card, open where the part is seen through its notch.
  draw->AddLine(p(0.0f, card), p(0.26f, card), theme().text, scaled(3));
  draw->AddLine(p(0.58f, card), p(0.84f, card), theme().text, scaled(3));
  draw->AddLine(p(0.26f, card), p(0.58f, card), theme().muted, thin);
  draw->AddLine(p(0.86f, card), p(1.0f, card), theme().muted, thin);
  draw->AddLine(p(0.80f, edge), p(1.0f, edge), theme().muted, thin);
  const float x = at.x + 0.92f * w, from = at.y + edge * h, to = at.y + card * h, s = scaled(4);
  draw->AddLine({x, from}, {x, to}, theme().accent, scaled(1.8f));
  draw->AddTriangleFilled({x, from}, {x - s * 0.8f, from + s}, {x + s * 0.8f, from + s},
                          theme().accent);
  draw->AddTriangleFilled({x, to}, {x + s * 0.8f, to - s}, {x - s * 0.8f, to - s}, theme().accent);
  draw->AddLine(p(middle, 0.92f), p(0.30f, card), theme().muted, scaled(1));
  draw->AddLine(p(middle, 0.92f), p(0.54f, card), theme().muted, scaled(1));
  draw->AddRectFilled(p(middle - 0.09f, 0.9f), p(middle + 0.09f, 1.0f), theme().text, scaled(2));
}

void follow_photo(App& app, const MeasureOptions& now) {
  OffsetForm& form = app.forms().offset;
  if (form.typing) return;
  const std::string key =
      fmt::format("{} {} {}", app.session().photo()->photo.id, now.part_offset.offset_mm,
                  now.part_offset.standard_uncertainty_mm);
  if (key == form.key) return;
  form.key = key;
  form.photo_id = app.session().photo()->photo.id;
  form.offset = number_words(now.part_offset.offset_mm);
  form.uncertainty = number_words(now.part_offset.standard_uncertainty_mm);
}

// For the photo that it was typed for.
void take_offset(App& app) {
  OffsetForm& form = app.forms().offset;
  const auto offset = number_from(form.offset, "mm");
  const auto uncertainty = number_from(form.uncertainty, "mm");
  form.key.clear();  // what cannot be taken falls back to what the record holds
  if (!offset || !uncertainty || std::abs(*offset) > kLargestOffset_mm || *uncertainty < 0)
    return app.say("The offset is a length in millimetres, such as 1.5, and its uncertainty too.");
  app.attempt([&] {
    const auto newest = app.session().record().newest_measurement(form.photo_id);
    if (!newest) return;
    MeasureOptions options = newest->options;
    options.part_offset = {*offset, *uncertainty};
    app.session().set_photo_options("set the offset", form.photo_id, options);
  });
}

}  // namespace

void draw_offset_section(App& app) {
  const PhotoFinding* photo = app.session().photo();
  if (!photo || !photo->newest) return;
  const MeasureOptions now = photo->newest->options;
  if (now.view != View::pad && now.view != View::rim) return;
  const bool disc = now.view == View::rim;
  follow_photo(app, now);
  OffsetForm& form = app.forms().offset;
  gap(4);
  heading(disc ? "Rim behind the card" : "Pad behind the card");
  const ImVec2 at = ImGui::GetCursorScreenPos();
  draw_offset_sign(at, disc);
  ImGui::Dummy({scaled(kSignWidth), scaled(kSignHeight)});
  place_last_item(app, "offset_sign");
  tip_for_last_item("Seen from above: the part, the card before it, the phone below");
  const float x = at.x + scaled(kSignWidth + 12);
  ImGui::SetCursorScreenPos({x, at.y + scaled(4)});
  bool left = text_field(app, "offset", "mm", form.offset, scaled(56));
  form.typing = ImGui::IsItemActive();
  ImGui::SameLine();
  ImGui::AlignTextToFramePadding();
  ImGui::TextUnformatted("mm");
  ImGui::SetCursorScreenPos({x, at.y + scaled(34)});
  left = text_field(app, "offset_uncertainty", "mm", form.uncertainty, scaled(56)) || left;
  form.typing = form.typing || ImGui::IsItemActive();
  ImGui::SameLine();
  ImGui::AlignTextToFramePadding();
  ImGui::TextUnformatted("mm unsure");
  ImGui::SetCursorScreenPos({at.x, at.y + scaled(kSignHeight + 6)});
  muted_text(fmt::format(
      "From the card's printed face back to the edge you measure: 0 where they are flush, as they "
      "should be. An untold 2 mm makes {} read {} mm thin at 400 mm.",
      disc ? "a 26 mm rim" : "a 10 mm pad", disc ? "0.13" : "0.05"));
  if (left) take_offset(app);
}

}  // namespace scantling
