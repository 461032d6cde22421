#pragma once

#include <sys/types.h>

#include <filesystem>
#include <string>
#include <vector>

namespace scantling {

/// A child process that ends with this object.
class ChildProcess {
 public:
  ChildProcess() = default;
  /// `inherited`: a descriptor that the child finds as number 3; -1 for none.
  ChildProcess(std::vector<std::string> arguments, const std::vector<std::string>& environment,
               const std::filesystem::path& log, int inherited = -1);
  ~ChildProcess();
  ChildProcess(ChildProcess&& other) noexcept;
  ChildProcess& operator=(ChildProcess&& other) noexcept;

  bool running();
  /// Waits for its end, at most `seconds`: its exit status, -1 where it did not end by itself.
  int wait(double seconds);
  void kill_now();
  void stop();  ///< until it may go on: it sees afterwards what has happened meanwhile
  void go_on();

 private:
  void end();

  pid_t pid_ = -1;
  int status_ = -1;
};

struct DisplaySize {
  int width_px = 1280;
  int height_px = 800;
};

/// An X server of its own without a screen.
class VirtualDisplay {
 public:
  /// `dots_per_inch`: what the desktop tells its programs; 96 is a content scale of 1.
  explicit VirtualDisplay(int dots_per_inch = 96, DisplaySize size = {});

  const std::string& name() const { return name_; }  ///< ":7"
  void screenshot(const std::filesystem::path& png) const;

 private:
  ChildProcess server_;
  std::string name_;
};

}  // namespace scantling
