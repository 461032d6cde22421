// The sorting page: a row for each photo with what it shows and where it goes; the row in hand is
// shown larger beside the list (panel_sorting_photo.cpp).
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>

#include "app/app.h"
#include "app/edge_overlay.h"
#include "app/fonts.h"
#include "app/panels.h"
#include "app/theme.h"
#include "app/widgets.h"
#include "app/words.h"
#include "sorting/sorting_words.h"
#include "sorting/taken_time.h"

namespace scantling {

namespace {

constexpr float kPhotoWidth = 404;
constexpr float kLeastForBoth = 900;  ///< below this the row in hand lies under the list
constexpr float kLeastUnder = 150, kMostUnder = 330;
constexpr float kRowHeight = 66;

constexpr ImGuiWindowFlags kPanel = ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize |
                                    ImGuiWindowFlags_NoMove |
                                    ImGuiWindowFlags_NoBringToFrontOnFocus;

std::string count_words(std::size_t count, const char* one, const char* many) {
  return fmt::format("{} {}", count, count == 1 ? one : many);
}

std::string standing_words(App& app, const SortingPage::Outcome& outcome) {
  const SortingPage& page = app.sorting_page();
  if (!page.complete())
    return fmt::format("Looked at {} of {} photos.", page.seen(), page.rows().size());
  std::string words;
  if (!outcome.files.empty())
    words = fmt::format("{} of {}. ", count_words(outcome.files.size(), "photo", "photos"),
                        count_words(outcome.parts, "part", "parts"));
  if (!outcome.camera.empty())
    words += fmt::format("{} of the bare sheet, for your phone's camera. ", outcome.camera.size());
  if (outcome.left_out > 0) words += fmt::format("{} left out. ", outcome.left_out);
  if (outcome.look > 0)
    words += fmt::format("{} less sure: please look (Tab).",
                         count_words(outcome.look, "place is", "places are"));
  return words;
}

/// A word in a thin frame at the right end of `at`; moves `at` to its left end.
void draw_tag(ImDrawList* draw, ImVec2& at, const std::string& word, bool strong) {
  ImFont* font = fonts().small;
  const ImVec2 size = font->CalcTextSizeA(font->FontSize, 1e6f, 0, word.c_str());
  const ImVec2 from(at.x - size.x - scaled(12), at.y);
  const ImVec2 to(at.x, at.y + size.y + scaled(4));
  if (strong)
    draw->AddRectFilled(from, to, theme().accent, scaled(3));
  else
    draw->AddRect(from, to, theme().muted, scaled(3), 0, scaled(1));
  draw->AddText(font, font->FontSize, {from.x + scaled(6), from.y + scaled(2)},
                strong ? theme().on_accent : theme().text, word.c_str());
  at.x = from.x - scaled(6);
}

std::string tag_of(const SortingRow& row) {
  if (!row.seen) return {};
  if (row.proposal.filed_already) return "filed already";
  if (row.proposal.repeats) return "double";
  if (any_stop(row.sight.checks)) return "gives no size";
  if (row.chosen()) return "your choice";
  return {};
}

/// A line of text, cut where the room ends.
void draw_line(ImDrawList* draw, ImFont* font, ImVec2 at, float room, ImU32 colour,
               const std::string& text) {
  const ImVec4 clip(at.x, at.y - scaled(2), at.x + room, at.y + font->FontSize + scaled(4));
  draw->AddText(font, font->FontSize, at, colour, text.c_str(), nullptr, 0, &clip);
}

void draw_row(App& app, std::size_t index, const SortingRow& row) {
  SortingPage& page = app.sorting_page();
  const bool in_hand = page.selected() == index;
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  const float height = scaled(kRowHeight);
  if (bare_button(app, fmt::format("sorting_row:{}", index + 1), {width, height}))
    page.select(index);
  const bool hovered = ImGui::IsItemHovered();
  ImDrawList* draw = ImGui::GetWindowDrawList();
  const ImVec2 end(at.x + width, at.y + height);
  if (in_hand || hovered)
    draw->AddRectFilled(at, end, in_hand ? theme().raised : with_alpha(theme().raised, 0.5f),
                        scaled(4));
  if (in_hand) draw->AddRectFilled(at, {at.x + scaled(4), end.y}, theme().accent, scaled(2));

  const ImVec2 picture(at.x + scaled(12), at.y + scaled(5));
  const ImVec2 corner(picture.x + scaled(75), end.y - scaled(5));
  if (!app.thumbnails().draw(draw, row.id, picture, corner))
    draw->AddRect(picture, corner, theme().line, scaled(2));

  // Left out rows step back; the words stay readable.
  const bool aside = row.seen && row.proposal.place.goes == PhotoPlace::Goes::aside;
  const ImU32 ink = aside || !row.seen ? theme().muted : theme().text;
  const float names = corner.x + scaled(12);
  const float places = at.x + width * 0.46f;
  const float first = at.y + scaled(11), second = at.y + scaled(34);
  draw_line(draw, fonts().body, {names, first}, places - names - scaled(10), ink,
            row.sight.file.filename().string());
  const std::string clock = clock_words(row.sight.taken_at);
  const std::string shows = !row.seen ? "Waits to be looked at" : row.sight.why;
  draw_line(draw, fonts().small, {names, second}, places - names - scaled(10), theme().muted,
            clock.empty() ? shows : clock + "   " + shows);
  if (!row.seen) return;

  ImVec2 tags(end.x - scaled(10), at.y + scaled(10));
  if (row.look()) draw_tag(draw, tags, "look", true);
  if (const std::string tag = tag_of(row); !tag.empty()) draw_tag(draw, tags, tag, false);
  draw_line(draw, aside ? fonts().body : fonts().strong, {places, first}, tags.x - places, ink,
            place_words(row.proposal.place));
  draw_line(draw, fonts().small, {places, second}, end.x - places - scaled(10), theme().muted,
            row.proposal.why);
}

/// The heading of a group of photos that were taken one soon after the other.
void draw_group(const std::vector<SortingRow>& rows, std::size_t from) {
  std::size_t to = from;
  while (to + 1 < rows.size() && rows[to + 1].proposal.time_group == rows[from].proposal.time_group)
    ++to;
  std::string words = clock_words(rows[from].sight.taken_at);
  if (words.empty()) {
    words = rows[from].seen ? "No time in the file" : "";
  } else {
    words = words.substr(0, 5);
    if (const std::string last = clock_words(rows[to].sight.taken_at).substr(0, 5); last != words)
      words += " to " + last;
  }
  gap(from == 0 ? 0.0f : 4.0f);
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  const float middle = at.y + fonts().small->FontSize / 2;
  const float text =
      fonts().small->CalcTextSizeA(fonts().small->FontSize, 1e6f, 0, words.c_str()).x;
  ImGui::GetWindowDrawList()->AddLine({at.x + text + scaled(10), middle}, {at.x + width, middle},
                                      theme().line, scaled(1));
  muted_text(words);
}

void draw_rows(App& app) {
  SortingPage& page = app.sorting_page();
  const bool scroll = page.take_scroll();
  const std::vector<SortingRow>& rows = page.rows();
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {0, scaled(2)});
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (i == 0 || rows[i].proposal.time_group != rows[i - 1].proposal.time_group)
      draw_group(rows, i);
    if (scroll && i == page.selected()) ImGui::SetScrollHereY(0.4f);
    draw_row(app, i, rows[i]);
  }
  ImGui::PopStyleVar();
}

void draw_progress(App& app) {
  SortingPage& page = app.sorting_page();
  if (page.complete() || page.empty()) return;
  const float share = static_cast<float>(page.seen()) / static_cast<float>(page.rows().size());
  const float width = ImGui::GetContentRegionAvail().x;
  gap(2);
  const float top = ImGui::GetCursorPosY();
  ImGui::SetCursorPosY(top + (ImGui::GetFrameHeight() - scaled(8)) / 2);
  ImGui::ProgressBar(share, {width - scaled(90), scaled(8)}, "");
  ImGui::SameLine();
  ImGui::SetCursorPosY(top);
  if (app.looking()) {
    if (small_button(app, "Stop", "sorting_stop", "Those looked at so far can be filed"))
      app.stop_batch();
  } else if (small_button(app, "Go on", "sorting_go_on")) {
    app.go_on_looking();
  }
}

void draw_head(App& app, const SortingPage::Outcome& outcome) {
  SortingPage& page = app.sorting_page();
  ImGui::PushFont(fonts().large);
  ImGui::TextUnformatted("Sort photos");
  ImGui::PopFont();
  wrapped_text(page.empty() ? "Drop a heap of photos, or a folder of them, on this window: each is "
                              "looked at and given a place, which you can change."
                            : standing_words(app, outcome));
  gap(2);
  const std::size_t count = outcome.files.size() + outcome.camera.size();
  const std::string file =
      app.filing() ? "Filing…" : fmt::format("File {}", count_words(count, "photo", "photos"));
  if (!page.empty()) {
    ImGui::BeginDisabled(app.filing() || count == 0);
    if (wide_button(app, file.c_str(), "sorting_file", scaled(160), true)) app.file_sorted();
    ImGui::EndDisabled();
    tip_for_last_item("Enter. One Ctrl+Z takes it back");
    ImGui::SameLine();
  }
  if (wide_button(app, "Add photos…", "sorting_add", scaled(130), page.empty())) app.ask_for_heap();
  ImGui::SameLine();
  if (wide_button(app, "Back", "sorting_back", scaled(80), false)) app.show_sorting(false);
  tip_for_last_item("The photos wait here (S brings them back)");
  if (!page.empty()) {
    ImGui::SameLine();
    if (wide_button(app, "Empty the list", "sorting_clear", scaled(130), false))
      app.clear_sorting();
    tip_for_last_item("The photos stay where they are");
  }
  draw_progress(app);
  gap(4);
}

}  // namespace

void draw_sorting_page(App& app, const ScreenRect& area) {
  const SortingPage::Outcome outcome = app.sorting_page().outcome();
  const auto width = static_cast<float>(area.width);
  const auto height = static_cast<float>(area.height);
  const bool any = !app.sorting_page().empty();
  const bool beside = any && width >= scaled(kLeastForBoth);
  const float right = beside ? scaled(kPhotoWidth) : 0;
  const float under =
      any && !beside ? std::clamp(0.46f * height, scaled(kLeastUnder), scaled(kMostUnder)) : 0;
  ImGui::SetNextWindowPos(vec({area.x, area.y}));
  ImGui::SetNextWindowSize({width - right, height - under});
  if (ImGui::Begin("##sorting", nullptr, kPanel)) {
    draw_head(app, outcome);
    ImGui::BeginChild("rows");
    draw_rows(app);
    ImGui::EndChild();
  }
  ImGui::End();
  if (beside) draw_sorting_photo(app, {width - right, area.y, right, area.height});
  if (under > 0) draw_sorting_photo(app, {0, area.y + height - under, width, under});
}

}  // namespace scantling
