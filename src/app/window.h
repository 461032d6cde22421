#pragma once

#include <array>
#include <deque>
#include <filesystem>
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "app/keys.h"

struct GLFWwindow;

namespace scantling {

/// The desktop window with its drawing context: GLFW, OpenGL 3.3 and ImGui behind begin and end.
class Window {
 public:
  struct Size {
    int width = 1280;
    int height = 800;
  };

  /// Nothing, with the reason in `reason`, where there is no display or no OpenGL 3.3.
  static std::unique_ptr<Window> open(Size size, std::string& reason);
  ~Window();
  Window(const Window&) = delete;
  Window& operator=(const Window&) = delete;

  bool wants_to_close() const;
  void close();
  /// Waits for an event, at most `timeout_s`; returns at once while the last ones still show.
  void wait(double timeout_s);
  void begin_frame();
  void end_frame();
  /// From any thread: ends a `wait`.
  static void wake();
  /// Work is under way: draws some ten frames a second, so that its progress shows.
  void keep_drawing_gently() { gentle_ = true; }
  /// The next few frames are drawn without waiting.
  void keep_drawing() { frames_due_ = 3; }

  float content_scale() const;
  Size size() const;
  int largest_texture_px() const { return largest_texture_px_; }
  KeyQueue& keys() { return keys_; }
  /// Files dropped on the window since the last call.
  std::vector<std::filesystem::path> take_dropped();
  /// After the fonts were loaded anew: uploads their texture again.
  void renew_fonts();
  /// True once after the content scale changed.
  bool take_scale_change();
  void set_title(const std::string& title);

 private:
  explicit Window(GLFWwindow* window);
  void install_callbacks();
  /// What came from keyboard or pointer.
  struct Input {
    enum class What { key, character, button, wheel, moved };
    What what = What::key;
    int key = 0;  ///< or the button
    int scancode = 0, action = 0, modifiers = 0;
    unsigned character = 0;
    double x = 0, y = 0;  ///< where the pointer is, in window coordinates, or the wheel's steps
  };
  void queue(const Input& input);
  void tell_imgui();
  bool take_key(const Input& input);
  void take_pointer(const Input& input);
  void place_pointer();

  GLFWwindow* window_ = nullptr;
  KeyQueue keys_;
  std::deque<Input> inputs_;              ///< not yet told to ImGui
  double pointer_x_ = 0, pointer_y_ = 0;  ///< as far as ImGui was told
  std::array<bool, 5> buttons_{};         ///< held, as far as ImGui was told
  bool acted_ = false;                    ///< a button or the wheel is told of in this frame
  std::vector<std::filesystem::path> dropped_;
  std::string title_;
  int frames_due_ = 3;
  int largest_texture_px_ = 2048;
  bool scale_changed_ = false;
  bool gentle_ = false;
};

}  // namespace scantling
