// Looks that pass by every pulse, against looking by brute force at every phase; how long a level has to stand still.
#include "electric/pulse_tap_check.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace zoneproof::electric {
namespace {

Seconds exactly(double seconds) { return {seconds, seconds}; }
Seconds whole(long moments) { return exactly(static_cast<double>(moments)); }

/// Whether looks `spacing` apart, the first at `phase`, ever fall into the first `still` seconds of a period; at
/// times that are whole numbers of a unit, so that nothing is rounded.
bool ever_meets(long spacing, long period, long still, long phase) {
  for (long i = 0; i < period; ++i) {  // moments repeat after at most `period` looks
    if ((phase + i * spacing) % period < still) return true;
  }
  return false;
}

bool may_miss(long spacing, long period, long still) {
  for (long phase = 0; phase < period; ++phase) {
    if (!ever_meets(spacing, period, still, phase)) return true;
  }
  return false;
}

TEST(LooksThatMiss, AreThoseThatMissByBruteForce) {
  int missing = 0, meeting = 0;
  for (long period = 8; period <= 60; period += 4) {
    for (long still = 1; still < period; still += 2) {
      for (long spacing = 1; spacing <= 2 * period; ++spacing) {
        // Half a moment less than whole: no look falls on the end of a stretch. Brute force counts in halves.
        const auto found = looks_that_miss(whole(spacing), whole(period), static_cast<double>(still) - 0.5);
        EXPECT_EQ(found.has_value(), may_miss(2 * spacing, 2 * period, 2 * still - 1))
            << spacing << " " << period << " " << still;
        EXPECT_NEAR(found.value_or(static_cast<double>(spacing)), static_cast<double>(spacing), 1e-6);
        ++(found ? missing : meeting);
      }
    }
  }
  EXPECT_GT(missing, 1000);
  EXPECT_GT(meeting, 1000);
}

TEST(LooksThatMiss, LieWithinWhatTheUnitMayDo) {
  std::mt19937 random(11);
  std::uniform_real_distribution<double> share(0.0, 1.0);
  int found = 0;
  for (int round = 0; round < 2000; ++round) {
    const double period = 0.005 + 0.05 * share(random), low = 0.05 * share(random);
    const Seconds apart{low, low + 0.01 * share(random)}, periods{period, period * (1.0 + 0.02 * share(random))};
    const double still = period * share(random);
    const auto looks = looks_that_miss(apart, periods, still);
    if (!looks) continue;
    ++found;
    EXPECT_GE(*looks, apart.low * (1.0 - 1e-6));
    EXPECT_LE(*looks, apart.high * (1.0 + 1e-6));
  }
  EXPECT_GT(found, 200);
}

TEST(LooksThatMiss, AreNoneOfAUnitThatLooksAllTheTimeOrInsideEveryStretch) {
  EXPECT_FALSE(looks_that_miss({0.0, 0.0}, exactly(0.02), 0.001));
  EXPECT_FALSE(looks_that_miss({0.0, 0.001}, exactly(0.02), 0.001)) << "no two looks are further apart than the pulse";
  EXPECT_TRUE(looks_that_miss({0.005, 0.02}, exactly(0.05), 0.002)) << "10 ms: a fifth of the period";
  EXPECT_FALSE(looks_that_miss(exactly(0.02), exactly(0.02), 0.02)) << "stands still for all of the period";
}

/// A unit that looks every `apart` and believes what it has read for `wait` on end, at every phase: whether a stretch
/// of `still` in every period is always believed. In the rest of the period it reads the other thing, which is the
/// worst that the rest can do.
bool believed_at_every_phase(double apart, double wait, double period, double still) {
  const double step = apart / 50.0;
  for (double phase = 0.0; phase < apart; phase += step) {
    bool believed = false;
    double since = -1.0;
    for (double t = phase; t < 20.0 * period; t += apart) {
      const bool here = std::fmod(t, period) < still;
      if (!here) since = -1.0;
      if (here && since < 0.0) since = t;
      believed = believed || (here && t - since >= wait);
    }
    if (!believed) return false;
  }
  return true;
}

TEST(StillFor, IsEnoughForAUnitThatLooksAtAnyPhaseAndWaits) {
  for (const double apart : {0.0011, 0.0017, 0.0023}) {
    for (const double wait : {0.0, 0.0031, 0.0047, 0.05}) {
      for (const double period : {0.0201, 0.0307, 0.071}) {
        const double still = still_for({apart, apart}, {wait, wait});
        if (still > period) continue;
        EXPECT_TRUE(believed_at_every_phase(apart, wait, period, still)) << apart << " " << wait << " " << period;
      }
    }
  }
  EXPECT_FALSE(believed_at_every_phase(0.0017, 0.05, 0.0201, 0.003)) << "50 ms are never read on end";
}

}  // namespace
}  // namespace zoneproof::electric
