// The verdict, the size and the two drawings of it.
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>

#include "app/app.h"
#include "app/fonts.h"
#include "app/panels.h"
#include "app/shown.h"
#include "app/size_drawing.h"
#include "app/theme.h"
#include "app/widgets.h"
#include "app/words.h"
#include "report/planes_beside.h"
#include "report/wear_plot.h"
#include "report/wording.h"

namespace scantling {

void draw_figure(App& app, const Quantity& size) {
  const std::string figure = figure_words(size);
  const ImVec2 at = ImGui::GetCursorScreenPos();
  ImDrawList* draw = ImGui::GetWindowDrawList();
  ImFont* font = fonts().figure;
  const float width = font->CalcTextSizeA(font->FontSize, 1e6f, 0, figure.c_str()).x;
  draw->AddText(font, font->FontSize, {at.x, at.y - scaled(4)}, theme().text, figure.c_str());
  const float x = at.x + width + scaled(10);
  draw->AddText(fonts().large, fonts().large->FontSize, {x, at.y + scaled(2)}, theme().text,
                unit_word(shown_style().length));
  const std::string interval = interval_words(size);
  draw->AddText(fonts().strong, fonts().strong->FontSize, {x, at.y + scaled(30)}, theme().text,
                interval.c_str());
  const float after =
      fonts().strong->CalcTextSizeA(fonts().strong->FontSize, 1e6f, 0, interval.c_str()).x;
  draw->AddText(fonts().small, fonts().small->FontSize, {x + after + scaled(6), at.y + scaled(31)},
                theme().muted, "(95%)");
  ImGui::Dummy({ImGui::GetContentRegionAvail().x, scaled(54)});
  place_last_item(app, "figure");
}

namespace {

struct Headline {
  std::string word;
  StateLook look;
};

Headline headline(const Session& session, const PartSummary& part) {
  if (session.photo() && !session.measurement() && part.standing != PartStanding::judged)
    return {"Measuring", {theme().muted, Pattern::outline}};
  return {capitalised(part.state), look_of(part)};
}

void draw_headline(App& app, const Headline& head) {
  ImDrawList* draw = ImGui::GetWindowDrawList();
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  const float height = scaled(50);
  const float block = head.look.pattern == Pattern::outline ? 0 : scaled(46);
  draw->AddRectFilled(at, {at.x + width, at.y + height}, theme().raised, scaled(3));
  if (block > 0) fill_pattern(draw, at, {at.x + block, at.y + height}, head.look);
  ImFont* font = fonts().large;
  float size = font->FontSize;
  const float room = width - block - scaled(20);
  const float needed = font->CalcTextSizeA(size, 1e6f, 0, head.word.c_str()).x;
  if (needed > room) size *= room / needed;
  draw->AddText(font, size, {at.x + block + scaled(12), at.y + (height - size) / 2}, theme().text,
                head.word.c_str());
  ImGui::Dummy({width, height});
  place_last_item(app, "verdict");
}

void draw_drawings(App& app, const Quantity& size, const PartSummary& part) {
  SizeDrawing drawing;
  drawing.size = size;
  if (const Measurement* measurement = app.session().measurement())
    if (const Dimension* plate = measurement->dimension("plate_thickness"))
      drawing.plate_mm = plate->quantity.value_mm;
  drawing.minimum_mm = part.part.minimum_mm;
  if (part.verdict) drawing.state = part.verdict->state;
  ImDrawList* draw = ImGui::GetWindowDrawList();
  const float width = ImGui::GetContentRegionAvail().x;
  draw_size_bar(draw, ImGui::GetCursorScreenPos(), {width, scaled(64)}, drawing);
  ImGui::Dummy({width, scaled(68)});
  place_last_item(app, "size_bar");
  draw_pad_section(draw, ImGui::GetCursorScreenPos(), {width, scaled(84)}, drawing);
  ImGui::Dummy({width, scaled(84)});
  place_last_item(app, "section");
}

// The disc's size that counts, wherever it comes from.
void draw_disc_size(App& app, const PartSummary& part) {
  const bool edges = part.worn && part.worn->worn;
  if (!part.size && !edges) return;
  const Quantity& size = part.size ? part.size->quantity : part.worn->worn->quantity;
  gap(2);
  std::string title = planes_govern(part) ? "Worn disc, from planes" : "Worn disc, inside the lips";
  if (app.session().previewing()) title += ", while you drag";
  heading(title);
  draw_figure(app, size);
  SizeDrawing drawing;
  drawing.size = size;
  drawing.minimum_mm = part.part.minimum_mm;
  if (part.verdict) drawing.state = part.verdict->state;
  const float width = ImGui::GetContentRegionAvail().x;
  draw_size_bar(ImGui::GetWindowDrawList(), ImGui::GetCursorScreenPos(), {width, scaled(64)},
                drawing);
  ImGui::Dummy({width, scaled(68)});
  place_last_item(app, "size_bar");
}

// A sum in words and figures, so that the thickness over the lips is never taken for the worn one.
void draw_worn(App& app, const PartSummary& part) {
  draw_disc_size(app, part);
  if (!part.worn) return;
  const WornThickness& worn = *part.worn;
  gap(2);
  heading(planes_govern(part) ? "By the edges" : "How it comes about");
  if (!ImGui::BeginTable("worn", 2, ImGuiTableFlags_SizingStretchProp)) return;
  const auto row = [](const char* words, const std::optional<Dimension>& size) {
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    ImGui::TextUnformatted(words);
    ImGui::TableNextColumn();
    if (size)
      plain_text(size_with_95(size->quantity));
    else
      ImGui::TextDisabled("photos missing");
  };
  row("over the lips", worn.rim);
  row("less outboard lip", worn.lip_out);
  row("less inboard lip", worn.lip_in);
  row("worn thickness", worn.worn);
  ImGui::EndTable();
  muted_text("The thickness over the lips is not what wears. Never set it against the minimum.");
}

// Several photos of one pad: say so where another one than the one shown decides.
void name_governing_photo(const Session& session, const PartSummary& part) {
  if (!part.governing_photo) return;
  const PhotoFinding& governing = part.photos[*part.governing_photo];
  if (session.photo() && session.photo()->photo.id == governing.photo.id) return;
  muted_text(fmt::format("Another photo of this pad decides: {}, {}.",
                         governing.photo.original_name, size_with_95(governing.size->quantity)));
}

}  // namespace

void draw_verdict_section(App& app) {
  const Session& session = app.session();
  const PartSummary& part = *session.summary();
  draw_headline(app, headline(session, part));
  for (std::size_t i = 0; i < part.because.size(); ++i) {
    if (i == 0)
      wrapped_text(part.because[i]);
    else
      muted_text(part.because[i]);
  }
  for (const std::string& sentence : wear_sentences(part)) muted_text(sentence);
  if (part.verdict && (part.verdict->state == VerdictState::gauge_it ||
                       part.verdict->state == VerdictState::replace))
    caution_line(WorkStage::deciding);
  name_governing_photo(session, part);
  if (session.slot().kind == PartKind::disc) return draw_worn(app, part);
  if (const GoverningSize* size = session.photo_size()) {
    gap(2);
    std::string title = capitalised(dimension_title(size->dimension));
    if (size->at_mm) title += ", thinnest place";
    if (session.previewing()) title += ", while you drag";
    heading(title);
    draw_figure(app, size->quantity);
    draw_drawings(app, size->quantity, part);
  }
}

}  // namespace scantling
