#include "base/each_index.h"

#include <algorithm>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace scantling {

unsigned usable_cores() {
  return std::max(1u, std::thread::hardware_concurrency());
}

void for_each_index(std::size_t count, unsigned threads,
                    const std::function<void(std::size_t)>& work, const std::atomic<bool>* stop) {
  std::atomic<std::size_t> next{0};
  std::mutex mutex;
  std::exception_ptr fault;
  std::size_t fault_at = count;
  const auto take_turns = [&] {
    while (!(stop && *stop)) {
      const std::size_t index = next++;
      if (index >= count) return;
      try {
        work(index);
      } catch (...) {
        const std::lock_guard lock(mutex);
        if (index < fault_at) fault = std::current_exception(), fault_at = index;
        next = count;
      }
    }
  };
  {
    std::vector<std::jthread> others;
    const std::size_t wanted = std::min<std::size_t>(std::max(1u, threads), count);
    for (std::size_t i = 1; i < wanted; ++i) others.emplace_back(take_turns);
    take_turns();
  }
  if (fault) std::rethrow_exception(fault);
}

}  // namespace scantling
