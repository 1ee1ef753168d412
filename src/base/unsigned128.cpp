#include "base/unsigned128.hpp"

#include <algorithm>

namespace zoneproof {

namespace {

/// Divides by ten in place and gives the remainder: long division in digits of 32 bits, so that no step overflows.
unsigned last_digit_taken(Unsigned128& number) {
  constexpr std::uint64_t kLow = 0xFFFFFFFF;
  std::uint64_t rest = 0;
  for (std::uint64_t* half : {&number.high, &number.low}) {
    const std::uint64_t upper = (rest << 32U) | (*half >> 32U);
    const std::uint64_t lower = ((upper % 10) << 32U) | (*half & kLow);
    *half = ((upper / 10) << 32U) | (lower / 10);
    rest = lower % 10;
  }
  return static_cast<unsigned>(rest);
}

}  // namespace

std::string text(Unsigned128 number) {
  std::string digits;
  do {
    digits += static_cast<char>('0' + last_digit_taken(number));
  } while (number != Unsigned128{});
  std::reverse(digits.begin(), digits.end());
  return digits;
}

}  // namespace zoneproof
