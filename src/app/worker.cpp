#include "app/worker.h"

#include <sys/resource.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <exception>
#include <utility>

namespace scantling {

Worker::Worker(std::function<void()> wake, std::function<void(const std::string&)> failed,
               unsigned threads, AtEnd at_end)
    : wake_(std::move(wake)), failed_(std::move(failed)), at_end_(at_end) {
  for (unsigned i = 0; i < std::max(1u, threads); ++i)
    threads_.emplace_back([this, give_way = threads > 1] { work(give_way); });
}

Worker::~Worker() {
  {
    const std::lock_guard lock(mutex_);
    ending_ = true;
    if (at_end_ == AtEnd::drop) {
      *stop_ = true;
      queue_.clear();
    }
  }
  more_.notify_all();
  for (std::thread& thread : threads_) thread.join();
}

void Worker::start(std::string what, Task task, std::function<void()> after_fault) {
  {
    const std::lock_guard lock(mutex_);
    queue_.push_back(
        {next_number_++, std::move(what), std::move(task), std::move(after_fault), stop_});
  }
  more_.notify_one();
}

void Worker::cancel() {
  const std::lock_guard lock(mutex_);
  *stop_ = true;
  stop_ = std::make_shared<std::atomic<bool>>(false);
  queue_.clear();
  ready_.clear();
  next_finish_ = next_number_;  // what still runs comes too late
}

int Worker::finish_ready() {
  constexpr auto kShareOfFrame = std::chrono::milliseconds(20);
  const auto start = std::chrono::steady_clock::now();
  int finished = 0;
  for (;;) {
    if (finished > 0 && std::chrono::steady_clock::now() - start > kShareOfFrame) {
      wake_();  // the rest in the next frame
      return finished;
    }
    Finish finish;
    {
      const std::lock_guard lock(mutex_);
      const auto next = ready_.find(next_finish_);
      if (next == ready_.end()) return finished;
      finish = std::move(next->second);
      ready_.erase(next);
      ++next_finish_;
    }
    ++finished;
    try {
      if (finish) finish();
    } catch (const std::exception& error) {
      failed_(error.what());
    }
  }
}

bool Worker::busy() const {
  return waiting() > 0;
}

std::string Worker::doing() const {
  const std::lock_guard lock(mutex_);
  return running_.empty() ? std::string() : running_.rbegin()->second;
}

int Worker::waiting() const {
  const std::lock_guard lock(mutex_);
  return static_cast<int>(next_number_ - next_finish_);
}

void Worker::work(bool give_way) {
  if (give_way) setpriority(PRIO_PROCESS, static_cast<id_t>(gettid()), 3);  // this thread's alone
  for (;;) {
    Queued next;
    {
      std::unique_lock lock(mutex_);
      more_.wait(lock, [this] { return ending_ || !queue_.empty(); });
      if (queue_.empty()) return;
      next = std::move(queue_.front());
      queue_.pop_front();
      running_.emplace(next.number, next.what);
    }
    Finish finish;
    try {
      finish = next.task(*next.stop);
    } catch (const std::exception& error) {
      finish = [this, after_fault = std::move(next.after_fault),
                reason = std::string(error.what())] {
        if (after_fault) after_fault();
        failed_(reason);
      };
    }
    {
      const std::lock_guard lock(mutex_);
      running_.erase(next.number);
      if (next.number >= next_finish_) ready_.emplace(next.number, std::move(finish));
    }
    wake_();
  }
}

}  // namespace scantling
