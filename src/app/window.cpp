#include "app/window.h"

#define GLFW_INCLUDE_NONE
#include <GL/gl.h>
#include <GLFW/glfw3.h>
#include <backends/imgui_impl_glfw.h>
#include <backends/imgui_impl_opengl3.h>
#include <imgui.h>

#include <algorithm>
#include <set>
#include <utility>

#include "app/theme.h"

namespace scantling {

namespace {

GLFWkeyfun imgui_key = nullptr;
GLFWcharfun imgui_character = nullptr;

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

Window* self(GLFWwindow* window) {
  auto* found = static_cast<Window*>(glfwGetWindowUserPointer(window));
  if (found) found->keep_drawing();
  return found;
}

std::string last_glfw_error() {
  const char* text = nullptr;
  glfwGetError(&text);
  return text ? text : "unknown reason";
}

// A window kept from a larger screen, or grown by the content scale, may be larger than this one.
void fit_to_desktop(GLFWwindow* window) {
  GLFWmonitor* monitor = glfwGetPrimaryMonitor();
  if (!monitor) return;
  int x = 0, y = 0, most_width = 0, most_height = 0, width = 0, height = 0;
  glfwGetMonitorWorkarea(monitor, &x, &y, &most_width, &most_height);
  glfwGetWindowSize(window, &width, &height);
  if (most_width > 0 && most_height > 0 && (width > most_width || height > most_height))
    glfwSetWindowSize(window, std::min(width, most_width), std::min(height, most_height));
}

}  // namespace

std::unique_ptr<Window> Window::open(Size size, std::string& reason) {
  if (!glfwInit()) {
    reason = last_glfw_error();
    return nullptr;
  }
  glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
  glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 3);
  glfwWindowHint(GLFW_OPENGL_PROFILE, GLFW_OPENGL_CORE_PROFILE);
  glfwWindowHint(GLFW_SCALE_TO_MONITOR, GLFW_TRUE);
  glfwWindowHintString(GLFW_X11_CLASS_NAME, "scantling");
  glfwWindowHintString(GLFW_X11_INSTANCE_NAME, "scantling");
  GLFWwindow* window = glfwCreateWindow(size.width, size.height, "Scantling", nullptr, nullptr);
  if (!window) {
    reason = last_glfw_error();
    glfwTerminate();
    return nullptr;
  }
  fit_to_desktop(window);
  return std::unique_ptr<Window>(new Window(window));
}

Window::Window(GLFWwindow* window) : window_(window), title_("Scantling") {
  glfwMakeContextCurrent(window_);
  glfwSwapInterval(1);
  glGetIntegerv(GL_MAX_TEXTURE_SIZE, &largest_texture_px_);
  ImGui::CreateContext();
  ImGui::GetIO().IniFilename = nullptr;
  ImGui_ImplGlfw_InitForOpenGL(window_, true);
  ImGui_ImplOpenGL3_Init("#version 330 core");
  glfwSetWindowSizeLimits(window_, 800, 560, GLFW_DONT_CARE, GLFW_DONT_CARE);
  install_callbacks();
}

// ImGui's own callbacks stay in the chain; each of ours also says that there is something to draw.
void Window::install_callbacks() {
  glfwSetWindowUserPointer(window_, this);
  imgui_key = glfwSetKeyCallback(
      window_, [](GLFWwindow* window, int key, int scancode, int action, int modifiers) {
        if (Window* us = self(window)) us->type({key, scancode, action, modifiers, 0});
      });
  imgui_character = glfwSetCharCallback(window_, [](GLFWwindow* window, unsigned character) {
    if (Window* us = self(window)) us->type({0, 0, 0, 0, character});
  });
  glfwSetCursorPosCallback(window_, [](GLFWwindow* window, double, double) { self(window); });
  glfwSetWindowRefreshCallback(window_, [](GLFWwindow* window) { self(window); });
  glfwSetFramebufferSizeCallback(window_, [](GLFWwindow* window, int, int) { self(window); });
  glfwSetWindowCloseCallback(window_, [](GLFWwindow* window) { self(window); });
  glfwSetWindowContentScaleCallback(window_, [](GLFWwindow* window, float, float) {
    if (Window* us = self(window)) us->scale_changed_ = true;
  });
  glfwSetDropCallback(window_, [](GLFWwindow* window, int count, const char** paths) {
    Window* us = self(window);
    for (int i = 0; us && i < count; ++i) us->dropped_.emplace_back(paths[i]);
  });
}

Window::~Window() {
  ImGui_ImplOpenGL3_Shutdown();
  ImGui_ImplGlfw_Shutdown();
  ImGui::DestroyContext();
  glfwDestroyWindow(window_);
  glfwTerminate();
}

bool Window::wants_to_close() const {
  return glfwWindowShouldClose(window_) != 0;
}
void Window::close() {
  glfwSetWindowShouldClose(window_, GLFW_TRUE);
}
void Window::wake() {
  glfwPostEmptyEvent();
}

void Window::wait(double timeout_s) {
  if (frames_due_ > 0) {
    --frames_due_;
    glfwPollEvents();
    return;
  }
  if (std::exchange(gentle_, false)) timeout_s = std::min(timeout_s, 0.1);
  const double start_s = glfwGetTime();
  glfwWaitEventsTimeout(timeout_s);
  // Ended before its time: something happened, and ImGui needs a few frames to settle on it.
  if (glfwGetTime() - start_s < 0.95 * timeout_s) keep_drawing();
}

void Window::type(const Typed& typed) {
  typed_.push_back(typed);
}

namespace {

// ImGui goes on wanting text for a frame after a field was left: a key then is a command.
bool is_typing() {
  return ImGui::GetIO().WantTextInput && ImGui::IsAnyItemActive();
}

bool is_navigating() {
  return (ImGui::GetIO().ConfigFlags & ImGuiConfigFlags_NavEnableKeyboard) != 0;
}

}  // namespace

// True where what comes after the key waits for the next frame: the key may change who gets it.
// Tab is never told to ImGui: from a panel without a text field in hand ImGui 1.86 would put the
// cursor into the panel's first one, beside what Tab does on the photo.
bool Window::take_key(const Typed& typed) {
  bool wait = false;
  if (typed.action != GLFW_RELEASE) {
    const KeyQueue::Press how{is_typing(), typed.action == GLFW_REPEAT};
    const auto command = keys_.press(typed.key, typed.scancode, typed.modifiers, how);
    wait = command && (command->typing || is_navigating() || !repeats(command->action));
  }
  if (typed.key != GLFW_KEY_TAB && imgui_key)
    imgui_key(window_, typed.key, typed.scancode, typed.action, typed.modifiers);
  return wait;
}

// ImGui 1.86 looks at its keys once a frame, and at the characters before the keys: of a key
// pressed and released between two frames it would see nothing, and Backspace followed by a letter
// would delete that letter. So a frame is told only as much as it takes in rightly; the rest waits.
// Where ImGui does not act on keys, those held down or pressed fast all count in one frame.
void Window::tell_imgui() {
  std::set<int> told;
  bool edited = false, pressed = false, wait = false;
  while (!typed_.empty() && !wait) {
    const Typed next = typed_.front();
    if (next.key == 0 && next.character != 0) {
      if (edited) break;
      if (imgui_character) imgui_character(window_, next.character);
    } else {
      const bool listens = is_typing() || is_navigating();
      // ImGui reads Ctrl and Shift as they are at the frame's end: let go of right after the key,
      // they would not have been held.
      if (listens && pressed && is_modifier(next.key)) break;
      if (listens && next.action != GLFW_REPEAT && !told.insert(next.key).second) break;
      pressed = pressed || (next.action != GLFW_RELEASE && !is_modifier(next.key));
      edited = edited || (next.action == GLFW_PRESS && edits_text(next.key));
      wait = take_key(next);
    }
    typed_.pop_front();
  }
  if (!typed_.empty()) keep_drawing();
}

void Window::begin_frame() {
  tell_imgui();
  ImGui_ImplOpenGL3_NewFrame();
  ImGui_ImplGlfw_NewFrame();
  // Enter chooses what the keys stand on, as Space does; ImGui 1.86 lets it enter text fields only.
  const ImGuiIO& io = ImGui::GetIO();
  const bool enter = io.KeysDown[GLFW_KEY_ENTER] || io.KeysDown[GLFW_KEY_KP_ENTER];
  if (is_navigating() && enter) ImGui::GetIO().NavInputs[ImGuiNavInput_Activate] = 1;
  ImGui::NewFrame();
}

void Window::end_frame() {
  ImGui::Render();
  int width = 0, height = 0;
  glfwGetFramebufferSize(window_, &width, &height);
  glViewport(0, 0, width, height);
  const ImVec4 background = as_vec4(theme().canvas);
  glClearColor(background.x, background.y, background.z, 1);
  glClear(GL_COLOR_BUFFER_BIT);
  ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
  glfwSwapBuffers(window_);
}

void Window::renew_fonts() {
  ImGui_ImplOpenGL3_DestroyFontsTexture();
  ImGui_ImplOpenGL3_CreateFontsTexture();
}

float Window::content_scale() const {
  float x = 1, y = 1;
  glfwGetWindowContentScale(window_, &x, &y);
  return std::clamp(x, 0.5f, 4.0f);
}

Window::Size Window::size() const {
  Size size;
  glfwGetWindowSize(window_, &size.width, &size.height);
  return size;
}

std::vector<std::filesystem::path> Window::take_dropped() {
  return std::exchange(dropped_, {});
}
bool Window::take_scale_change() {
  return std::exchange(scale_changed_, false);
}

void Window::set_title(const std::string& title) {
  if (title == title_) return;
  title_ = title;
  glfwSetWindowTitle(window_, title.c_str());
}

}  // namespace scantling
