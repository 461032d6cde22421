// Takes the readme's pictures of the demo job in the real window. Usage: take_screenshots FOLDER
#include <cstdio>
#include <exception>

#include "support/temporary_folder.h"
#include "window/window_driver.h"

namespace scantling {
namespace {

using nlohmann::json;

void take_all(const std::filesystem::path& folder) {
  const TemporaryFolder home;
  const VirtualDisplay display;
  WindowDriver window(display, home.path());
  window.wait_for_rect("button:open_photos");
  window.screenshot(folder / "first-screen.png");

  window.click("button:demo");
  window.wait_until_measured();
  window.click("pad:left_inner");
  window.wait_for("the pad", [](const json& now) {
    return now.at("part").at("side") == "left" && now.at("part").at("place") == "inner";
  });
  window.wait_until_measured();
  window.key("Return");  // confirms all edges
  window.wait_for("confirmed edges", [](const json& now) {
    return now.at("edges").at("friction_outer").at("confirmed_by") != "";
  });
  window.click("fold:why");
  window.hover("canvas");
  window.screenshot(folder / "result.png");

  window.drag("edge:friction_outer", 0, -10, false);
  window.wait_for_rect("magnifier");
  window.screenshot(folder / "dragging.png");
  window.let_go();
}

}  // namespace
}  // namespace scantling

int main(int argc, char** argv) {
  if (argc != 2) {
    std::fputs("Usage: take_screenshots FOLDER\n", stderr);
    return 2;
  }
  try {
    scantling::take_all(argv[1]);
  } catch (const std::exception& error) {
    std::fprintf(stderr, "take_screenshots: %s\n", error.what());
    return 1;
  }
  return 0;
}
