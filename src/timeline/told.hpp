#pragma once
#include <vector>

#include "chain/evidence.hpp"
#include "site/model.hpp"

/// Lengths of time and moments, as intervals, with what they rest on.
namespace zoneproof::timeline {

/// From the shortest to the longest, or from the earliest to the latest; in seconds.
struct Span {
  double low = 0.0, high = 0.0;
};

/// One of them as the site tells it. Where something is missing it is not known, and the gaps name that; a known one
/// may have gaps too, where it rests on what is only typical or assumed.
struct Told {
  Span span;
  bool known = true;
  std::vector<chain::Gap> gaps = {};
  site::Origin origin = site::Origin::measured;  ///< the weakest that it rests on
};

/// A value with its range; "none" is no time at all.
Told told(const site::Value& value);
/// A value that names the longest: anything from nothing to that.
Told up_to(const site::Value& value);
/// Not known, for want of what stands at the pointer.
Told not_told(const std::string& pointer, const char* reason = "unknown");

/// One after the other; one counted back from the other.
Told after(const Told& first, const Told& then);
Told before(const Told& moment, const Told& length);
/// Whichever of two it is.
Told either(const Told& a, const Told& b);

}  // namespace zoneproof::timeline
