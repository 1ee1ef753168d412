#pragma once
#include <atomic>
#include <condition_variable>
#include <cstddef>
#include <deque>
#include <functional>
#include <mutex>
#include <thread>
#include <vector>

/// Threads that work off what is put before them, in order. There are several lanes, so that what is short never waits
/// behind what is long: an edit is answered while every other lane is full.
namespace zoneproof::server {

class Lane {
 public:
  /// `most` waiting pieces of work; more are not taken.
  Lane(int threads, std::size_t most);
  ~Lane();
  Lane(const Lane&) = delete;
  Lane& operator=(const Lane&) = delete;

  /// False where the lane is full or closed. `work` must not throw.
  bool put(std::function<void()> work);
  /// Takes nothing more, finishes what waits, and ends its threads.
  void close();
  std::size_t waiting() const;

 private:
  void run();

  const std::size_t most_;
  mutable std::mutex mutex_;
  std::condition_variable changed_;
  std::deque<std::function<void()>> work_;
  bool closed_ = false;
  std::vector<std::thread> threads_;
};

}  // namespace zoneproof::server
