#pragma once

#include <filesystem>
#include <string>

#include "app/test_probe.h"
#include "app/window.h"

namespace scantling {

/// What the window shows in place of everything else while the record cannot be opened: why, and
/// the ways forward.
class TroublePage {
 public:
  /// What the user decided.
  enum class Way { none, open, quit };

  /// `damaged`: whether part of it may still be read.
  TroublePage(std::filesystem::path record, std::string sentence, bool damaged);

  Way draw(Window& window);
  /// The record to open next: the same once more, a rescued one or a copy of before.
  const std::filesystem::path& record() const { return record_; }
  const std::string& told() const { return told_; }  ///< by a rescue

 private:
  void rescue();
  bool button(const char* label, const char* name, bool main);
  void step(int by);  ///< the keys go to the next button, or the one before

  std::filesystem::path record_;
  std::filesystem::path backup_;
  std::string sentence_;
  std::string told_;
  bool damaged_;
  int buttons_ = 0;    ///< drawn so far
  int stands_on_ = 0;  ///< the button with the keys
  bool takes_hold_ = true;
  TestProbe probe_;
};

}  // namespace scantling
