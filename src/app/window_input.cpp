#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>
#include <backends/imgui_impl_glfw.h>
#include <imgui.h>

#include <algorithm>
#include <set>

#include "app/window.h"

// Keyboard and pointer, told to ImGui frame by frame in the order in which they came.

namespace scantling {

namespace {

/// Keys that change a text field without typing a character.
bool edits_text(int key) {
  switch (key) {
    case GLFW_KEY_BACKSPACE:
    case GLFW_KEY_DELETE:
    case GLFW_KEY_ENTER:
    case GLFW_KEY_KP_ENTER:
    case GLFW_KEY_TAB:
    case GLFW_KEY_ESCAPE:
    case GLFW_KEY_LEFT:
    case GLFW_KEY_RIGHT:
    case GLFW_KEY_UP:
    case GLFW_KEY_DOWN:
    case GLFW_KEY_HOME:
    case GLFW_KEY_END:
      return true;
    default:
      return false;
  }
}

/// Keys that say what another key means.
bool is_modifier(int key) {
  switch (key) {
    case GLFW_KEY_LEFT_CONTROL:
    case GLFW_KEY_RIGHT_CONTROL:
    case GLFW_KEY_LEFT_SHIFT:
    case GLFW_KEY_RIGHT_SHIFT:
    case GLFW_KEY_LEFT_ALT:
    case GLFW_KEY_RIGHT_ALT:
    case GLFW_KEY_LEFT_SUPER:
    case GLFW_KEY_RIGHT_SUPER:
      return true;
    default:
      return false;
  }
}

// ImGui goes on wanting text for a frame after a field was left: a key then is a command.
bool is_typing() {
  return ImGui::GetIO().WantTextInput && ImGui::IsAnyItemActive();
}

bool is_navigating() {
  return (ImGui::GetIO().ConfigFlags & ImGuiConfigFlags_NavEnableKeyboard) != 0;
}

}  // namespace

// Of several moves in a row only the last one counts.
void Window::queue(const Input& input) {
  const bool moved = input.what == Input::What::moved;
  if (moved && !inputs_.empty() && inputs_.back().what == Input::What::moved)
    inputs_.back() = input;
  else
    inputs_.push_back(input);
}

// True where what comes after the key waits for the next frame: the key may change who gets it.
// Tab is never told to ImGui: from a panel without a text field in hand ImGui 1.86 would put the
// cursor into the panel's first one, beside what Tab does on the photo.
bool Window::take_key(const Input& input) {
  bool wait = false;
  if (input.action != GLFW_RELEASE) {
    const KeyQueue::Press how{is_typing(), input.action == GLFW_REPEAT};
    const auto command = keys_.press(input.key, input.scancode, input.modifiers, how);
    wait = command && (command->typing || is_navigating() || !repeats(command->action));
  }
  if (input.key != GLFW_KEY_TAB)
    ImGui_ImplGlfw_KeyCallback(window_, input.key, input.scancode, input.action, input.modifiers);
  return wait;
}

void Window::take_pointer(const Input& input) {
  if (input.what == Input::What::moved) {
    pointer_x_ = input.x;
    pointer_y_ = input.y;
    return;
  }
  acted_ = true;
  if (input.what == Input::What::wheel)
    ImGui_ImplGlfw_ScrollCallback(window_, input.x, input.y);
  else if (input.key >= 0 && input.key < static_cast<int>(buttons_.size()))
    buttons_[static_cast<std::size_t>(input.key)] = input.action == GLFW_PRESS;
}

// ImGui 1.86 looks at its keys once a frame, and at the characters before the keys: of a key
// pressed and released between two frames it would see nothing, and Backspace followed by a letter
// would delete that letter. It looks at the pointer once a frame too: a click in a frame that took
// long would count where the pointer has gone since, and a key pressed after it before it. So a
// frame is told only as much as it takes in rightly; the rest waits. Where ImGui does not act on
// keys, those held down or pressed fast all count in one frame.
void Window::tell_imgui() {
  using What = Input::What;
  std::set<int> told;
  bool edited = false, pressed = false, typed = false, wait = false;
  acted_ = false;
  while (!inputs_.empty() && !wait) {
    const Input next = inputs_.front();
    const bool by_pointer =
        next.what == What::button || next.what == What::wheel || next.what == What::moved;
    // After a button or the wheel only more turns of the wheel are told.
    if (acted_ && next.what != What::wheel) break;
    if (by_pointer) {
      if (typed && next.what != What::moved) break;
      take_pointer(next);
      wait = next.what == What::button;
    } else if (next.what == What::character) {
      if (edited) break;
      ImGui_ImplGlfw_CharCallback(window_, next.character);
      typed = true;
    } else {
      const bool listens = is_typing() || is_navigating();
      // ImGui reads Ctrl and Shift as they are at the frame's end: let go of right after the key,
      // they would not have been held.
      if (listens && pressed && is_modifier(next.key)) break;
      if (listens && next.action != GLFW_REPEAT && !told.insert(next.key).second) break;
      pressed = pressed || (next.action != GLFW_RELEASE && !is_modifier(next.key));
      edited = edited || (next.action == GLFW_PRESS && edits_text(next.key));
      wait = take_key(next);
      typed = true;
    }
    inputs_.pop_front();
  }
  if (!inputs_.empty()) keep_drawing();
}

// In place of what the backend has just read of the pointer as it is by now. Where ImGui was told
// everything, its place is the backend's to say: it may have left the window.
void Window::place_pointer() {
  ImGuiIO& io = ImGui::GetIO();
  std::copy(buttons_.begin(), buttons_.end(), std::begin(io.MouseDown));
  if (acted_ || !inputs_.empty())
    io.MousePos = ImVec2(static_cast<float>(pointer_x_), static_cast<float>(pointer_y_));
}

}  // namespace scantling
