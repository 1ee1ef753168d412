#pragma once
#include <cstdint>
#include <vector>

#include "circuit/confidence.hpp"
#include "circuit/network.hpp"
#include "circuit/solve.hpp"
#include "circuit/spread.hpp"
#include "circuit/worst_case.hpp"

/// How likely a quantity of a network leaves its band when every value falls into its range by chance.
///
/// Model. Every range of the network is an independent random variable with the law of spread.hpp, but for what is
/// held: contacts that may stand either way (is_switch), for which there is no chance, only an adversary. Each side of
/// the band says at which values it holds them. Outside counts what lies beyond a side, and what has no operating
/// point.
///
/// linear_spread(): the quantity is taken as linear about the middle of all distributions; then its variance is the sum
/// of the variances that the parameters make one by one (root-sum-square: JCGM 100:2008, 5.1.2), and each has a share
/// of it. Slopes by central differences over a hundredth of a standard deviation: exact to a few parts in 10^5 where
/// the quantity bends like a divider. Wrong where a diode begins to conduct within the spread: the chance below is not.
///
/// chance_outside(): independent replicates of randomised quasi-random points (halton.hpp), the parameters of largest
/// share in the best dimensions; the mean of their shares outside, with the interval of Student's t. A t interval means
/// nothing where next to nothing is counted: unless every replicate has at least ten points on either side, the
/// estimate is made anew with as many plainly independent random points, with the exact interval of Clopper & Pearson.
/// So no count, zero included, is ever taken for certainty. What the worst case holds inside its band has no chance at
/// all; ask worst_case first, it costs less.
///
/// Not covered: ranges that move together (the cores of one cable, the air of one room). Taken as independent they
/// average out more than they do on the wall, so their part of the spread is told too small; where that part matters,
/// believe the worst case.
/// Cost: 16384 solutions by batches (batch.hpp), twice that where the counts are small: 4 ms for a divider, 50 ms for a
/// reading of a site, most of it for drawing the points, on one core. Deterministic for a seed, on any number of
/// threads.
namespace zoneproof::circuit {

/// One side of a band: `quantity` at least (or at most) `limit`, with the elements of `held` at their values there.
struct BandSide {
  Quantity quantity;
  double limit = 0.0;
  bool at_least = true;
  Corner held;
};

struct YieldOptions {
  SpreadLaw law;
  SolveOptions solve = {};
  double confidence = 0.95;
  int replicates = 16;
  int points = 1024;  ///< of a replicate
  std::uint64_t seed = 1;
};

/// Share of the variance that one parameter makes: an element's value, or a diode's on_ohm.
struct VarianceShare {
  ElementIndex element = 0;
  bool on_ohm = false;
  double share = 0.0;  ///< of 1
};

struct LinearSpread {
  Trouble trouble = Trouble::none;    ///< where it is neither none nor leakage_defined nothing else is filled in
  double middle = 0.0;                ///< of the quantity, with every parameter at the middle of its distribution
  double sigma = 0.0;                 ///< standard deviation of the quantity
  std::vector<VarianceShare> shares;  ///< largest first, all parameters; empty where sigma is zero
};

/// A switch that is not held is a defect of the caller (std::invalid_argument), here and below.
/// Cost: two sets of a batch a parameter.
LinearSpread linear_spread(const Network& network, const Quantity& quantity, const Corner& held,
                           const YieldOptions& options);

struct Chance {
  double outside = 0.0;        ///< estimate, of 1
  Interval interval;           ///< at options.confidence
  bool replicated = false;     ///< the interval is Student's t over replicates; else Clopper & Pearson's
  std::uint64_t tries = 0;     ///< points that the estimate rests on
  std::uint64_t outliers = 0;  ///< of them outside
};

/// No side: nothing can be left (std::invalid_argument).
Chance chance_outside(const Network& network, const std::vector<BandSide>& sides, const YieldOptions& options);

}  // namespace zoneproof::circuit
