#pragma once

#include <atomic>
#include <condition_variable>
#include <cstdint>
#include <deque>
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <thread>
#include <vector>

namespace scantling {

/// Threads for the long work, so that the window never waits: one, whose tasks run one after
/// another, or several for tasks that need not know of each other. Work returns what is to be done
/// with its result; that part runs on the main thread, in `finish_ready`, always in the order in
/// which the tasks were started, so that the outcome does not depend on which thread was quicker.
class Worker {
 public:
  using Finish = std::function<void()>;
  using Task = std::function<Finish(const std::atomic<bool>& stop)>;

  /// What becomes at the end of the tasks that were not begun. Whoever works them off does not ask
  /// the running one to stop either.
  enum class AtEnd { drop, work_off };

  /// `wake`: called from a worker's thread whenever a result is ready.
  /// `failed`: called on the main thread with the reason when a task, or what it left to do, threw.
  /// Several threads give way to the window's own, however long they are busy.
  Worker(std::function<void()> wake, std::function<void(const std::string&)> failed,
         unsigned threads = 1, AtEnd at_end = AtEnd::drop);
  /// Waits for the threads; nothing is finished on the main thread any more.
  ~Worker();
  Worker(const Worker&) = delete;
  Worker& operator=(const Worker&) = delete;

  /// `what`: shown while it runs, such as "Reading the photo". `after_fault`: what is to be put
  /// right on the main thread where the task threw, before the reason is told.
  void start(std::string what, Task task, std::function<void()> after_fault = {});
  /// Main thread: asks the running tasks to stop and drops the waiting ones; nothing of either is
  /// finished any more. What is started afterwards runs as ever.
  void cancel();
  /// Main thread: runs what finished tasks left to do, and leaves what takes longer than a part of
  /// a frame to the next call. Returns how many were run.
  int finish_ready();

  bool busy() const;
  std::string doing() const;  ///< what was begun last and still runs, empty when idle
  int waiting() const;        ///< tasks not finished yet, the running ones included

 private:
  struct Queued {
    std::uint64_t number = 0;  ///< in the order started
    std::string what;
    Task task;
    std::function<void()> after_fault;
    std::shared_ptr<std::atomic<bool>> stop;
  };
  void work(bool give_way);

  std::function<void()> wake_;
  std::function<void(const std::string&)> failed_;
  mutable std::mutex mutex_;
  std::condition_variable more_;
  std::deque<Queued> queue_;
  std::map<std::uint64_t, std::string> running_;
  std::map<std::uint64_t, Finish> ready_;  ///< some may wait for an earlier task's
  std::uint64_t next_number_ = 0;
  std::uint64_t next_finish_ = 0;
  std::shared_ptr<std::atomic<bool>> stop_ = std::make_shared<std::atomic<bool>>(false);
  AtEnd at_end_;
  bool ending_ = false;
  std::vector<std::thread> threads_;
};

}  // namespace scantling
