#pragma once
#include "site/field.hpp"

/// For the definitions_*.cpp only: how one line defines a field. `Here` is the struct being defined; the key is the
/// member's name by construction.
#define ZONEPROOF_FIELD(name) field<&Here::name>(#name)

namespace zoneproof::site {

// Ranges that several fields share: what can exist in and around a low-voltage alarm system, generously. Outside of
// them a number is a slip of the pen or a wrong unit. They are no acceptance limits: those stand in rulebooks.
inline constexpr double kMostVolts = 60.0;  // extra-low voltage, with room for 48 V PoE
inline constexpr double kMostAmperes = 100.0;
inline constexpr double kMostOhms = 1e12;  // the insulation of dry cable
inline constexpr double kMostSeconds = 3600.0;
inline constexpr std::size_t kLongestColours = 80;      // letters of the colours of one conductor
inline constexpr double kLongestPoll = 32.0 * 86400.0;  // once a month and a day over
inline constexpr double kFarOnPlan = 20'000.0;          // metres from the plan's origin
inline constexpr double kHighest = 500.0;               // metres above or below a floor
inline constexpr double kLargestPicture = 100'000.0;    // pixels along a side of a picture that is traced
inline constexpr double kLongestRange = 2'000.0;        // metres that a detector or a camera's light reaches
inline constexpr double kColdest = -60.0;               // degrees Celsius, where alarm equipment is found
inline constexpr double kHottest = 120.0;

}  // namespace zoneproof::site
