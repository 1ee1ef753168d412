#include "circuit/yield.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <stdexcept>

#include "circuit/confidence.hpp"
#include "circuit/halton.hpp"
#include "circuit/ranges.hpp"
#include "circuit/spread.hpp"

namespace zoneproof::circuit {
namespace {

constexpr SpreadLaw even = {0.0, 10.0};
constexpr SpreadLaw three_sigmas = {3.0, 10.0};

YieldOptions with(const SpreadLaw& law, std::uint64_t seed = 1) {
  YieldOptions options{law};
  options.seed = seed;
  return options;
}

/// One volt over two resistors of 5 %.
struct Divider {
  Network network;
  Quantity output;
  ElementIndex upper, lower;

  explicit Divider(double tolerance = 0.05) {
    const Node source = network.node("source"), tap = network.node("tap");
    network.voltage("supply", reference, source, Range::exactly(1.0));
    upper = network.resistor("upper", source, tap, within(1000.0, tolerance));
    lower = network.resistor("lower", tap, reference, within(1000.0, tolerance));
    output = Quantity::voltage(tap);
  }
};

/// P(lower < c upper), both evenly in [a, b] = 1 -+ t: the triangle below the line, by hand:
/// (c b - a)^2 / (2 c (b - a)^2) for a/b <= c <= 1.
double triangle(double c, double t) {
  const double a = 1.0 - t, b = 1.0 + t;
  return (c * b - a) * (c * b - a) / (2.0 * c * (b - a) * (b - a));
}

TEST(Yield, a_divider_leaves_its_band_as_often_as_the_triangle_is_large) {
  const Divider divider;
  for (const double c : {0.92, 0.95, 0.98, 1.0}) {
    const BandSide side{divider.output, c / (1.0 + c), true, {}};
    const Chance chance = chance_outside(divider.network, {side}, with(even));
    const double truth = triangle(c, 0.05);
    EXPECT_LE(chance.interval.low, truth) << c;
    EXPECT_GE(chance.interval.high, truth) << c;
    EXPECT_NEAR(chance.outside, truth, 0.05 * truth) << c;
  }
}

TEST(Yield, both_sides_of_a_band_count) {
  const Divider divider;
  const BandSide low{divider.output, 0.95 / 1.95, true, {}}, high{divider.output, 1.0 / 1.95, false, {}};
  const Chance chance = chance_outside(divider.network, {low, high}, with(even));
  const double truth = 2.0 * triangle(0.95, 0.05);  // the same by exchange of the two resistors
  EXPECT_LE(chance.interval.low, truth);
  EXPECT_GE(chance.interval.high, truth);
}

// 93 ppm: most replicates see one point or none. The interval is that of plain trials, and holds the truth.
TEST(Yield, a_rare_miss_gets_the_exact_interval) {
  const Divider divider;
  const BandSide side{divider.output, 0.906 / 1.906, true, {}};
  const Chance chance = chance_outside(divider.network, {side}, with(even));
  EXPECT_FALSE(chance.replicated);
  EXPECT_LE(chance.interval.low, triangle(0.906, 0.05));
  EXPECT_GE(chance.interval.high, triangle(0.906, 0.05));
}

TEST(Yield, no_miss_seen_is_never_told_as_certainty) {
  const Divider divider;
  const Chance chance = chance_outside(divider.network, {{divider.output, 0.4, true, {}}}, with(even));
  EXPECT_EQ(chance.outliers, 0U);
  EXPECT_EQ(chance.interval.low, 0.0);
  EXPECT_NEAR(chance.interval.high, 1.0 - std::pow(0.025, 1.0 / 16384.0), 1e-12);  // closed form for no hit
}

// Of 60 seeds some 57 should; fewer than 50 come with a chance below 1 in 1000 (binomial).
TEST(Yield, nine_intervals_in_ten_and_more_hold_the_truth) {
  const Divider divider;
  const double truth = triangle(0.95, 0.05);
  int holding = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    YieldOptions options = with(even, seed);
    options.points = 256;
    const Chance chance = chance_outside(divider.network, {{divider.output, 0.95 / 1.95, true, {}}}, options);
    EXPECT_TRUE(chance.replicated);
    if (chance.interval.low <= truth && truth <= chance.interval.high) ++holding;
  }
  EXPECT_GE(holding, 50);
}

// A zone loop as it is found on a wall: source, pull-up, cable, resistor at the end; 10^6 plain samples of the formula
// that anybody writes down for it, with another generator.
TEST(Yield, agrees_with_a_million_plain_samples) {
  Network network;
  const Node source = network.node("source"), zone = network.node("zone"), far = network.node("far");
  const Range volts = within(5.0, 0.03), pull = within(5600.0, 0.05), cable = {20.0, 5.0, 40.0},
              end = within(5600.0, 0.02);
  network.voltage("supply", reference, source, volts);
  network.resistor("pull_up", source, zone, pull);
  network.resistor("cable", zone, far, cable);
  network.resistor("end", far, reference, end);
  const double limit = 2.58;
  const Chance chance = chance_outside(network, {{Quantity::voltage(zone), limit, false, {}}}, with({0.0, 100.0}));
  std::mt19937_64 random(7);
  const auto draw = [&](const Range& range) {
    return std::uniform_real_distribution<double>(range.low, range.high)(random);
  };
  constexpr int samples = 1000000;
  int outside = 0;
  for (int i = 0; i < samples; ++i) {
    const double below = draw(cable) + draw(end);
    if (draw(volts) * below / (below + draw(pull)) > limit) ++outside;
  }
  const double plain = static_cast<double>(outside) / samples;
  EXPECT_GT(plain, 0.01);
  EXPECT_LE(chance.interval.low, plain);
  EXPECT_GE(chance.interval.high, plain);
  EXPECT_LT(chance.interval.high - chance.interval.low, 0.1 * plain);  // the interval says something
}

TEST(Yield, linear_spread_is_that_of_the_propagation_law) {
  Divider divider(0.01);
  divider.network.element(0).value = within(1.0, 0.02);
  const LinearSpread linear = linear_spread(divider.network, divider.output, {}, with(even));
  // v = V l / (u + l): dv/dV = 1/2, dv/dl = -dv/du = V / (4 R); even distributions: half the width / sqrt(3).
  const double from_source = 0.5 * 0.02 / std::sqrt(3.0), from_resistor = 0.25 * 0.01 / std::sqrt(3.0);
  const double variance = from_source * from_source + 2.0 * from_resistor * from_resistor;
  EXPECT_NEAR(linear.middle, 0.5, 1e-12);
  EXPECT_NEAR(linear.sigma, std::sqrt(variance), 1e-6 * std::sqrt(variance));
  ASSERT_EQ(linear.shares.size(), 3U);
  EXPECT_EQ(linear.shares.front().element, 0);
  EXPECT_NEAR(linear.shares[0].share, from_source * from_source / variance, 1e-6);
  EXPECT_NEAR(linear.shares[1].share, from_resistor * from_resistor / variance, 1e-6);
  EXPECT_NEAR(linear.shares[2].share, from_resistor * from_resistor / variance, 1e-6);
}

// A clamp bends the quantity; its middle lies where it does not conduct, so only the samples see it.
TEST(Yield, a_clamp_that_conducts_in_part_of_the_box_counts) {
  Network network;
  const Node source = network.node("source"), input = network.node("input");
  network.voltage("supply", reference, source, {1.0, 0.0, 2.0});
  network.resistor("series", source, input, Range::exactly(1000.0));
  network.diode("clamp", input, reference, Range::exactly(1.2), Range::exactly(1000.0));
  // Above 1.2 V the input follows with half the slope: more than 1.4 V for sources beyond 1.6 V, a fifth of all.
  const Chance chance = chance_outside(network, {{Quantity::voltage(input), 1.4, false, {}}}, with(even));
  EXPECT_LE(chance.interval.low, 0.2);
  EXPECT_GE(chance.interval.high, 0.2);
  EXPECT_NEAR(chance.outside, 0.2, 0.005);
}

TEST(Yield, a_diodes_own_resistance_is_a_parameter) {
  Network network;
  const Node source = network.node("source"), input = network.node("input");
  network.voltage("supply", reference, source, Range::exactly(3.0));
  network.resistor("series", source, input, Range::exactly(100.0));
  network.diode("clamp", input, reference, Range::exactly(1.0), {100.0, 50.0, 150.0});
  // v = 1 + 2 r / (100 + r) <= 2 for r <= 100: half of all.
  const Chance chance = chance_outside(network, {{Quantity::voltage(input), 2.0, false, {}}}, with(even));
  EXPECT_NEAR(chance.outside, 0.5, 0.01);
  const LinearSpread linear = linear_spread(network, Quantity::voltage(input), {}, with(even));
  ASSERT_EQ(linear.shares.size(), 1U);
  EXPECT_TRUE(linear.shares.front().on_ohm);
  EXPECT_NEAR(linear.sigma, 2.0 * 100.0 / (200.0 * 200.0) * 50.0 / std::sqrt(3.0), 1e-5);
}

// A load of 2.5 W behind 10 ohm runs only from 10 V on (most power at half the voltage: V^2 / 4 R).
TEST(Yield, what_has_no_operating_point_is_outside) {
  Network network;
  const Node source = network.node("source"), load = network.node("load");
  network.voltage("supply", reference, source, {10.0, 9.0, 11.0});
  network.resistor("wire", source, load, Range::exactly(10.0));
  network.constant_power("load", load, reference, Range::exactly(2.5), 1.0);
  const Chance chance = chance_outside(network, {{Quantity::voltage(load), 0.0, true, {}}}, with(even));
  EXPECT_NEAR(chance.outside, 0.5, 0.01);
}

TEST(Yield, a_contact_that_may_stand_either_way_has_to_be_held) {
  Divider divider;
  const ElementIndex contact =
      divider.network.resistor("contact", divider.network.node("tap"), reference, {1.0, 0.5, infinite});
  const Quantity output = divider.output;
  EXPECT_THROW(chance_outside(divider.network, {{output, 0.4, true, {}}}, with(even)), std::invalid_argument);
  EXPECT_THROW(linear_spread(divider.network, output, {}, with(even)), std::invalid_argument);
  const BandSide open{output, 0.95 / 1.95, true, {{contact, infinite, true}}};
  EXPECT_NEAR(chance_outside(divider.network, {open}, with(even)).outside, triangle(0.95, 0.05), 0.01);
  const BandSide closed{output, 0.6, false, {{contact, 0.5, false}}};
  const Chance both = chance_outside(divider.network, {open, closed}, with(even));
  EXPECT_NEAR(both.outside, triangle(0.95, 0.05), 0.01);
  const BandSide neither{output, 0.6, false, {}};
  EXPECT_THROW(chance_outside(divider.network, {open, neither}, with(even)), std::invalid_argument);
  EXPECT_THROW(chance_outside(divider.network, {}, with(even)), std::invalid_argument);
}

TEST(Yield, the_same_seed_gives_the_same_answer) {
  const Divider divider;
  const BandSide side{divider.output, 0.95 / 1.95, true, {}};
  const Chance a = chance_outside(divider.network, {side}, with(even, 5));
  const Chance b = chance_outside(divider.network, {side}, with(even, 5));
  const Chance other = chance_outside(divider.network, {side}, with(even, 6));
  EXPECT_EQ(a.outliers, b.outliers);
  EXPECT_EQ(a.interval.high, b.interval.high);
  EXPECT_NE(a.interval.high, other.interval.high);
}

// --- distributions --------------------------------------------------------------------------------------------------

// Tables of the standard normal: below one deviation 0.841345, two 0.977250, three 0.998650 of all.
TEST(Spread, a_cut_normal_has_the_shares_of_the_table) {
  const Spread spread({10.0, 7.0, 13.0}, three_sigmas);
  const double below = 1.0 - 0.998650, kept = 1.0 - 2.0 * below;
  EXPECT_NEAR(spread.at_share((0.841345 - below) / kept), 11.0, 1e-5);
  EXPECT_NEAR(spread.at_share((0.977250 - below) / kept), 12.0, 2e-5);
  EXPECT_NEAR(spread.at_share(1.0 - (0.977250 - below) / kept), 8.0, 2e-5);
  EXPECT_DOUBLE_EQ(spread.at_share(0.5), 10.0);
  EXPECT_DOUBLE_EQ(spread.at_share(0.0), 7.0);
  EXPECT_DOUBLE_EQ(spread.at_share(1.0), 13.0);
}

/// Mean square about the middle by the midpoint rule: no formula of the engine in it.
double sigma_by_sum(const Spread& spread, double middle) {
  constexpr int steps = 200000;
  double sum = 0.0;
  for (int i = 0; i < steps; ++i) {
    const double away = spread.at_share((i + 0.5) / steps) - middle;
    sum += away * away;
  }
  return std::sqrt(sum / steps);
}

TEST(Spread, its_standard_deviation_is_that_of_its_values) {
  for (const double sigmas : {0.0, 0.005, 0.05, 0.5, 1.0, 2.0, 3.0, 6.0}) {
    const Spread spread({1.0, 0.0, 2.0}, {sigmas, 10.0});
    EXPECT_NEAR(spread.sigma(), sigma_by_sum(spread, 1.0), 2e-5 * spread.sigma()) << sigmas;
  }
}

TEST(Spread, decades_are_even_in_the_logarithm_and_leaks_in_conductance) {
  const Spread decades({1.0, 0.01, 100.0}, three_sigmas);
  EXPECT_EQ(decades.scale(), Scale::logarithmic);
  EXPECT_NEAR(decades.at_share(0.25), 0.1, 1e-12);
  EXPECT_NEAR(decades.at_share(0.75), 10.0, 1e-9);
  const Spread leak({1e9, 1e6, infinite}, three_sigmas);
  EXPECT_EQ(leak.scale(), Scale::conductance);
  EXPECT_NEAR(leak.at_share(0.5), 2e6, 1e-3);
  EXPECT_EQ(leak.at_share(0.0), infinite);
  EXPECT_NEAR(leak.at_share(1.0), 1e6, 1e-6);
  EXPECT_EQ(Spread({5.0, 0.0, 10.0}, even).scale(), Scale::linear);
  EXPECT_EQ(Spread({5.0, 1.01, 10.0}, even).scale(), Scale::linear);
  EXPECT_THROW(Spread({5.0, 0.0, infinite}, even), std::invalid_argument);
  EXPECT_THROW(Spread(Range::exactly(5.0), even), std::invalid_argument);
  EXPECT_THROW(Spread({5.0, 1.0, 10.0}, {0.0, 1.0}), std::invalid_argument);
}

// --- points and intervals -------------------------------------------------------------------------------------------

// The first b^k points have one in each of the b^k equal parts, whatever the permutations (Halton 1960).
TEST(Halton, the_first_points_fill_every_part_once) {
  const ScrambledHalton halton(4, 99);
  const int bases[] = {2, 3, 5, 7};
  std::vector<double> point;
  for (std::size_t d = 0; d < 4; ++d) {
    const int parts = bases[d] * bases[d] * bases[d];
    std::vector<int> hits(static_cast<std::size_t>(parts), 0);
    for (int i = 0; i < parts; ++i) {
      halton.point(static_cast<std::uint64_t>(i), point);
      ++hits.at(static_cast<std::size_t>(point[d] * parts + 1e-9));
    }
    for (const int hit : hits) EXPECT_EQ(hit, 1) << bases[d];
  }
}

// Every single point is evenly distributed over the seeds: mean 1/2, variance 1/12.
TEST(Halton, every_point_is_even_over_the_seeds) {
  constexpr int seeds = 4000;
  double sum = 0.0, squares = 0.0;
  std::vector<double> point;
  for (int seed = 0; seed < seeds; ++seed) {
    ScrambledHalton(3, static_cast<std::uint64_t>(seed)).point(0, point);
    sum += point[2];
    squares += (point[2] - 0.5) * (point[2] - 0.5);
  }
  EXPECT_NEAR(sum / seeds, 0.5, 4.0 / std::sqrt(12.0 * seeds));
  EXPECT_NEAR(squares / seeds, 1.0 / 12.0, 0.005);
}

// NIST/SEMATECH e-Handbook of Statistical Methods, table 1.3.6.7.2 (from memory).
TEST(Confidence, students_t_is_that_of_the_table) {
  EXPECT_NEAR(student_t(0.95, 1), 12.706, 5e-4);
  EXPECT_NEAR(student_t(0.95, 10), 2.228, 5e-4);
  EXPECT_NEAR(student_t(0.95, 15), 2.131, 5e-4);
  EXPECT_NEAR(student_t(0.95, 30), 2.042, 5e-4);
  EXPECT_NEAR(student_t(0.99, 15), 2.947, 5e-4);
}

/// P(at most k of n) by summing the binomial distribution.
double at_most(int k, int n, double p) {
  double term = std::pow(1.0 - p, n), sum = 0.0;
  for (int i = 0; i <= k; ++i) {
    sum += term;
    term *= p / (1.0 - p) * (n - i) / (i + 1.0);
  }
  return sum;
}

// The definition of Clopper & Pearson: at either end the count seen, or a farther one, comes in 2.5 % of all cases.
TEST(Confidence, the_exact_interval_is_that_of_the_binomial_sums) {
  for (const int hits : {1, 3, 10, 40}) {
    const Interval interval = exact_interval(static_cast<std::uint64_t>(hits), 100, 0.95);
    EXPECT_NEAR(1.0 - at_most(hits - 1, 100, interval.low), 0.025, 1e-10) << hits;
    EXPECT_NEAR(at_most(hits, 100, interval.high), 0.025, 1e-10) << hits;
  }
  EXPECT_EQ(exact_interval(0, 100, 0.95).low, 0.0);
  EXPECT_NEAR(exact_interval(0, 100, 0.95).high, 1.0 - std::pow(0.025, 0.01), 1e-12);
  EXPECT_EQ(exact_interval(100, 100, 0.95).high, 1.0);
  EXPECT_NEAR(exact_interval(2, 1000000, 0.95).high, 7.2247e-6, 1e-9);  // Poisson: chi-square(0.975, 6) / 2 = 7.2247
}

}  // namespace
}  // namespace zoneproof::circuit
