#include "base/each_index.h"

#include <gtest/gtest.h>

#include <mutex>
#include <set>
#include <stdexcept>
#include <string>
#include <thread>
#include <vector>

namespace scantling {
namespace {

TEST(EachIndex, RunsEveryIndexOnceHoweverManyThreads) {
  for (const unsigned threads : {0u, 1u, 2u, 7u, 200u}) {
    std::vector<std::atomic<int>> runs(100);
    for_each_index(runs.size(), threads, [&](std::size_t i) { ++runs[i]; });
    for (const auto& count : runs) EXPECT_EQ(count, 1) << threads;
  }
  for_each_index(0, 4, [](std::size_t) { FAIL(); });
}

TEST(EachIndex, OneThreadIsTheCallersOwnAndKeepsTheOrder) {
  std::vector<std::size_t> order;
  const auto here = std::this_thread::get_id();
  for_each_index(5, 1, [&](std::size_t i) {
    EXPECT_EQ(std::this_thread::get_id(), here);
    order.push_back(i);
  });
  EXPECT_EQ(order, (std::vector<std::size_t>{0, 1, 2, 3, 4}));
}

TEST(EachIndex, SeveralThreadsWorkAtTheSameTime) {
  // Each waits until all three are there: a single thread would never get past the first.
  std::mutex mutex;
  std::set<std::thread::id> seen;
  std::atomic<int> there{0};
  for_each_index(3, 3, [&](std::size_t) {
    ++there;
    while (there < 3) std::this_thread::yield();
    const std::lock_guard lock(mutex);
    seen.insert(std::this_thread::get_id());
  });
  EXPECT_EQ(seen.size(), 3u);
}

TEST(EachIndex, StopLeavesOutWhatIsNotBegun) {
  std::atomic<bool> stop{false};
  std::atomic<int> runs{0};
  for_each_index(
      1000, 2,
      [&](std::size_t) {
        if (++runs >= 10) stop = true;
      },
      &stop);
  EXPECT_GE(runs, 10);
  EXPECT_LE(runs, 12);
}

TEST(EachIndex, TheSmallestIndexsFaultIsThrown) {
  for (const unsigned threads : {1u, 4u}) {
    try {
      for_each_index(20, threads, [&](std::size_t i) {
        if (i == 3) throw std::runtime_error("three");
      });
      FAIL() << threads;
    } catch (const std::runtime_error& fault) {
      EXPECT_STREQ(fault.what(), "three");
    }
  }
}

}  // namespace
}  // namespace scantling
