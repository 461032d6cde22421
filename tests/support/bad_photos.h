#pragma once

#include <functional>
#include <string>
#include <vector>

namespace scantling::test {

/// A photo, whole as a file, that no size may be read from, and what the program says to it.
struct BadPhoto {
  const char* name;   ///< of its file, without .jpg
  const char* view;   ///< "pad", "rim" or "lip": as what it is to be measured
  const char* id;     ///< of a `stop` check it must get
  const char* words;  ///< must be in that check's sentence
  std::function<std::vector<unsigned char>()> jpeg;
};

/// What goes wrong when people photograph brakes: no card, the wrong one, too far, too dark, ...
/// Damaged files are in bad_files.h.
const std::vector<BadPhoto>& bad_photos();

}  // namespace scantling::test
