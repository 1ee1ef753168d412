#include "field/walk.hpp"

#include <algorithm>
#include <limits>
#include <numeric>

namespace zoneproof::field {

namespace {

using Round = std::vector<std::size_t>;

/// Below this a shortening is rounding, and exchanging edges could go round in circles.
constexpr double least_gain_m = 1e-9;

Round as_given(std::size_t count) {
  Round round(count);
  std::iota(round.begin(), round.end(), std::size_t{0});
  return round;
}

/// Held & Karp: shortest way from place 0 through every subset to each of its places, then back.
Round shortest_round(const Distances& d) {
  const std::size_t rest = d.size() - 1;  // place i + 1 is bit i
  const std::size_t subsets = std::size_t{1} << rest;
  constexpr double far = std::numeric_limits<double>::infinity();
  std::vector<double> best(subsets * rest, far);
  std::vector<std::size_t> before(subsets * rest, rest);
  for (std::size_t i = 0; i < rest; ++i) best[(std::size_t{1} << i) * rest + i] = d[0][i + 1];
  for (std::size_t subset = 1; subset < subsets; ++subset) {
    for (std::size_t last = 0; last < rest; ++last) {
      const double here = best[subset * rest + last];
      if (here == far) continue;
      for (std::size_t next = 0; next < rest; ++next) {
        if ((subset >> next & 1U) != 0) continue;
        const std::size_t at = (subset | std::size_t{1} << next) * rest + next;
        const double longer = here + d[last + 1][next + 1];
        if (!(longer < best[at])) continue;
        best[at] = longer;
        before[at] = last;
      }
    }
  }
  std::size_t subset = subsets - 1, last = 0;
  for (std::size_t i = 1; i < rest; ++i) {
    if (best[subset * rest + i] + d[i + 1][0] < best[subset * rest + last] + d[last + 1][0]) last = i;
  }
  Round round;
  while (last != rest) {
    round.push_back(last + 1);
    const std::size_t at = subset * rest + last;
    subset &= ~(std::size_t{1} << last);
    last = before[at];
  }
  round.push_back(0);
  std::reverse(round.begin(), round.end());
  return round;
}

Round nearest_neighbour(const Distances& d) {
  Round round = {0};
  std::vector<bool> been(d.size(), false);
  been[0] = true;
  while (round.size() < d.size()) {
    std::size_t next = d.size();
    for (std::size_t i = 0; i < d.size(); ++i) {
      if (!been[i] && (next == d.size() || d[round.back()][i] < d[round.back()][next])) next = i;
    }
    been[next] = true;
    round.push_back(next);
  }
  return round;
}

/// Turns stretches round as long as that shortens the round; place 0 stays first.
Round improved(const Distances& d, Round round) {
  const std::size_t count = round.size();
  for (bool shorter = true; shorter;) {
    shorter = false;
    for (std::size_t i = 1; i + 1 < count; ++i) {
      for (std::size_t j = i + 1; j < count; ++j) {
        const std::size_t a = round[i - 1], b = round[i], c = round[j], e = round[(j + 1) % count];
        if (d[a][b] + d[c][e] - d[a][c] - d[b][e] <= least_gain_m) continue;
        std::reverse(round.begin() + static_cast<std::ptrdiff_t>(i),
                     round.begin() + static_cast<std::ptrdiff_t>(j) + 1);
        shorter = true;
      }
    }
  }
  return round;
}

}  // namespace

double length_of(const Distances& distances, const std::vector<std::size_t>& round) {
  double length = 0.0;
  for (std::size_t i = 0; i < round.size(); ++i) length += distances[round[i]][round[(i + 1) % round.size()]];
  return length;
}

std::vector<std::size_t> short_round(const Distances& distances) {
  const std::size_t count = distances.size();
  if (count <= 3) return as_given(count);  // a triangle has one round
  if (count <= most_exact) return shortest_round(distances);
  const Round near = improved(distances, nearest_neighbour(distances));
  const Round given = improved(distances, as_given(count));
  return length_of(distances, near) < length_of(distances, given) ? near : given;
}

}  // namespace zoneproof::field
