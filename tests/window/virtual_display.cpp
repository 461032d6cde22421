#include "window/virtual_display.h"

#include <fcntl.h>
#include <signal.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <stdexcept>
#include <thread>
#include <utility>

#include "support/run_program.h"

namespace scantling {
namespace fs = std::filesystem;

ChildProcess::ChildProcess(std::vector<std::string> arguments,
                           const std::vector<std::string>& environment, const fs::path& log,
                           int inherited) {
  // env(1) sets the variables: what this process has stays in force beside them.
  std::vector<std::string> all = {"env"};
  all.insert(all.end(), environment.begin(), environment.end());
  all.insert(all.end(), arguments.begin(), arguments.end());
  std::vector<char*> raw;
  for (std::string& argument : all) raw.push_back(argument.data());
  raw.push_back(nullptr);
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_addopen(&actions, STDIN_FILENO, "/dev/null", O_RDONLY, 0);
  posix_spawn_file_actions_addopen(&actions, STDOUT_FILENO, log.c_str(),
                                   O_WRONLY | O_CREAT | O_APPEND, 0600);
  posix_spawn_file_actions_adddup2(&actions, STDOUT_FILENO, STDERR_FILENO);
  if (inherited >= 0) posix_spawn_file_actions_adddup2(&actions, inherited, 3);
  const int failed = posix_spawnp(&pid_, "env", &actions, nullptr, raw.data(), environ);
  posix_spawn_file_actions_destroy(&actions);
  if (failed) throw std::runtime_error("cannot start " + arguments.front());
}

ChildProcess::~ChildProcess() {
  end();
}

ChildProcess::ChildProcess(ChildProcess&& other) noexcept
    : pid_(std::exchange(other.pid_, -1)), status_(other.status_) {}

ChildProcess& ChildProcess::operator=(ChildProcess&& other) noexcept {
  if (this != &other) {
    end();
    pid_ = std::exchange(other.pid_, -1);
    status_ = other.status_;
  }
  return *this;
}

bool ChildProcess::running() {
  if (pid_ <= 0) return false;
  int status = 0;
  if (waitpid(pid_, &status, WNOHANG) == 0) return true;
  pid_ = -1;
  status_ = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  return false;
}

int ChildProcess::wait(double seconds) {
  const auto end = std::chrono::steady_clock::now() + std::chrono::duration<double>(seconds);
  while (running()) {
    if (std::chrono::steady_clock::now() > end) return -1;
    std::this_thread::sleep_for(std::chrono::milliseconds(10));
  }
  return status_;
}

void ChildProcess::kill_now() {
  if (running()) ::kill(pid_, SIGKILL);
  wait(10);
}

void ChildProcess::stop() {
  if (running()) ::kill(pid_, SIGSTOP);
}

void ChildProcess::go_on() {
  if (running()) ::kill(pid_, SIGCONT);
}

void ChildProcess::end() {
  if (!running()) return;
  ::kill(pid_, SIGTERM);
  if (wait(10) == -1 && running()) kill_now();
}

VirtualDisplay::VirtualDisplay(int dots_per_inch, DisplaySize size) {
  const std::string screen =
      std::to_string(size.width_px) + "x" + std::to_string(size.height_px) + "x24";
  int ends[2];
  if (pipe(ends) != 0) throw std::runtime_error("no pipe");
  server_ = ChildProcess(
      {"Xvfb", "-displayfd", "3", "-screen", "0", screen, "-nolisten", "tcp", "-noreset"}, {},
      "/dev/null", ends[1]);
  close(ends[1]);
  std::string number;
  for (char c = 0; read(ends[0], &c, 1) == 1 && c != '\n';) number += c;
  close(ends[0]);
  if (number.empty()) throw std::runtime_error("Xvfb did not start");
  name_ = ":" + number;
  if (dots_per_inch == 96) return;
  const std::string setting = "echo 'Xft.dpi: " + std::to_string(dots_per_inch) + "' | xrdb -merge";
  if (run_program({"sh", "-c", setting}, {"DISPLAY=" + name_}).exit_status != 0)
    throw std::runtime_error("xrdb failed");
}

void VirtualDisplay::screenshot(const fs::path& png) const {
  fs::create_directories(png.parent_path());
  if (run_program({"import", "-display", name_, "-window", "root", png.string()}).exit_status != 0)
    throw std::runtime_error("no screenshot");
}

}  // namespace scantling
