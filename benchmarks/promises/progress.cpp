#include "promises/progress.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <cstdio>

namespace zoneproof::promises {

using Clock = std::chrono::steady_clock;

Progress::Progress(std::string what)
    : what_(std::move(what)), terminal_(isatty(STDERR_FILENO) == 1), begin_(Clock::now()), told_(begin_) {
  fmt::print(stderr, "{} ...{}", what_, terminal_ ? "" : "\n");
  std::fflush(stderr);
}

Progress::~Progress() {
  if (terminal_) fmt::print(stderr, "\r\033[K");
}

double Progress::seconds_since(Clock::time_point moment) const {
  return std::chrono::duration<double>(Clock::now() - moment).count();
}

void Progress::operator()(const std::string& how_far) {
  const std::lock_guard lock(mutex_);
  if (seconds_since(told_) < (terminal_ ? 1.0 : 30.0)) return;
  told_ = Clock::now();
  const std::string line = fmt::format("{}: {} after {:.0f} s", what_, how_far, seconds_since(begin_));
  fmt::print(stderr, "{}{}{}", terminal_ ? "\r\033[K" : "", line, terminal_ ? "" : "\n");
  std::fflush(stderr);
}

}  // namespace zoneproof::promises
