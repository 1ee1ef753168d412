#pragma once
#include <compare>
#include <cstdint>
#include <string>

namespace zoneproof {

/// A whole number from 0 to 2^128 - 1. The standard has none. Sums and differences wrap around as those of built-in
/// unsigned numbers do; a shift by 128 or more gives 0.
struct Unsigned128 {
  std::uint64_t high = 0;
  std::uint64_t low = 0;

  friend constexpr auto operator<=>(const Unsigned128&, const Unsigned128&) = default;
  friend constexpr Unsigned128 operator&(Unsigned128 a, Unsigned128 b) { return {a.high & b.high, a.low & b.low}; }
  friend constexpr Unsigned128 operator|(Unsigned128 a, Unsigned128 b) { return {a.high | b.high, a.low | b.low}; }
  friend constexpr Unsigned128 operator~(Unsigned128 a) { return {~a.high, ~a.low}; }
  friend constexpr Unsigned128 operator+(Unsigned128 a, Unsigned128 b) {
    const std::uint64_t sum = a.low + b.low;
    return {a.high + b.high + (sum < a.low ? 1U : 0U), sum};
  }
  friend constexpr Unsigned128 operator-(Unsigned128 a, Unsigned128 b) {
    return {a.high - b.high - (a.low < b.low ? 1U : 0U), a.low - b.low};
  }
  friend constexpr Unsigned128 operator<<(Unsigned128 a, unsigned bits) {
    if (bits == 0) return a;
    if (bits >= 128) return {};
    if (bits >= 64) return {a.low << (bits - 64), 0};
    return {(a.high << bits) | (a.low >> (64 - bits)), a.low << bits};
  }
  friend constexpr Unsigned128 operator>>(Unsigned128 a, unsigned bits) {
    if (bits == 0) return a;
    if (bits >= 128) return {};
    if (bits >= 64) return {0, a.high >> (bits - 64)};
    return {a.high >> bits, (a.low >> bits) | (a.high << (64 - bits))};
  }
};

inline constexpr Unsigned128 kOne128 = {0, 1};

/// In decimal digits.
std::string text(Unsigned128 number);

}  // namespace zoneproof
