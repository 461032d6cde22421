#include "app/worker.h"

#include <gtest/gtest.h>

#include <chrono>
#include <stdexcept>
#include <vector>

namespace scantling {
namespace {

using std::chrono::milliseconds;
using std::chrono::steady_clock;

// Lets the main-thread part run until nothing is left to do.
bool settle(Worker& worker) {
  const auto end = steady_clock::now() + std::chrono::seconds(20);
  while (worker.busy() && steady_clock::now() < end) {
    worker.finish_ready();
    std::this_thread::sleep_for(milliseconds(1));
  }
  return !worker.busy();
}

TEST(Worker, WorksOffTheMainThreadAndFinishesOnIt) {
  std::atomic<int> woken{0};
  Worker worker([&] { ++woken; }, [](const std::string&) { FAIL(); });
  const auto main_thread = std::this_thread::get_id();
  std::thread::id worked_on, finished_on;
  worker.start("Adding", [&](const std::atomic<bool>&) -> Worker::Finish {
    worked_on = std::this_thread::get_id();
    return [&] { finished_on = std::this_thread::get_id(); };
  });
  ASSERT_TRUE(settle(worker));
  EXPECT_NE(worked_on, main_thread);
  EXPECT_EQ(finished_on, main_thread);
  EXPECT_EQ(woken, 1);
}

TEST(Worker, KeepsTheOrder) {
  Worker worker([] {}, [](const std::string&) { FAIL(); });
  std::vector<int> order;
  for (int i = 0; i < 20; ++i)
    worker.start("Task", [&, i](const std::atomic<bool>&) -> Worker::Finish {
      return [&, i] { order.push_back(i); };
    });
  ASSERT_TRUE(settle(worker));
  for (int i = 0; i < 20; ++i) EXPECT_EQ(order.at(static_cast<std::size_t>(i)), i);
}

TEST(Worker, AFaultIsToldAndTheNextTaskStillRuns) {
  std::string reason;
  Worker worker([] {}, [&](const std::string& text) { reason = text; });
  bool ran = false;
  worker.start("Bad", [](const std::atomic<bool>&) -> Worker::Finish {
    throw std::runtime_error("the disk is full");
  });
  worker.start("Good",
               [&](const std::atomic<bool>&) -> Worker::Finish { return [&] { ran = true; }; });
  ASSERT_TRUE(settle(worker));
  EXPECT_EQ(reason, "the disk is full");
  EXPECT_TRUE(ran);
}

TEST(Worker, AfterAFaultWhatWaitedIsPutRightBeforeItIsTold) {
  std::vector<std::string> happened;
  Worker worker([] {}, [&](const std::string& text) { happened.push_back(text); });
  worker.start(
      "Bad",
      [](const std::atomic<bool>&) -> Worker::Finish { throw std::runtime_error("unreadable"); },
      [&] { happened.push_back("put right"); });
  ASSERT_TRUE(settle(worker));
  EXPECT_EQ(happened, (std::vector<std::string>{"put right", "unreadable"}));
}

TEST(Worker, AFaultInWhatIsLeftToDoIsToldToo) {
  std::string reason;
  Worker worker([] {}, [&](const std::string& text) { reason = text; });
  worker.start("Bad", [](const std::atomic<bool>&) -> Worker::Finish {
    return [] { throw std::runtime_error("the list is empty"); };
  });
  ASSERT_TRUE(settle(worker));
  EXPECT_EQ(reason, "the list is empty");
}

TEST(Worker, EndingWorksOffWhatMustNotBeLost) {
  std::atomic<int> done{0};
  std::atomic<bool> stopped{false};
  {
    Worker worker([] {}, [](const std::string&) {}, 1, Worker::AtEnd::work_off);
    for (int i = 0; i < 5; ++i)
      worker.start("Copying", [&](const std::atomic<bool>& stop) -> Worker::Finish {
        std::this_thread::sleep_for(milliseconds(5));
        stopped = stopped || stop;
        ++done;
        return {};
      });
  }
  EXPECT_EQ(done, 5);
  EXPECT_FALSE(stopped);
}

TEST(Worker, EndingStopsTheRunningTaskAndDropsTheWaitingOnes) {
  std::atomic<bool> started{false};
  std::atomic<bool> second{false};
  {
    Worker worker([] {}, [](const std::string&) {});
    worker.start("Long", [&](const std::atomic<bool>& stop) -> Worker::Finish {
      started = true;
      while (!stop) std::this_thread::sleep_for(milliseconds(1));
      return {};
    });
    worker.start("Never", [&](const std::atomic<bool>&) -> Worker::Finish {
      second = true;
      return {};
    });
    while (!started) std::this_thread::sleep_for(milliseconds(1));
    EXPECT_EQ(worker.doing(), "Long");
    EXPECT_EQ(worker.waiting(), 2);
  }
  EXPECT_FALSE(second);
}

TEST(Worker, SeveralThreadsWorkAtOnceAndFinishInTheOrderStarted) {
  Worker worker([] {}, [](const std::string&) { FAIL(); }, 3);
  std::atomic<int> there{0};
  std::vector<int> order;
  for (int i = 0; i < 3; ++i)
    worker.start("Task", [&, i](const std::atomic<bool>&) -> Worker::Finish {
      ++there;
      while (there < 3) std::this_thread::yield();              // all three must be at work
      std::this_thread::sleep_for(milliseconds(20 * (2 - i)));  // the last one is ready first
      return [&, i] { order.push_back(i); };
    });
  ASSERT_TRUE(settle(worker));
  EXPECT_EQ(order, (std::vector<int>{0, 1, 2}));
}

TEST(Worker, CancellingDropsWhatWaitsAndWhatStillRuns) {
  Worker worker([] {}, [](const std::string&) { FAIL(); }, 2);
  std::atomic<int> started{0};
  std::atomic<int> finished{0};
  for (int i = 0; i < 20; ++i)
    worker.start("Long", [&](const std::atomic<bool>& stop) -> Worker::Finish {
      ++started;
      while (!stop) std::this_thread::sleep_for(milliseconds(1));
      return [&] { ++finished; };
    });
  while (started < 2) std::this_thread::sleep_for(milliseconds(1));
  worker.cancel();
  EXPECT_FALSE(worker.busy());
  bool ran = false;
  worker.start("Next", [&](const std::atomic<bool>& stop) -> Worker::Finish {
    EXPECT_FALSE(stop);
    return [&] { ran = true; };
  });
  ASSERT_TRUE(settle(worker));
  EXPECT_TRUE(ran);
  EXPECT_EQ(started, 2);
  EXPECT_EQ(finished, 0);
}

}  // namespace
}  // namespace scantling
