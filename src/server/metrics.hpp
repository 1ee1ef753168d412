#pragma once
#include <chrono>
#include <map>
#include <mutex>
#include <string>
#include <utility>
#include <vector>

namespace zoneproof::server {

/// Counts and times for a collector, in the text form 0.0.4 of the Prometheus exposition format. Nothing in it names a
/// site or a person. May be used from any thread.
class Metrics {
 public:
  /// An answered request; `route` is the pattern and not the path.
  void answered(const std::string& method, const std::string& route, int status,
                std::chrono::steady_clock::duration took);

  struct Gauge {
    std::string name, help;
    double value = 0.0;
    bool counter = false;
  };
  std::string text(const std::vector<Gauge>& gauges) const;

 private:
  struct Timed {
    unsigned long long count = 0;
    double seconds = 0.0;
    std::vector<unsigned long long> buckets;
  };
  mutable std::mutex mutex_;
  std::map<std::pair<std::pair<std::string, std::string>, int>, unsigned long long> counts_;
  std::map<std::pair<std::string, std::string>, Timed> times_;
};

}  // namespace zoneproof::server
