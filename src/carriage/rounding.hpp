#pragma once
#include <cmath>
#include <limits>

/// Sums, products and ratios of doubles, rounded to a chosen side, and not at all where the double is exact.
///
/// What rounding took away is found without error (sum: Knuth, The Art of Computer Programming 2, 4.2.2, theorem B;
/// product and ratio: by a fused multiply-add), so the answer is the nearest double that is not below, or not above,
/// the true value. Needs a compiler that keeps the order of operations; no overflow, nothing below 1e-290.
namespace zoneproof::carriage {

inline double next_above(double x) { return std::nextafter(x, std::numeric_limits<double>::infinity()); }
inline double next_below(double x) { return std::nextafter(x, -std::numeric_limits<double>::infinity()); }

/// What a + b is more than their rounded sum.
inline double lost_in_sum(double a, double b, double sum) {
  const double second = sum - a;
  return (a - (sum - second)) + (b - second);
}

inline double sum_up(double a, double b) {
  const double sum = a + b;
  return lost_in_sum(a, b, sum) > 0.0 ? next_above(sum) : sum;
}
inline double sum_down(double a, double b) {
  const double sum = a + b;
  return lost_in_sum(a, b, sum) < 0.0 ? next_below(sum) : sum;
}

inline double product_up(double a, double b) {
  const double product = a * b;
  return std::fma(a, b, -product) > 0.0 ? next_above(product) : product;
}
inline double product_down(double a, double b) {
  const double product = a * b;
  return std::fma(a, b, -product) < 0.0 ? next_below(product) : product;
}

/// Of b > 0.
inline double ratio_up(double a, double b) {
  const double ratio = a / b;
  return std::fma(-ratio, b, a) > 0.0 ? next_above(ratio) : ratio;
}
inline double ratio_down(double a, double b) {
  const double ratio = a / b;
  return std::fma(-ratio, b, a) < 0.0 ? next_below(ratio) : ratio;
}

}  // namespace zoneproof::carriage
