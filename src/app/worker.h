#pragma once

#include <atomic>
#include <condition_variable>
#include <deque>
#include <functional>
#include <mutex>
#include <string>
#include <thread>

namespace scantling {

/// One thread for the long work, so that the window never waits. Work returns what is to be done
/// with its result; that part runs on the main thread, in `finish_ready`.
class Worker {
 public:
  using Finish = std::function<void()>;
  using Task = std::function<Finish(const std::atomic<bool>& stop)>;

  /// `wake`: called from the worker's thread whenever a result is ready.
  /// `failed`: called on the main thread with the reason when a task threw.
  Worker(std::function<void()> wake, std::function<void(const std::string&)> failed);
  /// Asks the running task to stop, drops the waiting ones and waits for the thread.
  ~Worker();
  Worker(const Worker&) = delete;
  Worker& operator=(const Worker&) = delete;

  /// `what`: shown while it runs, such as "Reading the photo".
  void start(std::string what, Task task);
  /// Main thread: runs what finished tasks left to do. Returns how many there were.
  int finish_ready();

  bool busy() const;
  std::string doing() const;  ///< what runs now, empty when idle
  int waiting() const;        ///< tasks not finished yet, the running one included

 private:
  struct Queued {
    std::string what;
    Task task;
  };
  void work();

  std::function<void()> wake_;
  std::function<void(const std::string&)> failed_;
  mutable std::mutex mutex_;
  std::condition_variable more_;
  std::deque<Queued> queue_;
  std::deque<Finish> ready_;
  std::string doing_;
  int unfinished_ = 0;
  std::atomic<bool> stop_{false};
  std::thread thread_;
};

}  // namespace scantling
