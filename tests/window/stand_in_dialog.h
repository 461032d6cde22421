#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "support/temporary_folder.h"

namespace scantling {

// A program of this name in the only folder on the PATH stands in for the desktop's dialog: it
// notes what it was asked and answers what the test put into a file.
class StandInDialog {
 public:
  StandInDialog() {
    const std::filesystem::path program = folder_.file(
        "zenity", "#!/bin/sh\nfor a in \"$@\"; do echo \"$a\"; done > '" + asked().string() +
                      "'\n/bin/cat '" + (folder_ / "answer").string() + "' || exit 1\n");
    std::filesystem::permissions(program, std::filesystem::perms::owner_all);
  }
  std::vector<std::string> environment() const { return {"PATH=" + folder_.path().string()}; }
  void answer(const std::string& lines) const { folder_.file("answer", lines); }
  void cancel() const { std::filesystem::remove(folder_ / "answer"); }
  /// From now on there is a program that opens files, too: it notes which one.
  void opener() const {
    const std::filesystem::path program =
        folder_.file("xdg-open", "#!/bin/sh\necho \"$1\" > '" + opened().string() + "'\n");
    std::filesystem::permissions(program, std::filesystem::perms::owner_all);
  }
  std::filesystem::path opened() const { return folder_ / "opened"; }
  std::filesystem::path asked() const { return folder_ / "asked"; }

 private:
  TemporaryFolder folder_;
};

}  // namespace scantling
