#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "app/file_dialog.h"
#include "app/keys.h"

namespace scantling {

class App;

/// A plain file chooser of our own, for desktops without a dialog program. By mouse, or by the
/// arrow keys (left is the folder above), Enter and Esc.
class FileChooser {
 public:
  using Answer = std::function<void(const std::vector<std::filesystem::path>&)>;

  void ask(FileQuestion question, Answer answer);
  void draw(App& app);
  bool open() const { return open_; }
  std::string row_under_keys() const {
    return cursor_ < 0 ? std::string() : rows_[static_cast<std::size_t>(cursor_)].name;
  }
  std::vector<std::filesystem::path> picked() const;  ///< what Open or Save would take now
  /// A key while the chooser is open; true where it acts on the list.
  bool press(const KeyCommand& command);

 private:
  struct Row {
    std::string name;
    bool folder = false;
    bool picked = false;
  };
  bool enter(const std::filesystem::path& folder);
  void enter_parent();
  void enter_row();
  void choose_row(std::size_t row, bool together);
  void step(int rows);
  void draw_place(App& app);
  void draw_rows(App& app);
  void go_to_typed_place();
  void accept();
  void leave(const std::vector<std::filesystem::path>& files);

  FileQuestion question_;
  Answer answer_;
  std::filesystem::path folder_;
  std::vector<Row> rows_;
  int cursor_ = -1;  ///< the row that the keys act on
  bool scroll_to_cursor_ = false;
  std::string place_;  ///< the folder as typed
  std::string name_;
  std::string refusal_;
  std::filesystem::path to_replace_;  ///< there already; saving asks once more
  bool asked_ = false;
  bool open_ = false;
  bool leaving_ = false;
};

/// Whether a file name ends as one of the patterns says ("*.jpg"), in whatever case.
bool fits_patterns(const std::string& name, const std::vector<std::string>& patterns);

}  // namespace scantling
