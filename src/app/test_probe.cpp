#include "app/test_probe.h"

#include <imgui.h>
#include <imgui_internal.h>

#include <cmath>
#include <cstdlib>
#include <fstream>
#include <nlohmann/json.hpp>

namespace scantling {

TestProbe::TestProbe() {
  if (const char* file = std::getenv("SCANTLING_PROBE"); file && *file) file_ = file;
}

void TestProbe::begin_frame() {
  rects_.clear();
  texts_.clear();
  ++frame_;
}

namespace {

// A dialog's first frame is not shown: ImGui finds its size in it, and what lies in it may then lie
// elsewhere.
bool hidden() {
  const ImGuiContext* context = ImGui::GetCurrentContext();
  const ImGuiWindow* window = context ? context->CurrentWindow : nullptr;
  return window && window->Hidden && !window->IsFallbackWindow;
}

}  // namespace

void TestProbe::place(const std::string& name, const ScreenRect& rect) {
  if (on() && !hidden()) rects_[name] = rect;
}

void TestProbe::tell(const std::string& name, const std::string& text) {
  if (on()) texts_[name] = text;
}

void TestProbe::end_frame(const nlohmann::ordered_json& state) {
  if (!on()) return;
  nlohmann::ordered_json rects = nlohmann::ordered_json::object();
  for (const auto& [name, rect] : rects_)
    rects[name] = {std::round(rect.x * 100) / 100, std::round(rect.y * 100) / 100,
                   std::round(rect.width * 100) / 100, std::round(rect.height * 100) / 100};
  nlohmann::ordered_json told = {{"rects", std::move(rects)}, {"texts", texts_}, {"state", state}};
  const std::string text = told.dump();
  if (text == written_) return;
  written_ = text;
  told["frame"] = frame_;
  // By rename, so that a reader never sees half a file.
  const std::filesystem::path half = file_.string() + ".new";
  std::ofstream(half) << told.dump(1);
  std::error_code ignored;
  std::filesystem::rename(half, file_, ignored);
}

}  // namespace scantling
