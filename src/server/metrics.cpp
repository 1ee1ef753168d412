#include "server/metrics.hpp"

#include <fmt/format.h>

#include <array>

namespace zoneproof::server {

namespace {

constexpr std::array<double, 9> kBounds_s = {0.001, 0.005, 0.02, 0.1, 0.5, 2.0, 10.0, 30.0, 120.0};

}  // namespace

void Metrics::answered(const std::string& method, const std::string& route, int status,
                       std::chrono::steady_clock::duration took) {
  const double seconds = std::chrono::duration<double>(took).count();
  const std::lock_guard lock(mutex_);
  ++counts_[{{method, route}, status}];
  Timed& timed = times_[{method, route}];
  timed.buckets.resize(kBounds_s.size());
  ++timed.count;
  timed.seconds += seconds;
  for (std::size_t i = 0; i < kBounds_s.size(); ++i)
    if (seconds <= kBounds_s[i]) ++timed.buckets[i];
}

std::string Metrics::text(const std::vector<Gauge>& gauges) const {
  const std::lock_guard lock(mutex_);
  std::string out = "# HELP zoneproof_requests_total Requests answered.\n# TYPE zoneproof_requests_total counter\n";
  for (const auto& [key, count] : counts_)
    out += fmt::format("zoneproof_requests_total{{method=\"{}\",route=\"{}\",status=\"{}\"}} {}\n", key.first.first,
                       key.first.second, key.second, count);
  out +=
      "# HELP zoneproof_request_seconds From a whole request to its answer.\n"
      "# TYPE zoneproof_request_seconds histogram\n";
  for (const auto& [key, timed] : times_) {
    const std::string labels = fmt::format("method=\"{}\",route=\"{}\"", key.first, key.second);
    for (std::size_t i = 0; i < kBounds_s.size(); ++i)
      out +=
          fmt::format("zoneproof_request_seconds_bucket{{{},le=\"{}\"}} {}\n", labels, kBounds_s[i], timed.buckets[i]);
    out += fmt::format("zoneproof_request_seconds_bucket{{{},le=\"+Inf\"}} {}\n", labels, timed.count);
    out += fmt::format("zoneproof_request_seconds_sum{{{}}} {}\n", labels, timed.seconds);
    out += fmt::format("zoneproof_request_seconds_count{{{}}} {}\n", labels, timed.count);
  }
  for (const Gauge& gauge : gauges)
    out += fmt::format("# HELP {0} {1}\n# TYPE {0} {2}\n{0} {3}\n", gauge.name, gauge.help,
                       gauge.counter ? "counter" : "gauge", gauge.value);
  return out;
}

}  // namespace zoneproof::server
