#pragma once

#include <filesystem>
#include <functional>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "window/virtual_display.h"

namespace scantling {

/// The real program in its real window, driven by mouse and keyboard. Where things lie and how the
/// job stands comes from the program's probe, so nothing is guessed and nothing waits for a time.
class WindowDriver {
 public:
  /// `home`: a folder for the record, the settings and the logs; given again, the program finds
  /// what it left there. @throws std::runtime_error when the window does not come up.
  WindowDriver(const VirtualDisplay& display, std::filesystem::path home,
               std::vector<std::string> arguments = {}, std::vector<std::string> environment = {});

  /// The state the program last told of: {"screen": ..., "job": ..., "edges": ...}.
  nlohmann::json state() const;
  nlohmann::json rect(const std::string& name) const;  ///< [x, y, width, height] or null
  std::string text(const std::string& name) const;     ///< of a field

  using Condition = std::function<bool(const nlohmann::json& state)>;
  /// Waits until the state is so. @throws std::runtime_error, with `what` and the state, after a
  /// minute: a loaded machine draws slowly.
  nlohmann::json wait_for(const std::string& what, const Condition& condition) const;
  void wait_for_rect(const std::string& name) const;
  void wait_until_measured() const;

  void click(const std::string& name) const;
  /// Clicks until the state is so: a loaded machine may show a thing before it takes clicks.
  void click_until(const std::string& name, const Condition& condition) const;
  /// Turns the wheel over one thing until the whole of another one lies in the window.
  void scroll_to(const std::string& name, const std::string& over) const;
  void hover(const std::string& name) const;
  /// Presses on a thing, moves by (dx, dy) in small steps and lets go, unless told to hold.
  void drag(const std::string& name, int dx, int dy, bool let_go = true) const;
  void let_go() const;
  void wheel(const std::string& name, int clicks, bool up) const;
  void key(const std::string& keys) const;  ///< "ctrl+z"
  void type(const std::string& text) const;
  /// Presses Tab, or Shift+Tab, until the keys stand on a thing.
  void tab_to(const std::string& name, bool back = false) const;
  /// What stands in the field in hand becomes this.
  void replace(const std::string& text) const;
  /// Clicks a text field, empties it, types into it and leaves it: by Enter, in a dialog by Tab.
  void fill(const std::string& field, const std::string& text) const;

  void resize(DisplaySize size) const;  ///< of the window
  void screenshot(const std::filesystem::path& png) const;
  /// Quits by the keyboard; the program's exit status.
  int quit();
  void kill_now() { program_.kill_now(); }
  /// What is done by mouse and keyboard while the program stands still: one long frame for it.
  void in_one_frame(const std::function<void()>& done);
  const std::string& display() const { return display_->name(); }
  std::filesystem::path home() const { return home_; }
  std::filesystem::path record() const { return home_ / "record.sqlite"; }

 private:
  nlohmann::json told() const;
  /// Where a thing lies once it lies still: a few frames have drawn it there, or none is drawn any
  /// more. What has just appeared, scrolled or been undone may still move.
  nlohmann::json steady_rect(const std::string& name) const;
  std::pair<int, int> middle_of(const std::string& name) const;
  [[noreturn]] void give_up(const std::string& what) const;
  void xdotool(std::vector<std::string> arguments) const;

  const VirtualDisplay* display_;
  mutable int bottom_px_ = 770;  ///< above the status line
  std::filesystem::path home_;
  ChildProcess program_;
};

/// A photo of a pad with the card that comes with the program.
std::filesystem::path demo_photo(std::size_t which = 0);

}  // namespace scantling
