#pragma once
#include <cstdint>
#include <limits>

namespace zoneproof::carriage {

/// Whole nanoseconds: they add without rounding, and 292 years fit.
using Nanoseconds = std::int64_t;
using Bits = std::int64_t;

constexpr Nanoseconds kNanosecondsPerSecond = 1'000'000'000;
constexpr Bits kMostBitsOfFrame = std::numeric_limits<std::int32_t>::max();

/// A picture as it leaves the encoder: complete at once.
struct Frame {
  Nanoseconds at = 0;  ///< since the clip was released; 0 or more
  Bits bits = 0;       ///< with all that is wrapped around it; 1 ... kMostBitsOfFrame

  bool operator==(const Frame&) const = default;
};

}  // namespace zoneproof::carriage
