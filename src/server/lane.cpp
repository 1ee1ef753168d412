#include "server/lane.hpp"

namespace zoneproof::server {

Lane::Lane(int threads, std::size_t most) : most_(most) {
  for (int i = 0; i < threads; ++i) threads_.emplace_back([this] { run(); });
}

Lane::~Lane() { close(); }

bool Lane::put(std::function<void()> work) {
  {
    const std::lock_guard lock(mutex_);
    if (closed_ || work_.size() >= most_) return false;
    work_.push_back(std::move(work));
  }
  changed_.notify_one();
  return true;
}

void Lane::close() {
  {
    const std::lock_guard lock(mutex_);
    closed_ = true;
  }
  changed_.notify_all();
  for (std::thread& thread : threads_)
    if (thread.joinable()) thread.join();
}

std::size_t Lane::waiting() const {
  const std::lock_guard lock(mutex_);
  return work_.size();
}

void Lane::run() {
  std::unique_lock lock(mutex_);
  while (true) {
    changed_.wait(lock, [this] { return closed_ || !work_.empty(); });
    if (work_.empty()) return;
    const std::function<void()> work = std::move(work_.front());
    work_.pop_front();
    lock.unlock();
    work();
    lock.lock();
  }
}

}  // namespace zoneproof::server
