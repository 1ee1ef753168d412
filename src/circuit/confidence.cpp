#include "circuit/confidence.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace zoneproof::circuit {
namespace {

/// The continued fraction of the incomplete beta function by the modified Lentz method.
double fraction(double a, double b, double x) {
  constexpr double tiny = 1e-300;
  constexpr int most_steps = 10000;  // some sqrt(max(a, b)) are needed
  const auto kept = [](double v) { return std::fabs(v) < tiny ? tiny : v; };
  double c = 1.0, d = 1.0 / kept(1.0 - (a + b) * x / (a + 1.0)), value = d;
  for (int m = 1; m <= most_steps; ++m) {
    const double even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1.0 / kept(1.0 + even * d);
    c = kept(1.0 + even / c);
    value *= d * c;
    const double odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1.0 / kept(1.0 + odd * d);
    c = kept(1.0 + odd / c);
    value *= d * c;
    if (std::fabs(d * c - 1.0) < 1e-15) return value;
  }
  return std::numeric_limits<double>::quiet_NaN();
}

/// x in [0, 1] where the growing `share` reaches `wanted`.
template <typename Share>
double where(Share share, double wanted) {
  double low = 0.0, high = 1.0;
  for (int step = 0; step < 200 && low < high; ++step) {
    const double middle = 0.5 * (low + high);
    if (middle <= low || middle >= high) break;
    (share(middle) < wanted ? low : high) = middle;
  }
  return high;
}

}  // namespace

double beta_below(double a, double b, double x) {
  if (!(x > 0.0)) return 0.0;
  if (!(x < 1.0)) return 1.0;
  const double front =
      std::exp(std::lgamma(a + b) - std::lgamma(a) - std::lgamma(b) + a * std::log(x) + b * std::log1p(-x));
  if (x < (a + 1.0) / (a + b + 2.0)) return front * fraction(a, b, x) / a;
  return 1.0 - front * fraction(b, a, 1.0 - x) / b;
}

double student_t(double confidence, double freedom) {
  // P(|T| > t) = I_x(freedom / 2, 1 / 2) with x = freedom / (freedom + t^2).
  const double x = where([&](double y) { return beta_below(0.5 * freedom, 0.5, y); }, 1.0 - confidence);
  return std::sqrt(freedom * (1.0 / x - 1.0));
}

Interval interval_of_mean(const std::vector<double>& replicates, double confidence) {
  if (replicates.size() < 2) return {-std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()};
  const auto count = static_cast<double>(replicates.size());
  const double mean = std::accumulate(replicates.begin(), replicates.end(), 0.0) / count;
  double squares = 0.0;
  for (const double value : replicates) squares += (value - mean) * (value - mean);
  const double half = student_t(confidence, count - 1.0) * std::sqrt(squares / (count - 1.0) / count);
  return {mean - half, mean + half};
}

Interval exact_interval(std::uint64_t hits, std::uint64_t tries, double confidence) {
  const double tail = 0.5 * (1.0 - confidence);
  const auto k = static_cast<double>(hits), n = static_cast<double>(tries);
  Interval interval;
  if (hits > 0) interval.low = where([&](double x) { return beta_below(k, n - k + 1.0, x); }, tail);
  if (hits < tries) interval.high = where([&](double x) { return beta_below(k + 1.0, n - k, x); }, 1.0 - tail);
  return interval;
}

}  // namespace zoneproof::circuit
