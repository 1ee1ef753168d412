#pragma once
#include <array>
#include <cmath>
#include <cstddef>

/// Inside of the exact predicates: numbers as sums of doubles.
///
/// Shewchuk, Adaptive precision floating-point arithmetic and fast robust geometric predicates, 1997, sections 2 and 3
/// (from memory): every sum, difference and product of two doubles is the rounded result plus an error that is a double
/// itself. A number is kept as the exact sum of its parts, which do not overlap and grow in magnitude, zeros left out:
/// its sign is that of the last part. Needs rounding to nearest even, and products neither overflowed nor so small that
/// the error underflows: predicates.hpp says for which coordinates that holds. Capacities are template arguments, so
/// nothing is allocated.
namespace zoneproof::plane {

struct TwoParts {
  double high, low;  ///< rounded result, and what rounding took away
};

inline TwoParts exact_sum(double a, double b) {
  const double sum = a + b, b_seen = sum - a, a_seen = sum - b_seen;
  return {sum, (a - a_seen) + (b - b_seen)};
}

/// Where |a| >= |b|.
inline TwoParts exact_sum_ordered(double a, double b) {
  const double sum = a + b;
  return {sum, b - (sum - a)};
}

inline TwoParts exact_difference(double a, double b) { return exact_sum(a, -b); }

/// Both halves of at most 26 bits, so that their products are exact (Dekker 1971).
inline TwoParts halves(double a) {
  const double wide = 134217729.0 * a;  // 2^27 + 1
  const double high = wide - (wide - a);
  return {high, a - high};
}

inline TwoParts exact_product(double a, double b) {
  const double product = a * b;
  const TwoParts p = halves(a), q = halves(b);
  const double missing = ((p.high * q.high - product) + p.high * q.low + p.low * q.high) + p.low * q.low;
  return {product, missing};
}

template <std::size_t Capacity>
struct Expansion {
  std::array<double, Capacity> part;  // left as it is: only `size` parts are ever read
  std::size_t size = 0;

  Expansion() {}                                                           // NOLINT: the parts are not set on purpose
  explicit Expansion(TwoParts sum) { append(sum.low), append(sum.high); }  // NOLINT

  void append(double p) {
    if (p != 0.0) part[size++] = p;
  }
  int sign() const { return size == 0 ? 0 : part[size - 1] > 0.0 ? 1 : -1; }
  /// The nearest or next double or so: within 2^-51 of it.
  double about() const {
    double sum = 0.0;
    for (std::size_t i = 0; i < size; ++i) sum += part[i];
    return sum;
  }
};

/// Shewchuk's FAST-EXPANSION-SUM: merges by magnitude, then carries upward.
template <std::size_t A, std::size_t B>
Expansion<A + B> sum(const Expansion<A>& a, const Expansion<B>& b) {
  Expansion<A + B> result;
  std::size_t i = 0, j = 0;
  const auto next = [&] {
    if (j == b.size) return a.part[i++];
    if (i == a.size) return b.part[j++];
    return std::abs(a.part[i]) <= std::abs(b.part[j]) ? a.part[i++] : b.part[j++];
  };
  const std::size_t count = a.size + b.size;
  if (count == 0) return result;
  double carried = next();
  for (std::size_t k = 1; k < count; ++k) {
    const TwoParts s = exact_sum(carried, next());
    result.append(s.low);
    carried = s.high;
  }
  result.append(carried);
  return result;
}

template <std::size_t A>
Expansion<A> negated(Expansion<A> a) {
  for (std::size_t i = 0; i < a.size; ++i) a.part[i] = -a.part[i];
  return a;
}

/// SCALE-EXPANSION.
template <std::size_t A>
Expansion<2 * A> scaled(const Expansion<A>& a, double factor) {
  Expansion<2 * A> result;
  if (a.size == 0) return result;
  TwoParts carried = exact_product(a.part[0], factor);
  result.append(carried.low);
  for (std::size_t i = 1; i < a.size; ++i) {
    const TwoParts product = exact_product(a.part[i], factor);
    const TwoParts low = exact_sum(carried.high, product.low);
    result.append(low.low);
    carried = exact_sum_ordered(product.high, low.high);
    result.append(carried.low);
  }
  result.append(carried.high);
  return result;
}

template <std::size_t A, std::size_t B>
Expansion<2 * A * B> product(const Expansion<A>& a, const Expansion<B>& b) {
  Expansion<2 * A * B> result;
  for (std::size_t i = 0; i < b.size; ++i) {
    const Expansion<2 * A> row = scaled(a, b.part[i]);
    const auto longer = sum(result, row);
    result.size = longer.size;  // 2A parts a row at most, so all rows fit
    for (std::size_t k = 0; k < longer.size; ++k) result.part[k] = longer.part[k];
  }
  return result;
}

}  // namespace zoneproof::plane
