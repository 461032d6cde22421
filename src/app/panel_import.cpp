// A job file that says otherwise than the record: what differs, and whose word counts.
#include <fmt/format.h>
#include <imgui.h>

#include "app/app.h"
#include "app/panels.h"
#include "app/theme.h"
#include "app/widgets.h"

namespace scantling {

namespace {

constexpr const char* kTitle = "The record and the file differ";

void draw_conflicts(const std::vector<ImportConflict>& conflicts) {
  if (!ImGui::BeginTable("conflicts", 3, ImGuiTableFlags_RowBg | ImGuiTableFlags_BordersInnerH,
                         {scaled(620), 0}))
    return;
  ImGui::TableSetupColumn("", ImGuiTableColumnFlags_WidthFixed, scaled(220));
  for (const char* head : {"in the record", "in the file"})
    ImGui::TableSetupColumn(head, ImGuiTableColumnFlags_WidthFixed, scaled(190));
  ImGui::TableHeadersRow();
  for (const ImportConflict& conflict : conflicts) {
    ImGui::TableNextRow();
    for (const std::string& text : {conflict.what, conflict.mine, conflict.theirs}) {
      ImGui::TableNextColumn();
      wrapped_text(text.empty() ? "nothing" : text);
    }
  }
  ImGui::EndTable();
}

struct Way {
  const char* label;
  const char* name;
  ImportChoice choice;
  const char* means;
};
constexpr Way kWays[] = {
    {"Keep both", "import_both", ImportChoice::both,
     "The file's job comes in beside what is there, with a car of its own."},
    {"Take the file's", "import_theirs", ImportChoice::theirs,
     "The file's word counts. A job that is there already is hidden in its favour; undo brings it "
     "back."},
    {"Keep mine", "import_mine", ImportChoice::mine,
     "The record's word counts. A job that is there already stays, and the file's is left out."},
};

}  // namespace

void draw_import_dialog(App& app) {
  ImportForm& form = app.forms().import;
  if (form.asked) {
    ImGui::OpenPopup(kTitle);
    form.asked = false;
  }
  if (!begin_dialog(app, kTitle)) return;
  muted_text(form.file + ". Nothing has been taken in yet.");
  gap(4);
  draw_conflicts(form.conflicts);
  gap(6);
  const auto end = [&] {
    form = {};
    ImGui::CloseCurrentPopup();
  };
  for (const Way& way : kWays) {
    const bool chosen = way.choice == ImportChoice::both
                            ? default_button(app, way.label, way.name, scaled(150))
                            : wide_button(app, way.label, way.name, scaled(150), false);
    ImGui::SameLine(scaled(176));
    ImGui::PushTextWrapPos(scaled(620));
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(way.means);
    ImGui::PopTextWrapPos();
    if (!chosen) continue;
    app.take_in(form.file, form.import, way.choice);
    end();
    return ImGui::EndPopup();
  }
  gap(4);
  if (wide_button(app, "Cancel", "import_cancel", scaled(150), false) || app.take_escape()) end();
  ImGui::EndPopup();
}

}  // namespace scantling
