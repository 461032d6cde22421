#include "app/window.h"

#define GLFW_INCLUDE_NONE
#include <GL/gl.h>
#include <GLFW/glfw3.h>
#include <backends/imgui_impl_glfw.h>
#include <backends/imgui_impl_opengl3.h>
#include <imgui.h>

#include <algorithm>
#include <utility>

#include "app/theme.h"

namespace scantling {

namespace {

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
  glfwGetCursorPos(window_, &pointer_x_, &pointer_y_);
  glfwSetWindowSizeLimits(window_, 800, 560, GLFW_DONT_CARE, GLFW_DONT_CARE);
  install_callbacks();
}

// What ImGui's own callbacks for keys and pointer would be told at once is told in its order by
// tell_imgui(). Each of ours also says that there is something to draw.
void Window::install_callbacks() {
  glfwSetWindowUserPointer(window_, this);
  glfwSetKeyCallback(window_,
                     [](GLFWwindow* window, int key, int scancode, int action, int modifiers) {
                       if (Window* us = self(window))
                         us->queue({Input::What::key, key, scancode, action, modifiers});
                     });
  glfwSetCharCallback(window_, [](GLFWwindow* window, unsigned character) {
    if (Window* us = self(window))
      us->queue({.what = Input::What::character, .character = character});
  });
  glfwSetMouseButtonCallback(window_, [](GLFWwindow* window, int button, int action, int) {
    if (Window* us = self(window))
      us->queue({.what = Input::What::button, .key = button, .action = action});
  });
  glfwSetScrollCallback(window_, [](GLFWwindow* window, double x, double y) {
    if (Window* us = self(window)) us->queue({.what = Input::What::wheel, .x = x, .y = y});
  });
  glfwSetCursorPosCallback(window_, [](GLFWwindow* window, double x, double y) {
    if (Window* us = self(window)) us->queue({.what = Input::What::moved, .x = x, .y = y});
  });
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

void Window::begin_frame() {
  tell_imgui();
  ImGui_ImplOpenGL3_NewFrame();
  ImGui_ImplGlfw_NewFrame();
  place_pointer();
  // Enter chooses what the keys stand on, as Space does; ImGui 1.86 lets it enter text fields only.
  ImGuiIO& io = ImGui::GetIO();
  const bool enter = io.KeysDown[GLFW_KEY_ENTER] || io.KeysDown[GLFW_KEY_KP_ENTER];
  if (enter && (io.ConfigFlags & ImGuiConfigFlags_NavEnableKeyboard))
    io.NavInputs[ImGuiNavInput_Activate] = 1;
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
