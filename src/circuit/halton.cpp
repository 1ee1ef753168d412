#include "circuit/halton.hpp"

#include <algorithm>
#include <numeric>
#include <utility>

namespace zoneproof::circuit {
namespace {

constexpr double least_step = 1.0 / 9007199254740992.0;  // 2^-53: finer no double tells apart

std::vector<std::uint32_t> first_primes(std::size_t count) {
  std::vector<std::uint32_t> primes;
  for (std::uint32_t candidate = 2; primes.size() < count; ++candidate) {
    const bool divided = std::any_of(primes.begin(), primes.end(), [&](std::uint32_t p) { return candidate % p == 0; });
    if (!divided) primes.push_back(candidate);
  }
  return primes;
}

/// Digits until a step is finer than any double tells apart.
int digits_of(std::uint32_t base) {
  int digits = 0;
  double step = 1.0;
  while (step > least_step) {
    step /= base;
    ++digits;
  }
  return digits;
}

}  // namespace

std::uint64_t RandomBits::next() {
  std::uint64_t z = state_ += 0x9e3779b97f4a7c15ULL;
  z = (z ^ (z >> 30U)) * 0xbf58476d1ce4e5b9ULL;
  z = (z ^ (z >> 27U)) * 0x94d049bb133111ebULL;
  return z ^ (z >> 31U);
}

double RandomBits::unit() { return (static_cast<double>(next() >> 12U) + 0.5) / 4503599627370496.0; }

std::uint32_t RandomBits::below(std::uint32_t most) {
  const std::uint64_t whole = (std::uint64_t{1} << 32U) / most * most;  // beyond it some would come more often
  for (;;) {
    const std::uint64_t bits = next() >> 32U;
    if (bits < whole) return static_cast<std::uint32_t>(bits % most);
  }
}

ScrambledHalton::ScrambledHalton(std::size_t dimensions, std::uint64_t seed) {
  RandomBits random(seed);
  for (const std::uint32_t base : first_primes(dimensions)) {
    Dimension dimension{base, {}};
    for (int digits = digits_of(base); digits > 0; --digits) {
      const auto first = static_cast<std::ptrdiff_t>(dimension.digits.size());
      dimension.digits.resize(dimension.digits.size() + base);
      std::iota(dimension.digits.begin() + first, dimension.digits.end(), 0U);
      for (std::uint32_t i = base - 1; i > 0; --i)
        std::swap(dimension.digits[static_cast<std::size_t>(first) + i],
                  dimension.digits[static_cast<std::size_t>(first) + random.below(i + 1)]);
    }
    dimensions_.push_back(std::move(dimension));
  }
}

void ScrambledHalton::point(std::uint64_t index, std::vector<double>& point) const {
  point.resize(dimensions_.size());
  for (std::size_t d = 0; d < dimensions_.size(); ++d) {
    const Dimension& dimension = dimensions_[d];
    std::uint64_t rest = index;
    double step = 1.0, sum = 0.0;
    for (std::size_t first = 0; first < dimension.digits.size(); first += dimension.base) {
      step /= dimension.base;
      sum += step * dimension.digits[first + rest % dimension.base];  // also where nothing but zeros is left
      rest /= dimension.base;
    }
    point[d] = std::min(sum, 1.0 - least_step);
  }
}

}  // namespace zoneproof::circuit
