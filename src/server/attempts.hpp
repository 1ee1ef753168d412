#pragma once
#include <chrono>
#include <cstddef>
#include <map>
#include <mutex>
#include <string>

namespace zoneproof::server {

/// Guesses at passwords: after some that failed, one has to wait, and twice as long after each further one. Counted for
/// a name and for an address, so that neither one name from many places nor many names from one place can be tried
/// quickly. May be used from several threads. At most kMostRemembered are remembered; the oldest go.
class Attempts {
 public:
  using Clock = std::chrono::steady_clock;
  static constexpr int kFree = 5;                       ///< that may fail without a wait
  static constexpr std::chrono::seconds kFirstWait{5};  ///< after the next one
  static constexpr std::chrono::seconds kLongest{900};
  static constexpr std::chrono::hours kForgotten{1};  ///< after that long without a failure
  static constexpr std::size_t kMostRemembered = 10'000;

  /// How long to wait before the next try; 0: none. The try is counted as failed until succeeded() says otherwise, so
  /// that many at once are no way around.
  std::chrono::seconds begin(const std::string& name, const std::string& address, Clock::time_point now);
  void succeeded(const std::string& name, const std::string& address);

 private:
  struct Failed {
    int count = 0;
    Clock::time_point last;
  };
  std::chrono::seconds wait_of(const std::string& key, Clock::time_point now) const;
  void count(const std::string& key, Clock::time_point now);

  std::mutex mutex_;
  std::map<std::string, Failed> failed_;
};

}  // namespace zoneproof::server
