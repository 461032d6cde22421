#pragma once

#include <deque>
#include <optional>

struct GLFWwindow;

namespace scantling {

/// What a key asks for. Arrow keys carry a direction and a step in photo pixels.
enum class KeyAction {
  new_job,
  open_photos,
  save,
  undo,
  redo,
  report,
  quit,
  help,
  next_edge,
  previous_edge,
  confirm,
  nudge,
  zoom_in,
  zoom_out,
  zoom_fit,
  zoom_actual,
  zoom_part,
  remove_photo,
  brighten,
  darken,
  turn_right,
  turn_left,
  light,
  ruler,
  compare,
  guide,
  toggle_rivals,
  next_panel,  ///< the keys go to the next panel, after the last one back to the photo
  previous_panel,
  menu_bar,
  next_photo,  ///< of the same part
  previous_photo,
  axle_map,
  planes,
  work,
  sorting,
  next_to_confirm,
  history,
  settings,
  copy_result,
  escape  ///< stays the last
};

struct KeyCommand {
  KeyAction action = KeyAction::escape;
  double towards_x = 0;  ///< nudge only
  double towards_y = 0;
  double step_px = 0;
  bool typing = false;  ///< pressed in a text field, which sees the key as well
};

/// What a key press with these GLFW modifiers means; `letter` is the key's own letter in the user's
/// keyboard layout, or 0. Nothing when it means nothing here.
std::optional<KeyCommand> key_command(int key, char letter, int modifiers);

/// Whether a key that is held down goes on doing it. The others wait to be pressed again: held down
/// too long, Enter must not confirm one photo after the other.
bool repeats(KeyAction action);
/// Whether a key is more than a character to a text field, so that the window acts on it too.
bool leaves_a_field(KeyAction action);

/// Keys as commands, in the order pressed. ImGui 1.86 polls its keys and loses a press and release
/// within one frame; GLFW's callback loses none.
class KeyQueue {
 public:
  /// How a key came: while somebody types, most are no commands, and of those held down few go on.
  struct Press {
    bool typing = false;
    bool held = false;
  };
  /// Returns the command that the key was, if it was one.
  std::optional<KeyCommand> press(int key, int scancode, int modifiers, Press how);
  std::optional<KeyCommand> press(int key, int scancode, int modifiers) {
    return press(key, scancode, modifiers, Press{});
  }
  std::optional<KeyCommand> next();

 private:
  std::deque<KeyCommand> commands_;
};

}  // namespace scantling
