#pragma once

#include <imgui.h>

#include <string>

#include "app/view_transform.h"
#include "verdict/cautions.h"

namespace scantling {

class App;

// Small building blocks of the panels. `name` is what the test probe calls a thing.

void heading(const std::string& text);
void muted_text(const std::string& text);  ///< wrapped, second rank
/// The line of caution for a stage of the work, in the second rank.
void caution_line(WorkStage stage);
void muted_line(const std::string& text);  ///< the same, not wrapped
void wrapped_text(const std::string& text);
void text_as_written(const std::string& text);  ///< wrapped; about a field that stays in mm
void plain_text(const std::string& text);       ///< one line; figures as the user wants them
void centred_text(ImDrawList* draw, const ScreenRect& area, const std::string& text, ImU32 colour);
void gap(float height);
/// The next thing, this wide, stands beside the last one where there is room, else below it.
void beside_if_it_fits(float width);
/// A heading that opens and closes what follows; true while it is open.
bool fold(App& app, const char* label, const std::string& name, bool open_at_first);

bool small_button(App& app, const char* label, const std::string& name, const char* tip = nullptr);
/// `main`: the one button of its place that most users want.
bool wide_button(App& app, const char* label, const std::string& name, float width, bool main);
/// A dialog in the window's middle, as large as what it holds; as ImGui::BeginPopupModal.
bool begin_dialog(App& app, const char* title);
/// The button of a dialog that Enter presses, also from a field.
bool default_button(App& app, const char* label, const std::string& name, float width);
/// A place that acts as a button; what it looks like is drawn over it.
bool bare_button(App& app, const std::string& name, ImVec2 size);
/// A place for the mouse alone: the keys have other ways there.
bool mouse_area(const char* id, ImVec2 size, ImGuiButtonFlags flags = 0);
/// A text field; true once its content was changed and left (or Enter pressed).
bool text_field(App& app, const std::string& name, const char* hint, std::string& text,
                float width);
/// A box to tick, outlined so that it shows while it is empty; true when it was clicked.
bool check_box(App& app, const std::string& label, const std::string& name, bool& value);
void place_last_item(App& app, const std::string& name);
void tip_for_last_item(const char* text);

}  // namespace scantling
