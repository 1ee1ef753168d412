#pragma once
#include <chrono>
#include <mutex>
#include <string>

namespace zoneproof::promises {

/// Tells on standard error how far something long is: every second on a terminal, else every half minute.
class Progress {
 public:
  explicit Progress(std::string what);
  ~Progress();  ///< leaves the terminal's line clean
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;
  /// May be called from any thread.
  void operator()(const std::string& how_far);

 private:
  double seconds_since(std::chrono::steady_clock::time_point moment) const;

  std::string what_;
  bool terminal_;
  std::mutex mutex_;
  std::chrono::steady_clock::time_point begin_, told_;
};

}  // namespace zoneproof::promises
