#include "app/run_app.h"

#include <cstdio>

#include "app/app.h"
#include "app/fonts.h"
#include "app/frame_log.h"
#include "app/theme.h"
#include "app/trouble_page.h"
#include "record/record_error.h"

namespace scantling {

namespace {

constexpr double kIdleWait_s = 0.5;  ///< a text cursor blinks; nothing else changes by itself

void restyle(Window& window, const Settings& settings, bool fonts_too) {
  const float scale = window.content_scale() * static_cast<float>(settings.text_percent) / 100.0f;
  apply_theme(settings.light_theme, scale);
  if (fonts_too) load_fonts(scale);
}

void run_session(const AppOptions& options, Window& window, const Settings& settings) {
  App app(options, window, settings);
  FrameLog log;
  int text_percent = settings.text_percent;
  while (!window.wants_to_close() || !app.finished()) {
    window.wait(kIdleWait_s);
    const bool resized = app.settings().text_percent != text_percent;
    text_percent = app.settings().text_percent;
    if (window.take_scale_change() || resized) {
      restyle(window, app.settings(), true);
      window.renew_fonts();
    } else if (app.take_restyle()) {
      restyle(window, app.settings(), false);
    }
    log.begin();
    window.begin_frame();
    app.frame();
    window.end_frame();
    log.end();
  }
}

/// The record cannot be opened: shows why until the user has chosen. False to end.
bool ask_for_a_way(AppOptions& wanted, Window& window, const std::string& sentence, bool damaged) {
  TroublePage page(wanted.record, sentence, damaged);
  while (!window.wants_to_close()) {
    window.wait(kIdleWait_s);
    window.begin_frame();
    const TroublePage::Way way = page.draw(window);
    window.end_frame();
    if (way == TroublePage::Way::quit) return false;
    if (way == TroublePage::Way::open) {
      wanted.record = page.record();
      return true;
    }
  }
  return false;
}

}  // namespace

int run_app(const AppOptions& options) {
  Settings settings = load_settings(settings_path());
  std::string reason;
  const std::unique_ptr<Window> window =
      Window::open({settings.window_width, settings.window_height}, reason);
  if (!window) {
    std::fprintf(stderr,
                 "scantling: no window can be opened here (%s). Start it on a desktop, or use a "
                 "subcommand: scantling --help lists them.\n",
                 reason.c_str());
    return 1;
  }
  restyle(*window, settings, true);
  AppOptions wanted = options;
  if (wanted.record.empty()) wanted.record = Record::default_path();
  while (!window->wants_to_close()) {
    try {
      run_session(wanted, *window, settings);
    } catch (const RecordError& error) {
      std::fprintf(stderr, "scantling: %s\n", error.what());
      const bool damaged = dynamic_cast<const DamagedRecord*>(&error) != nullptr;
      if (!ask_for_a_way(wanted, *window, error.what(), damaged)) return 1;
      settings = load_settings(settings_path());
    }
  }
  return 0;
}

}  // namespace scantling
