#include "app/keys.h"

#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>

#include <cctype>

namespace scantling {

namespace {

std::optional<KeyCommand> with_control(char letter, bool shift) {
  switch (letter) {
    case 'n':
      return KeyCommand{.action = KeyAction::new_job};
    case 'o':
      return KeyCommand{.action = KeyAction::open_photos};
    case 's':
      return KeyCommand{.action = KeyAction::save};
    case 'z':
      return KeyCommand{.action = shift ? KeyAction::redo : KeyAction::undo};
    case 'y':
      return KeyCommand{.action = KeyAction::redo};
    case 'p':
    case 'e':
      return KeyCommand{.action = KeyAction::report};
    case 'c':
      return KeyCommand{.action = KeyAction::copy_result};
    case ',':
      return KeyCommand{.action = KeyAction::settings};
    case 'q':
      return KeyCommand{.action = KeyAction::quit};
    default:
      return {};
  }
}

KeyCommand nudge(double x, double y, int modifiers) {
  const double step = (modifiers & GLFW_MOD_SHIFT) ? 10 : (modifiers & GLFW_MOD_ALT) ? 0.1 : 1;
  return {.action = KeyAction::nudge, .towards_x = x, .towards_y = y, .step_px = step};
}

}  // namespace

std::optional<KeyCommand> key_command(int key, char letter, int modifiers) {
  const bool shift = (modifiers & GLFW_MOD_SHIFT) != 0;
  if (modifiers & GLFW_MOD_CONTROL) return with_control(letter, shift);
  switch (key) {
    case GLFW_KEY_UP:
      return nudge(0, -1, modifiers);
    case GLFW_KEY_DOWN:
      return nudge(0, 1, modifiers);
    case GLFW_KEY_LEFT:
      return nudge(-1, 0, modifiers);
    case GLFW_KEY_RIGHT:
      return nudge(1, 0, modifiers);
    case GLFW_KEY_TAB:
      return KeyCommand{.action = shift ? KeyAction::previous_edge : KeyAction::next_edge};
    case GLFW_KEY_ENTER:
    case GLFW_KEY_KP_ENTER:
      return KeyCommand{.action = KeyAction::confirm};
    case GLFW_KEY_ESCAPE:
      return KeyCommand{.action = KeyAction::escape};
    case GLFW_KEY_DELETE:
      return KeyCommand{.action = KeyAction::remove_photo};
    case GLFW_KEY_F1:
      return KeyCommand{.action = KeyAction::help};
    case GLFW_KEY_F6:
      return KeyCommand{.action = shift ? KeyAction::previous_panel : KeyAction::next_panel};
    case GLFW_KEY_F10:
      return KeyCommand{.action = KeyAction::menu_bar};
    case GLFW_KEY_PAGE_DOWN:
      return KeyCommand{.action = KeyAction::next_photo};
    case GLFW_KEY_PAGE_UP:
      return KeyCommand{.action = KeyAction::previous_photo};
    case GLFW_KEY_KP_ADD:
      return KeyCommand{.action = KeyAction::zoom_in};
    case GLFW_KEY_KP_SUBTRACT:
      return KeyCommand{.action = KeyAction::zoom_out};
    case GLFW_KEY_KP_0:
      return KeyCommand{.action = KeyAction::zoom_fit};
    default:
      break;
  }
  switch (letter) {
    case '+':
    case '=':
      return KeyCommand{.action = KeyAction::zoom_in};
    case '-':
      return KeyCommand{.action = KeyAction::zoom_out};
    case '0':
      return KeyCommand{.action = KeyAction::zoom_fit};
    case '1':
      return KeyCommand{.action = KeyAction::zoom_actual};
    case '2':
      return KeyCommand{.action = KeyAction::zoom_part};
    case 'b':
      return KeyCommand{.action = shift ? KeyAction::darken : KeyAction::brighten};
    case 'l':
      return KeyCommand{.action = KeyAction::light};
    case 'g':
      return KeyCommand{.action = KeyAction::guide};
    case 'c':
      return KeyCommand{.action = KeyAction::compare};
    case 'd':
      return KeyCommand{.action = KeyAction::ruler};
    case 't':
      return KeyCommand{.action = shift ? KeyAction::turn_left : KeyAction::turn_right};
    case 'm':
      return KeyCommand{.action = KeyAction::axle_map};
    case 'p':
      return KeyCommand{.action = KeyAction::planes};
    case 'n':
      return KeyCommand{.action = KeyAction::next_to_confirm};
    case 's':
      return KeyCommand{.action = KeyAction::sorting};
    case 'w':
      return KeyCommand{.action = KeyAction::work};
    case 'h':
      return KeyCommand{.action = KeyAction::history};
    case 'r':
      return KeyCommand{.action = KeyAction::toggle_rivals};
    default:
      return {};
  }
}

bool repeats(KeyAction action) {
  switch (action) {
    case KeyAction::nudge:
    case KeyAction::next_edge:
    case KeyAction::previous_edge:
    case KeyAction::next_photo:
    case KeyAction::previous_photo:
    case KeyAction::zoom_in:
    case KeyAction::zoom_out:
    case KeyAction::brighten:
    case KeyAction::darken:
    case KeyAction::undo:
    case KeyAction::redo:
      return true;
    default:
      return false;
  }
}

bool leaves_a_field(KeyAction action) {
  switch (action) {
    case KeyAction::next_edge:
    case KeyAction::previous_edge:
    case KeyAction::confirm:
    case KeyAction::escape:
    case KeyAction::help:
    case KeyAction::next_panel:
    case KeyAction::previous_panel:
    case KeyAction::menu_bar:
      return true;
    default:
      return false;
  }
}

std::optional<KeyCommand> KeyQueue::press(int key, int scancode, int modifiers, Press how) {
  const char* name = glfwGetKeyName(key, scancode);
  const char letter = name && name[0] && !name[1]
                          ? static_cast<char>(std::tolower(static_cast<unsigned char>(name[0])))
                          : '\0';
  auto command = key_command(key, letter, modifiers);
  if (!command || (how.typing && !leaves_a_field(command->action)) ||
      (how.held && !repeats(command->action)))
    return {};
  command->typing = how.typing;
  commands_.push_back(*command);
  return command;
}

std::optional<KeyCommand> KeyQueue::next() {
  if (commands_.empty()) return {};
  const KeyCommand command = commands_.front();
  commands_.pop_front();
  return command;
}

}  // namespace scantling
