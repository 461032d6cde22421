#include "app/outside_program.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <cstdlib>
#include <sstream>
#include <thread>

namespace scantling {
namespace fs = std::filesystem;

namespace {

constexpr auto kPatience = std::chrono::seconds(5);

/// The child, or 0 where it could not be started. It outlives this program.
pid_t start_apart(const fs::path& program, const fs::path& argument) {
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_addopen(&actions, STDIN_FILENO, "/dev/null", O_RDONLY, 0);
  posix_spawn_file_actions_addopen(&actions, STDOUT_FILENO, "/dev/null", O_WRONLY, 0);
  posix_spawn_file_actions_addopen(&actions, STDERR_FILENO, "/dev/null", O_WRONLY, 0);
  posix_spawnattr_t attributes;
  posix_spawnattr_init(&attributes);
  posix_spawnattr_setflags(&attributes, POSIX_SPAWN_SETSID);
  std::string name = program.filename().string(), what = argument.string();
  char* arguments[] = {name.data(), what.data(), nullptr};
  pid_t child = 0;
  const int failed =
      posix_spawn(&child, program.c_str(), &actions, &attributes, arguments, environ);
  posix_spawnattr_destroy(&attributes);
  posix_spawn_file_actions_destroy(&actions);
  return failed ? 0 : child;
}

}  // namespace

std::optional<fs::path> program_on_path(const std::string& name) {
  const char* path = std::getenv("PATH");
  std::istringstream folders(path ? path : "/usr/bin:/bin");
  for (std::string folder; std::getline(folders, folder, ':');) {
    const fs::path program = fs::path(folder) / name;
    if (access(program.c_str(), X_OK) == 0) return program;
  }
  return {};
}

std::string open_with_desktop(const fs::path& what) {
  const auto program = program_on_path("xdg-open");
  if (!program)
    return fmt::format(
        "This desktop has no xdg-open, which opens files. Open it in your file manager: {}",
        what.string());
  const pid_t child = start_apart(*program, what);
  const auto end = std::chrono::steady_clock::now() + kPatience;
  int status = 0;
  while (child > 0 && std::chrono::steady_clock::now() < end) {
    if (waitpid(child, &status, WNOHANG) == child)
      return WIFEXITED(status) && WEXITSTATUS(status) == 0
                 ? std::string()
                 : fmt::format("The desktop has no program to open this: {}", what.string());
    std::this_thread::sleep_for(std::chrono::milliseconds(20));
  }
  if (child <= 0) return fmt::format("xdg-open could not be started for {}", what.string());
  // On some desktops it stays as long as the program that it started.
  std::thread([child] {
    int ignored = 0;
    waitpid(child, &ignored, 0);
  }).detach();
  return {};
}

}  // namespace scantling
