#include "server/attempts.hpp"

#include <algorithm>

namespace zoneproof::server {

namespace {

std::string of_name(const std::string& name) { return "n" + name; }
std::string of_address(const std::string& address) { return "a" + address; }

}  // namespace

std::chrono::seconds Attempts::wait_of(const std::string& key, Clock::time_point now) const {
  const auto found = failed_.find(key);
  if (found == failed_.end() || now - found->second.last > kForgotten) return std::chrono::seconds(0);
  const int beyond = found->second.count - kFree;
  if (beyond < 0) return std::chrono::seconds(0);
  const auto wait = std::min<std::chrono::seconds>(kLongest, kFirstWait * (1LL << std::min(beyond, 20)));
  const auto passed = std::chrono::duration_cast<std::chrono::seconds>(now - found->second.last);
  return std::max(std::chrono::seconds(0), wait - passed);
}

void Attempts::count(const std::string& key, Clock::time_point now) {
  if (failed_.size() >= kMostRemembered && failed_.count(key) == 0)
    failed_.erase(std::min_element(failed_.begin(), failed_.end(),
                                   [](const auto& a, const auto& b) { return a.second.last < b.second.last; }));
  Failed& failed = failed_[key];
  if (now - failed.last > kForgotten) failed.count = 0;
  ++failed.count;
  failed.last = now;
}

std::chrono::seconds Attempts::begin(const std::string& name, const std::string& address, Clock::time_point now) {
  const std::lock_guard lock(mutex_);
  const auto wait = std::max(wait_of(of_name(name), now), wait_of(of_address(address), now));
  if (wait > std::chrono::seconds(0)) return wait;
  count(of_name(name), now);
  count(of_address(address), now);
  return std::chrono::seconds(0);
}

void Attempts::succeeded(const std::string& name, const std::string& address) {
  const std::lock_guard lock(mutex_);
  failed_.erase(of_name(name));
  failed_.erase(of_address(address));
}

}  // namespace zoneproof::server
