// Takes the readme's pictures of the demo job in the real window. Usage: take_screenshots FOLDER
// [WIDTHxHEIGHT]
#include <cstdio>
#include <exception>

#include "support/temporary_folder.h"
#include "window/window_driver.h"

namespace scantling {
namespace {

using nlohmann::json;

void open_part(WindowDriver& window, const std::string& cell, const char* kind, const char* side,
               const char* place) {
  window.click(cell);
  window.wait_for("the part", [=](const json& now) {
    const json& part = now.at("part");
    return part.at("kind") == kind && part.at("side") == side &&
           (std::string(kind) == "disc" || part.at("place") == place);
  });
  window.wait_until_measured();
}

void show_photo(WindowDriver& window, const std::string& row, const std::string& name) {
  window.click(row);
  window.wait_for("the photo", [&](const json& now) { return now.at("photo").at("name") == name; });
  window.wait_until_measured();
}

/// The demo's planes are solved after its photos, a step at a time.
void wait_until_all_is_done(const WindowDriver& window) {
  for (int patience = 0; patience < 6 && window.rect("status:saved").is_null(); ++patience) {
    try {
      window.wait_for_rect("status:saved");
    } catch (const std::exception&) {
      // Still at work.
    }
  }
  window.wait_for_rect("status:saved");
}

void take_all(const std::filesystem::path& folder, DisplaySize size) {
  const TemporaryFolder home;
  std::filesystem::create_directories(home / "state/scantling");
  home.file("state/scantling/window.json", R"({"person": "Ása"})");
  const VirtualDisplay display(96, size);
  WindowDriver window(display, home.path());
  window.wait_for_rect("button:open_photos");
  window.resize(size);
  window.screenshot(folder / "first-screen.png");

  window.click("button:demo");
  window.wait_until_measured();
  open_part(window, "pad:left_inner", "pad", "left", "inner");
  window.key("Return");  // confirms all edges
  window.wait_for("confirmed edges", [](const json& now) {
    return now.at("edges").at("friction_outer").at("confirmed_by") != "";
  });
  window.click("fold:why");
  window.hover("canvas");
  wait_until_all_is_done(window);
  window.screenshot(folder / "result.png");

  window.drag("edge:friction_outer", 0, -10, false);
  window.wait_for_rect("magnifier");
  window.screenshot(folder / "dragging.png");
  window.let_go();
  window.key("ctrl+z");

  open_part(window, "disc:left", "disc", "left", "");
  show_photo(window, "row:photo:2", "lip_left_outboard_1.jpg");
  window.hover("canvas");
  wait_until_all_is_done(window);
  window.screenshot(folder / "disc.png");

  window.key("m");
  window.wait_for("the axle map", [](const json& now) { return now.at("map") == true; });
  window.hover("verdict");
  window.screenshot(folder / "axle-map.png");
}

}  // namespace
}  // namespace scantling

int main(int argc, char** argv) {
  scantling::DisplaySize size;
  const bool sized =
      argc == 3 && std::sscanf(argv[2], "%dx%d", &size.width_px, &size.height_px) == 2;
  if (argc != 2 && !sized) {
    std::fputs("Usage: take_screenshots FOLDER [WIDTHxHEIGHT]\n", stderr);
    return 2;
  }
  try {
    scantling::take_all(argv[1], size);
  } catch (const std::exception& error) {
    std::fprintf(stderr, "take_screenshots: %s\n", error.what());
    return 1;
  }
  return 0;
}
