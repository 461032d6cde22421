#pragma once

#include <initializer_list>
#include <span>

#include "app/keys.h"

namespace scantling {

/// One line of the key list: what to press, what it does, and which commands that are.
struct KeyLine {
  const char* keys;
  const char* what;
  std::initializer_list<KeyAction> actions;
};

/// All keys, in the order in which they are told.
std::span<const KeyLine> key_list();

}  // namespace scantling
