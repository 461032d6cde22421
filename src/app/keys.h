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
  switch_side,
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
};

/// What a key press with these GLFW modifiers means; `letter` is the key's own letter in the user's
/// keyboard layout, or 0. Nothing when it means nothing here.
std::optional<KeyCommand> key_command(int key, char letter, int modifiers);

/// Keys as commands, in the order pressed. ImGui 1.86 polls its keys and loses a press and release
/// within one frame; GLFW's callback loses none.
class KeyQueue {
 public:
  void press(int key, int scancode, int modifiers);
  std::optional<KeyCommand> next();

 private:
  std::deque<KeyCommand> commands_;
};

}  // namespace scantling
