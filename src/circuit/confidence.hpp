#pragma once
#include <cstdint>
#include <vector>

/// How far chance may have led an estimate astray.
namespace zoneproof::circuit {

struct Interval {
  double low = 0.0, high = 1.0;
};

/// Share of the Beta(a, b) distribution below x: the regularised incomplete beta function, by its continued fraction
/// (Numerical Recipes 6.4; DLMF 8.17.22). a, b > 0, 0 <= x <= 1.
double beta_below(double a, double b, double x);

/// Student's t that is exceeded either way in the share 1 - confidence of all cases; `freedom` > 0.
double student_t(double confidence, double freedom);

/// Mean of independent replicates with its interval by Student's t.
Interval interval_of_mean(const std::vector<double>& replicates, double confidence);

/// Clopper & Pearson 1934: holds the true probability in at least the share `confidence` of all cases, for any number
/// of hits, zero included. `hits` of `tries` independent ones.
Interval exact_interval(std::uint64_t hits, std::uint64_t tries, double confidence);

}  // namespace zoneproof::circuit
