#include "sight/polynomial.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace zoneproof::sight {

namespace {

/// Of a polynomial that has different signs at both ends and runs one way between.
double bisected(std::span<const double> a, double low, double high) {
  const bool positive = polynomial(a, low) > 0.0;
  for (;;) {
    const double middle = low + (high - low) / 2.0;
    if (middle <= low || middle >= high) return high;
    ((polynomial(a, middle) > 0.0) == positive ? low : high) = middle;
  }
}

/// Cauchy: no root is larger. `a` ends with a coefficient that is not 0.
double beyond_all_roots(std::span<const double> a) {
  double most = 0.0;
  for (std::size_t i = 0; i + 1 < a.size(); ++i) most = std::max(most, std::abs(a[i] / a.back()));
  return 1.0 + most;
}

/// All places between 0 and end where the sign changes, ascending.
std::vector<double> roots(std::vector<double> a, double end) {
  while (!a.empty() && a.back() == 0.0) a.pop_back();
  if (a.size() < 2) return {};
  std::vector<double> slope;
  for (std::size_t i = 1; i < a.size(); ++i) slope.push_back(static_cast<double>(i) * a[i]);
  std::vector<double> stops = roots(slope, end);
  stops.push_back(std::min(end, beyond_all_roots(a)));
  std::vector<double> found;
  double from = 0.0;
  for (const double to : stops) {
    if (to <= from) continue;
    if ((polynomial(a, from) > 0.0) != (polynomial(a, to) > 0.0)) found.push_back(bisected(a, from, to));
    from = to;
  }
  return found;
}

}  // namespace

double polynomial(std::span<const double> a, double x) {
  double sum = 0.0;
  for (std::size_t i = a.size(); i-- > 0;) sum = sum * x + a[i];
  return sum;
}

std::optional<double> first_root(std::span<const double> a, double end) {
  const std::vector<double> all = roots({a.begin(), a.end()}, end);
  return all.empty() ? std::nullopt : std::optional(all.front());
}

}  // namespace zoneproof::sight
