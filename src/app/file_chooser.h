#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "app/file_dialog.h"

namespace scantling {

class App;

/// A plain file chooser of our own, for desktops without a dialog program.
class FileChooser {
 public:
  using Answer = std::function<void(const std::vector<std::filesystem::path>&)>;

  void ask(FileQuestion question, Answer answer);
  void draw(App& app);

 private:
  struct Row {
    std::string name;
    bool folder = false;
    bool picked = false;
  };
  void enter(const std::filesystem::path& folder);
  void draw_rows(App& app);
  std::vector<std::filesystem::path> picked() const;

  FileQuestion question_;
  Answer answer_;
  std::filesystem::path folder_;
  std::vector<Row> rows_;
  std::string name_;
  std::string refusal_;
  bool asked_ = false;
};

/// Whether a file name ends as one of the patterns says ("*.jpg"), in whatever case.
bool fits_patterns(const std::string& name, const std::vector<std::string>& patterns);

}  // namespace scantling
