// What has to hold for every storm.
#include <gtest/gtest.h>

#include <algorithm>
#include <numeric>

#include "carriage/delivery_bound.hpp"
#include "carriage/random_storm.hpp"

namespace zoneproof::carriage {
namespace {

constexpr std::uint64_t kStorms = 100'000;

/// Each flow released at another time.
Storm shuffled(Storm storm, std::uint64_t seed) {
  Chance chance(seed);
  for (Flow& flow : storm.flows) flow.release = chance.between(0, 200) * 1'000'000;
  return storm;
}

/// The largest of simulated / bound, so that the test below says how close it comes.
double held_against(const Storm& storm, const Bounds& bounds, std::uint64_t seed) {
  const Outcome outcome = simulate(storm);
  double closest = 0.0;
  for (std::size_t i = 0; i < storm.flows.size(); ++i) {
    const DeliveryBound& bound = bounds.flows[i];
    const Nanoseconds picture = outcome.flows[i].first_picture - storm.flows[i].release;
    const Nanoseconds complete = outcome.flows[i].complete - storm.flows[i].release;
    EXPECT_TRUE(bound.first_picture && bound.complete) << "what ends is bounded; seed " << seed;
    if (!bound.first_picture || !bound.complete) continue;
    EXPECT_LE(picture, *bound.first_picture) << "seed " << seed << " flow " << i;
    EXPECT_LE(complete, *bound.complete) << "seed " << seed << " flow " << i;
    closest = std::max(closest, static_cast<double>(complete) / static_cast<double>(*bound.complete));
  }
  for (std::size_t hop = 0; hop < storm.hops.size(); ++hop)
    EXPECT_LE(outcome.hops[hop].most_bits, bounds.hops[hop].value_or(0)) << "seed " << seed << " hop " << hop;
  return closest;
}

TEST(StormProperty, NoClipOfAHundredThousandStormsComesLaterThanItsBound) {
  std::uint64_t met = 0;
  for (std::uint64_t seed = 1; seed <= kStorms && !HasFailure(); ++seed) {
    const Storm storm = random_storm(seed);
    const Bounds bounds = delivery_bound(storm);
    const double closest =
        std::max(held_against(storm, bounds, seed), held_against(shuffled(storm, seed), bounds, seed));
    met += closest > 0.999 ? 1 : 0;
  }
  EXPECT_GT(met, kStorms / 100) << "a bound that is never met would prove nothing";
}

TEST(StormProperty, NoFrameIsLaterThanTheBoundOfAny) {
  std::uint64_t met = 0;
  for (std::uint64_t seed = 1; seed <= 5000 && !HasFailure(); ++seed) {
    const Storm storm = shuffled(random_storm(seed), seed);
    const Bounds bounds = delivery_bound(storm);
    std::vector<LogLine> log;
    simulate(storm, &log);
    for (const LogLine& line : log) {
      const Flow& flow = storm.flows[line.flow];
      if (line.what != Happening::sent || line.hop != flow.path.back()) continue;
      const Nanoseconds took = line.time + storm.hops[*line.hop].latency - flow.release - flow.frames[line.frame].at;
      const Nanoseconds most = bounds.flows[line.flow].any_frame.value_or(-1);
      EXPECT_LE(took, most) << "seed " << seed << " flow " << line.flow << " frame " << line.frame;
      met += static_cast<double>(took) > 0.999 * static_cast<double>(most) ? 1 : 0;
    }
  }
  EXPECT_GT(met, 50u) << "a bound that is never met would prove nothing";
}

// Over several hops a faster link may let others get in front at the next one.
TEST(StormProperty, AFasterLinkMakesNothingLaterAtIt) {
  for (std::uint64_t seed = 1; seed <= 2000; ++seed) {
    Storm storm = random_storm(seed);
    storm.hops.resize(1);
    storm.hops[0].order = Order::of_arrival;
    for (Flow& flow : storm.flows) flow.path = {0};
    const Outcome before = simulate(storm);
    storm.hops[0].rate_bps *= 2;
    const Outcome after = simulate(storm);
    for (std::size_t i = 0; i < storm.flows.size(); ++i) EXPECT_LE(after.flows[i].complete, before.flows[i].complete);
  }
}

TEST(StormProperty, EveryBitThatEntersAHopLeavesIt) {
  for (std::uint64_t seed = 1; seed <= 2000; ++seed) {
    const Storm storm = random_storm(seed);
    std::vector<LogLine> log;
    simulate(storm, &log);
    std::size_t expected = 0, queued = 0, sent = 0;
    for (const Flow& flow : storm.flows) expected += flow.path.size() * flow.frames.size();
    for (const LogLine& line : log) {
      queued += line.what == Happening::queued ? 1 : 0;
      sent += line.what == Happening::sent ? 1 : 0;
    }
    EXPECT_EQ(queued, expected) << seed;
    EXPECT_EQ(sent, expected) << seed;
    EXPECT_TRUE(
        std::is_sorted(log.begin(), log.end(), [](const LogLine& a, const LogLine& b) { return a.time < b.time; }));
  }
}

TEST(StormProperty, TheLogSaysWhatTheOutcomeSays) {
  for (std::uint64_t seed = 1; seed <= 2000; ++seed) {
    const Storm storm = random_storm(seed);
    std::vector<LogLine> log;
    const Outcome outcome = simulate(storm, &log);
    std::vector<Nanoseconds> last(storm.flows.size(), 0), picture(storm.flows.size(), 0);
    for (const LogLine& line : log) {
      const Flow& flow = storm.flows[line.flow];
      if (line.what != Happening::sent || line.hop != flow.path.back()) continue;
      const Nanoseconds come = line.time + storm.hops[*line.hop].latency;
      last[line.flow] = std::max(last[line.flow], come);
      if (line.frame == flow.first_picture) picture[line.flow] = come;
    }
    for (std::size_t i = 0; i < storm.flows.size(); ++i) {
      EXPECT_EQ(last[i], outcome.flows[i].complete) << seed;
      EXPECT_EQ(picture[i], outcome.flows[i].first_picture) << seed;
    }
  }
}

TEST(StormProperty, ALaterSiteClockShiftsEverythingAlike) {
  for (std::uint64_t seed = 1; seed <= 2000; ++seed) {
    Storm storm = random_storm(seed);
    const Outcome before = simulate(storm);
    for (Flow& flow : storm.flows) flow.release += 123'456'789;
    const Outcome after = simulate(storm);
    for (std::size_t i = 0; i < storm.flows.size(); ++i)
      EXPECT_EQ(after.flows[i].complete, before.flows[i].complete + 123'456'789) << seed;
    for (std::size_t hop = 0; hop < storm.hops.size(); ++hop)
      EXPECT_EQ(after.hops[hop].most_bits, before.hops[hop].most_bits) << seed;
  }
}

}  // namespace
}  // namespace zoneproof::carriage
