#include "app/keys.h"

#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>
#include <gtest/gtest.h>

#include <cctype>
#include <string>

#include "app/key_list.h"

namespace scantling {
namespace {

KeyAction action_of(int key, char letter, int modifiers) {
  const auto command = key_command(key, letter, modifiers);
  EXPECT_TRUE(command.has_value());
  return command ? command->action : KeyAction::escape;
}

TEST(Keys, UndoAndRedo) {
  EXPECT_EQ(action_of(GLFW_KEY_Z, 'z', GLFW_MOD_CONTROL), KeyAction::undo);
  EXPECT_EQ(action_of(GLFW_KEY_Z, 'z', GLFW_MOD_CONTROL | GLFW_MOD_SHIFT), KeyAction::redo);
  EXPECT_EQ(action_of(GLFW_KEY_Y, 'y', GLFW_MOD_CONTROL), KeyAction::redo);
}

TEST(Keys, FollowTheLayoutsLetterNotTheKeysPlace) {
  // On a German keyboard the key in the place of Y carries a Z.
  EXPECT_EQ(action_of(GLFW_KEY_Y, 'z', GLFW_MOD_CONTROL), KeyAction::undo);
}

TEST(Keys, ArrowsNudgeByOneTenOrATenth) {
  const auto plain = key_command(GLFW_KEY_UP, 0, 0);
  ASSERT_TRUE(plain);
  EXPECT_EQ(plain->action, KeyAction::nudge);
  EXPECT_EQ(plain->towards_y, -1);
  EXPECT_EQ(plain->step_px, 1);
  EXPECT_EQ(key_command(GLFW_KEY_DOWN, 0, GLFW_MOD_SHIFT)->step_px, 10);
  EXPECT_EQ(key_command(GLFW_KEY_DOWN, 0, GLFW_MOD_SHIFT)->towards_y, 1);
  EXPECT_EQ(key_command(GLFW_KEY_LEFT, 0, GLFW_MOD_ALT)->step_px, 0.1);
  EXPECT_EQ(key_command(GLFW_KEY_RIGHT, 0, GLFW_MOD_ALT)->towards_x, 1);
}

TEST(Keys, TabGoesRoundTheEdgesBothWays) {
  EXPECT_EQ(action_of(GLFW_KEY_TAB, 0, 0), KeyAction::next_edge);
  EXPECT_EQ(action_of(GLFW_KEY_TAB, 0, GLFW_MOD_SHIFT), KeyAction::previous_edge);
}

TEST(Keys, EveryCommandStandsOnTheKeyList) {
  for (int i = 0; i <= static_cast<int>(KeyAction::escape); ++i) {
    int lines = 0;
    for (const KeyLine& line : key_list())
      for (const KeyAction action : line.actions) lines += static_cast<int>(action) == i;
    EXPECT_EQ(lines, 1) << "command number " << i << " of KeyAction";
  }
}

// Whatever a key does, its letter is told beside its command.
TEST(Keys, EveryLetterStandsOnTheKeyList) {
  for (const int modifiers : {0, GLFW_MOD_CONTROL})
    for (char letter = ' '; letter <= '~'; ++letter) {
      if (letter >= 'A' && letter <= 'Z') continue;  // keys are told by their small letter
      const auto command = key_command(GLFW_KEY_UNKNOWN, letter, modifiers);
      if (!command || letter == '=') continue;  // the plus key without Shift
      const std::string capital(1, static_cast<char>(std::toupper(letter)));
      const std::string told = modifiers       ? "Ctrl+" + capital
                               : letter == '-' ? std::string("\u2212")
                                               : capital;
      bool found = false;
      for (const KeyLine& line : key_list())
        for (const KeyAction action : line.actions)
          found = found || (action == command->action &&
                            std::string(line.keys).find(told) != std::string::npos);
      EXPECT_TRUE(found) << told;
    }
}

TEST(Keys, ShiftTurnsTheOtherWayAndDarkens) {
  EXPECT_EQ(action_of(GLFW_KEY_T, 't', 0), KeyAction::turn_right);
  EXPECT_EQ(action_of(GLFW_KEY_T, 't', GLFW_MOD_SHIFT), KeyAction::turn_left);
  EXPECT_EQ(action_of(GLFW_KEY_B, 'b', 0), KeyAction::brighten);
  EXPECT_EQ(action_of(GLFW_KEY_B, 'b', GLFW_MOD_SHIFT), KeyAction::darken);
}

TEST(Keys, OtherKeysMeanNothing) {
  EXPECT_FALSE(key_command(GLFW_KEY_K, 'k', 0));
  EXPECT_FALSE(key_command(GLFW_KEY_K, 'k', GLFW_MOD_CONTROL));
  EXPECT_FALSE(key_command(GLFW_KEY_LEFT_SHIFT, 0, GLFW_MOD_SHIFT));
}

TEST(Keys, PanelsMenusAndTheOtherPhotoHaveTheirKeys) {
  EXPECT_EQ(action_of(GLFW_KEY_F6, 0, 0), KeyAction::next_panel);
  EXPECT_EQ(action_of(GLFW_KEY_F6, 0, GLFW_MOD_SHIFT), KeyAction::previous_panel);
  EXPECT_EQ(action_of(GLFW_KEY_F10, 0, 0), KeyAction::menu_bar);
  EXPECT_EQ(action_of(GLFW_KEY_PAGE_DOWN, 0, 0), KeyAction::next_photo);
  EXPECT_EQ(action_of(GLFW_KEY_PAGE_UP, 0, 0), KeyAction::previous_photo);
}

TEST(Keys, InATextFieldOnlyThoseThatLeaveItAreCommands) {
  KeyQueue keys;
  const KeyQueue::Press typing{.typing = true};
  EXPECT_FALSE(keys.press(GLFW_KEY_DELETE, 0, 0, typing));
  EXPECT_FALSE(keys.press(GLFW_KEY_LEFT, 0, 0, typing));
  EXPECT_FALSE(keys.press(GLFW_KEY_PAGE_DOWN, 0, 0, typing));
  for (const int key : {GLFW_KEY_TAB, GLFW_KEY_ENTER, GLFW_KEY_ESCAPE, GLFW_KEY_F6, GLFW_KEY_F10})
    EXPECT_TRUE(keys.press(key, 0, 0, typing)) << key;
  EXPECT_EQ(keys.next()->action, KeyAction::next_edge);
  EXPECT_TRUE(keys.next()->typing);
}

TEST(Keys, HeldDownEnterConfirmsOnce) {
  KeyQueue keys;
  const KeyQueue::Press held{.held = true};
  EXPECT_FALSE(keys.press(GLFW_KEY_ENTER, 0, 0, held));
  EXPECT_FALSE(keys.press(GLFW_KEY_DELETE, 0, 0, held));
  EXPECT_TRUE(keys.press(GLFW_KEY_UP, 0, 0, held));
  EXPECT_TRUE(keys.press(GLFW_KEY_TAB, 0, 0, held));
}

TEST(Keys, TheQueueLosesNoneAndKeepsTheOrder) {
  KeyQueue keys;
  for (int i = 0; i < 10; ++i) keys.press(GLFW_KEY_TAB, 0, 0);
  keys.press(GLFW_KEY_ESCAPE, 0, 0);
  for (int i = 0; i < 10; ++i) EXPECT_EQ(keys.next()->action, KeyAction::next_edge);
  EXPECT_EQ(keys.next()->action, KeyAction::escape);
  EXPECT_FALSE(keys.next());
}

}  // namespace
}  // namespace scantling
