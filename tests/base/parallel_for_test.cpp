#include "base/parallel_for.hpp"

#include <gtest/gtest.h>

#include <atomic>
#include <stdexcept>
#include <string>

namespace zoneproof {
namespace {

TEST(ParallelFor, CallsEachIndexOnce) {
  std::vector<std::atomic<int>> calls(10000);
  parallel_for(calls.size(), [&](std::size_t i) { ++calls[i]; });
  for (const auto& count : calls) ASSERT_EQ(count, 1);
  parallel_for(0, [](std::size_t) { FAIL(); });
}

TEST(ParallelMap, ResultsAreTheSameForAnyNumberOfThreads) {
  const auto make = [](std::size_t i) { return std::to_string(i * i); };
  const auto one = parallel_map<std::string>(5000, make, 1);
  EXPECT_EQ(one[4999], "24990001");
  for (const int threads : {0, 2, 3, 8}) EXPECT_EQ(parallel_map<std::string>(5000, make, threads), one);
}

TEST(ParallelFor, ThrowsTheExceptionOfTheSmallestIndex) {
  for (int repeat = 0; repeat < 50; ++repeat) {
    std::atomic<int> calls = 0;
    const auto body = [&](std::size_t i) {
      ++calls;
      if (i % 100 == 7) throw std::runtime_error(std::to_string(i));
    };
    try {
      parallel_for(1000, body, 4);
      FAIL() << "nothing was thrown";
    } catch (const std::runtime_error& error) {
      EXPECT_STREQ(error.what(), "7");
    }
    EXPECT_EQ(calls, 1000);
  }
}

TEST(ParallelFor, LeavesTheRestOnceItIsStopped) {
  std::atomic<int> calls = 0;
  const auto body = [&](std::size_t i) {
    parallel_for(10, [&](std::size_t j) {
      ++calls;
      if (i == 0 && j == 0) throw Stopped();
      if (i == 1) throw std::runtime_error("a fault beside it");
    });
  };
  EXPECT_THROW(parallel_for(100000, body, 2), Stopped);
  EXPECT_LT(calls, 500000);
}

}  // namespace
}  // namespace zoneproof
