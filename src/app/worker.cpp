#include "app/worker.h"

#include <exception>
#include <utility>

namespace scantling {

Worker::Worker(std::function<void()> wake, std::function<void(const std::string&)> failed)
    : wake_(std::move(wake)), failed_(std::move(failed)), thread_([this] { work(); }) {}

Worker::~Worker() {
  {
    const std::lock_guard lock(mutex_);
    stop_ = true;
    queue_.clear();
  }
  more_.notify_all();
  thread_.join();
}

void Worker::start(std::string what, Task task) {
  {
    const std::lock_guard lock(mutex_);
    queue_.push_back({std::move(what), std::move(task)});
    ++unfinished_;
  }
  more_.notify_one();
}

int Worker::finish_ready() {
  std::deque<Finish> ready;
  {
    const std::lock_guard lock(mutex_);
    ready.swap(ready_);
    unfinished_ -= static_cast<int>(ready.size());
  }
  for (const Finish& finish : ready)
    if (finish) finish();
  return static_cast<int>(ready.size());
}

bool Worker::busy() const {
  return waiting() > 0;
}

std::string Worker::doing() const {
  const std::lock_guard lock(mutex_);
  return doing_;
}

int Worker::waiting() const {
  const std::lock_guard lock(mutex_);
  return unfinished_;
}

void Worker::work() {
  for (;;) {
    Queued next;
    {
      std::unique_lock lock(mutex_);
      more_.wait(lock, [this] { return stop_ || !queue_.empty(); });
      if (stop_) return;
      next = std::move(queue_.front());
      queue_.pop_front();
      doing_ = next.what;
    }
    Finish finish;
    try {
      finish = next.task(stop_);
    } catch (const std::exception& error) {
      finish = [this, reason = std::string(error.what())] { failed_(reason); };
    }
    {
      const std::lock_guard lock(mutex_);
      ready_.push_back(std::move(finish));
      doing_.clear();
    }
    wake_();
  }
}

}  // namespace scantling
