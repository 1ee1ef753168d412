#pragma once
#include <optional>
#include <span>

namespace zoneproof::sight {

/// a[0] + a[1] x + a[2] x^2 + ...
double polynomial(std::span<const double> a, double x);

/// The first place above 0 where a polynomial that is positive at 0 is so no longer; nothing where it stays positive
/// up to `end` (which may be infinite). Between the roots of its derivative a polynomial runs one way, so it has one
/// root there at most, and bisection finds it to the last digit. At a root that it only touches, rounding decides
/// whether it is found; it is then the end of nothing. Cost: microseconds.
std::optional<double> first_root(std::span<const double> a, double end);

}  // namespace zoneproof::sight
