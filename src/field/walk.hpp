#pragma once
#include <cstddef>
#include <optional>
#include <vector>

/// A short round through places: the travelling salesman's problem on a matrix of distances.
///
/// Method. Up to `most_exact` places the shortest round by dynamic programming over subsets (Held & Karp, J. SIAM 10
/// (1962) 196; Bellman, J. ACM 9 (1962) 61). More: the nearest neighbour from the first place, and the order as given,
/// each improved by exchanging two edges as long as one is found that shortens the round (2-opt, Croes, Operations
/// Research 6 (1958) 791); the shorter of the two. So it is never longer than the order as given; it need not be the
/// shortest.
namespace zoneproof::field {

/// Metres between every two places, symmetric, nothing negative. Square: `distances[i][j]`.
using Distances = std::vector<std::vector<double>>;

/// From here on the round is improved, no longer found: 2^n n^2 steps are taken up to it.
inline constexpr std::size_t most_exact = 11;

/// The places in the order of a short round that begins (and ends) at place 0. Empty for no places.
std::vector<std::size_t> short_round(const Distances& distances);

/// Metres of a round: from each place to the next, and from the last back to the first.
double length_of(const Distances& distances, const std::vector<std::size_t>& round);

}  // namespace zoneproof::field
