// The camera page: photos of the ground sheet, how much of the lens they reach, and what is
// missing.
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>

#include "app/app.h"
#include "app/fonts.h"
#include "app/panels.h"
#include "app/theme.h"
#include "app/widgets.h"

namespace scantling {

namespace {

ImVec2 point(ScreenPoint p) {
  return {static_cast<float>(p.x), static_cast<float>(p.y)};
}

void draw_text(ImDrawList* draw, ImVec2 at, const std::string& text, bool centred) {
  ImFont* font = fonts().small;
  if (centred) at.x -= font->CalcTextSizeA(font->FontSize, 1e6f, 0, text.c_str()).x / 2;
  draw->AddText(font, font->FontSize, at, theme().text, text.c_str());
}

/// The picture's area in cells: filled where corners were seen, crossed out where none were.
void draw_reach(App& app, const CalibrationCoverage& coverage, float width) {
  if (coverage.columns == 0) return;
  const float cell = std::min(width / static_cast<float>(coverage.columns),
                              scaled(150) / static_cast<float>(coverage.rows));
  const ImVec2 from = ImGui::GetCursorScreenPos();
  const ImVec2 size(cell * static_cast<float>(coverage.columns),
                    cell * static_cast<float>(coverage.rows));
  ImDrawList* draw = ImGui::GetWindowDrawList();
  for (int row = 0; row < coverage.rows; ++row)
    for (int column = 0; column < coverage.columns; ++column) {
      const ImVec2 a(from.x + cell * static_cast<float>(column) + 1,
                     from.y + cell * static_cast<float>(row) + 1);
      const ImVec2 b(a.x + cell - 2, a.y + cell - 2);
      if (coverage.reached(column, row)) {
        draw->AddRectFilled(a, b, theme().accent);
      } else {
        draw->AddRect(a, b, theme().line);
        draw->AddLine(a, b, theme().line);
      }
    }
  draw->AddRect(from, {from.x + size.x, from.y + size.y}, theme().text);
  ImGui::Dummy(size);
  place_last_item(app, "camera:reach");
}

/// From which sides photos were taken: four bars from the middle, with a mark at what is wanted.
void draw_slants(App& app, const CalibrationCoverage& coverage) {
  const float reach = scaled(42), thick = scaled(7), full_deg = 45;
  const ImVec2 from = ImGui::GetCursorScreenPos();
  const ImVec2 size(scaled(168), 2 * reach + scaled(44));
  const ImVec2 middle(from.x + size.x / 2, from.y + size.y / 2);
  ImDrawList* draw = ImGui::GetWindowDrawList();
  struct Way {
    const char* word;
    float x, y;
    double deg;
  };
  const Way ways[] = {{"left", -1, 0, coverage.left_deg},
                      {"right", 1, 0, coverage.right_deg},
                      {"far", 0, -1, coverage.far_deg},
                      {"near", 0, 1, coverage.near_deg}};
  for (const Way& way : ways) {
    const auto at = [&](double deg, float side) {
      const float along = reach * static_cast<float>(std::clamp(deg / full_deg, 0.0, 1.0));
      return ImVec2(middle.x + way.x * along + way.y * side,
                    middle.y + way.y * along + way.x * side);
    };
    draw->AddLine(middle, at(full_deg, 0), theme().line, scaled(1));
    draw->AddLine(middle, at(way.deg, 0), theme().accent, thick);
    draw->AddLine(at(kWantedSlant_deg, -thick), at(kWantedSlant_deg, thick), theme().text,
                  scaled(2));
    const ImVec2 end = at(full_deg, 0);
    // Beside the ends up and down; over the ends left and right, where there is less room.
    draw_text(draw,
              {end.x + way.x * scaled(4),
               end.y - scaled(7) + way.y * scaled(13) - std::abs(way.x) * scaled(13)},
              fmt::format("{} {:.0f}°", way.word, way.deg), true);
  }
  ImGui::Dummy(size);
  place_last_item(app, "camera:slants");
}

void draw_photo_list(App& app, const CalibrationProgress& progress) {
  if (ImGui::BeginTable("photos", 3, ImGuiTableFlags_RowBg | ImGuiTableFlags_BordersInnerH)) {
    ImGui::TableSetupColumn("Photo", ImGuiTableColumnFlags_WidthStretch, 2);
    ImGui::TableSetupColumn("What it gives", ImGuiTableColumnFlags_WidthStretch, 4);
    ImGui::TableSetupColumn("", ImGuiTableColumnFlags_WidthFixed, scaled(70));
    ImGui::TableHeadersRow();
    std::optional<std::size_t> removed;
    for (std::size_t i = 0; i < progress.photos.size(); ++i) {
      const CalibrationPhotoState& photo = progress.photos[i];
      ImGui::TableNextRow();
      ImGui::TableNextColumn();
      wrapped_text(photo.name);
      ImGui::TableNextColumn();
      if (photo.used)
        wrapped_text(
            photo.residual_px > 0
                ? fmt::format("Used: {} corners, {:.0f} degrees, within {:.2f} px", photo.corners,
                              photo.slant_deg, photo.residual_px)
                : fmt::format("Used: {} corners, {:.0f} degrees", photo.corners, photo.slant_deg));
      else
        wrapped_text("Left out. " + photo.why);
      ImGui::TableNextColumn();
      ImGui::PushID(static_cast<int>(i));
      if (small_button(app, "Remove", "camera_remove" + std::to_string(i + 1))) removed = i;
      ImGui::PopID();
    }
    ImGui::EndTable();
    if (removed) app.remove_camera_photo(*removed);
  }
}

void draw_end(App& app, const CalibrationProgress& progress) {
  // More than are wanted do no harm and are not a fraction of them.
  heading(progress.used < kWantedPhotos
              ? fmt::format("{} of {} photos", progress.used, kWantedPhotos)
              : fmt::format("{} photos", progress.used));
  ImGui::ProgressBar(
      std::min(1.0f, static_cast<float>(progress.used) / static_cast<float>(kWantedPhotos)),
      {-1, scaled(8)}, "");
  gap(4);
  for (const std::string& text : progress.missing) {
    ImGui::Bullet();
    wrapped_text(text);
  }
  for (const Check& check : progress.checks) wrapped_text("Note: " + check.message);
  if (progress.profile) {
    const CameraProfile& p = *progress.profile;
    const auto u = p.standard_deviations();
    muted_text(
        fmt::format("{}: focal length {:.1f} ± {:.1f} px, centre {:.0f}, {:.0f} ± {:.1f} px, "
                    "residual {:.2f} px",
                    p.camera.words(), p.model.focal_px, 2 * u[0], p.model.centre_x_px,
                    p.model.centre_y_px, 2 * std::max(u[1], u[2]), p.residual_px));
  }
  gap(4);
  if (progress.accepted && app.camera_page().saved_as().empty()) {
    wrapped_text("Enough: the profile is sure.");
    if (wide_button(app, "Keep this profile", "camera_save", scaled(170), true))
      app.save_camera_profile();
  } else if (!app.camera_page().saved_as().empty()) {
    wrapped_text("Kept as " + app.camera_page().saved_as().string() + ".");
  }
}

}  // namespace

void draw_camera_page(App& app, const ScreenRect& area) {
  ImGui::SetNextWindowPos(point({area.x, area.y}));
  ImGui::SetNextWindowSize(point({area.width, area.height}));
  constexpr ImGuiWindowFlags kFlags = ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize |
                                      ImGuiWindowFlags_NoMove |
                                      ImGuiWindowFlags_NoBringToFrontOnFocus;
  if (ImGui::Begin("##camera", nullptr, kFlags)) {
    const CalibrationProgress& progress = app.camera_page().progress();
    ImGui::PushFont(fonts().large);
    ImGui::TextUnformatted("Your phone's camera");
    ImGui::PopFont();
    wrapped_text(
        "Tape the printed ground sheet flat on a board or the floor. Photograph it from all sides, "
        "slantwise by 15 to 40 degrees, some with the phone turned a quarter, as near as you "
        "measure. Over all photos, let the sheet reach every edge and corner of the picture.");
    gap(4);
    if (wide_button(app, "Add photos…", "camera_add", scaled(150), !progress.accepted))
      app.ask_for_camera_photos();
    ImGui::SameLine();
    if (wide_button(app, "Start again", "camera_clear", scaled(120), false))
      app.clear_camera_photos();
    ImGui::SameLine();
    if (wide_button(app, "Back", "camera_back", scaled(100), false)) app.camera_page().hide();
    gap(6);
    const float list_width = ImGui::GetContentRegionAvail().x - scaled(400);
    ImGui::BeginChild("list", {list_width, 0});
    draw_photo_list(app, progress);
    if (progress.photos.empty()) muted_text("Or drop the photos anywhere on this window.");
    ImGui::EndChild();
    ImGui::SameLine(0, scaled(20));
    ImGui::BeginChild("state", {0, 0});
    draw_end(app, progress);
    gap(6);
    // Side by side, so that both are in sight below a long list of what is missing.
    if (progress.coverage.columns > 0) {
      draw_reach(app, progress.coverage, scaled(200));
      ImGui::SameLine(0, scaled(8));
    }
    draw_slants(app, progress.coverage);
    if (progress.coverage.columns > 0)
      wrapped_text(fmt::format("Corners reach {:.0f}% of the picture, {:.0f}% are wanted.",
                               100 * progress.coverage.picture_share, 100 * kWantedShare));
    muted_text("Beside it the photos' slant to each side; the marks show 15 degrees.");
    ImGui::EndChild();
  }
  ImGui::End();
}

}  // namespace scantling
