#pragma once
#include <cstdint>
#include <random>

#include "carriage/storm.hpp"

namespace zoneproof::carriage {

/// The same on every machine, unlike the distributions of the standard library.
class Chance {
 public:
  explicit Chance(std::uint64_t seed) : bits_(seed) {}
  std::int64_t between(std::int64_t low, std::int64_t high) {
    return low + static_cast<std::int64_t>(bits_() % static_cast<std::uint64_t>(high - low + 1));
  }
  bool once_in(std::int64_t times) { return between(1, times) == 1; }
  double real(double low, double high) { return low + (high - low) * static_cast<double>(bits_() >> 11) * 0x1p-53; }

 private:
  std::mt19937_64 bits_;
};

/// Up to 5 flows of up to 6 frames through up to 5 hops, forward paths of any kind: bursts, ties, rates from bottleneck
/// to plenty, frames cut or whole, pictures first here and there. Same seed, same storm.
Storm random_storm(std::uint64_t seed);

}  // namespace zoneproof::carriage
