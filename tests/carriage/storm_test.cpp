// Storms small enough to be computed by hand.
#include "carriage/storm.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <stdexcept>

#include "carriage/calculus.hpp"
#include "carriage/delivery_bound.hpp"
#include "carriage/random_storm.hpp"

namespace zoneproof::carriage {
namespace {

using testing::ElementsAre;

constexpr Nanoseconds kMs = 1'000'000;

/// Bounds are rounded up once a hop, so they may be a nanosecond late.
testing::Matcher<std::optional<Nanoseconds>> bound_of(Nanoseconds exact) {
  return testing::Optional(testing::AllOf(testing::Ge(exact), testing::Le(exact + 1)));
}

std::vector<Nanoseconds> complete(const Outcome& outcome) {
  std::vector<Nanoseconds> times;
  for (const Delivery& delivery : outcome.flows) times.push_back(delivery.complete);
  return times;
}

/// A clip whose pictures are all there at once.
Flow clip(std::vector<std::size_t> path, Nanoseconds release, const std::vector<Bits>& frames) {
  Flow flow;
  flow.path = std::move(path);
  flow.release = release;
  for (const Bits bits : frames) flow.frames.push_back({0, bits});
  return flow;
}

TEST(Storm, ABurstLeavesAtTheRateOfTheLink) {
  // 100 kbit at 1 Mbit/s take 100 ms, and 5 ms on the way.
  const Storm storm = {{{1'000'000, 5 * kMs}}, {clip({0}, 0, {20'000, 30'000, 50'000})}};
  const Outcome outcome = simulate(storm);
  EXPECT_EQ(outcome.flows[0].first_picture, 25 * kMs);
  EXPECT_EQ(outcome.flows[0].complete, 105 * kMs);
  EXPECT_EQ(outcome.hops[0].most_bits, 100'000);
}

TEST(Storm, AFrameIsPassedOnWhenItHasComeWhole) {
  // Two hops of 10 ms each; cut into ten pieces the second one works at the same time: 10 + 1 ms.
  Storm storm = {{{1'000'000, 0}, {1'000'000, 0}}, {clip({0, 1}, 0, {10'000})}};
  EXPECT_EQ(simulate(storm).flows[0].complete, 20 * kMs);
  storm.piece_bits = 1000;
  EXPECT_EQ(simulate(storm).flows[0].complete, 11 * kMs);
}

TEST(Storm, ClipsWaitInTheOrderOfArrivalAndOfTheirNumberAtOneMoment) {
  const Storm storm = {{{1'000'000, 0}},
                       {clip({0}, 10 * kMs, {10'000}), clip({0}, 0, {15'000}), clip({0}, 10 * kMs, {10'000})}};
  EXPECT_THAT(complete(simulate(storm)), ElementsAre(25 * kMs, 15 * kMs, 35 * kMs));
}

TEST(Storm, FirstPicturesGoFirstAndLetTheFrameBeingSentGoOn) {
  // Clip 0 is sending its second frame (10 to 40 ms) when clip 1 comes: its picture is next, then all others.
  Storm storm = {{{1'000'000, 0, Order::first_pictures_first}},
                 {clip({0}, 0, {10'000, 30'000, 30'000}), clip({0}, 20 * kMs, {5'000, 20'000})}};
  std::vector<LogLine> log;
  const Outcome first = simulate(storm, &log);
  EXPECT_EQ(first.flows[1].first_picture, 45 * kMs);
  EXPECT_THAT(complete(first), ElementsAre(75 * kMs, 95 * kMs));
  storm.hops[0].order = Order::of_arrival;
  EXPECT_EQ(simulate(storm).flows[1].first_picture, 75 * kMs);
  std::vector<std::pair<std::size_t, std::size_t>> sent;
  for (const LogLine& line : log)
    if (line.what == Happening::sent) sent.emplace_back(line.flow, line.frame);
  EXPECT_THAT(sent, ElementsAre(std::pair(0, 0), std::pair(0, 1), std::pair(1, 0), std::pair(0, 2), std::pair(1, 1)));
}

TEST(Storm, RoundingDoesNotAddUpAlongAQueue) {
  // 3,000 frames of 1 bit at 3 bit/s: each takes a third of a second; rounded one by one they would be 1 us late.
  const Storm storm = {{{3, 0}}, {clip({0}, 0, std::vector<Bits>(3000, 1))}};
  EXPECT_EQ(simulate(storm).flows[0].complete, 1000 * kNanosecondsPerSecond);
  std::vector<LogLine> log;
  simulate(storm, &log);
  const auto first =
      std::find_if(log.begin(), log.end(), [](const LogLine& line) { return line.what == Happening::sent; });
  EXPECT_EQ(first->time, 333'333'334) << "rounded up, never down";
}

TEST(Storm, TheLogTellsEachStepOfAClip) {
  std::vector<LogLine> log;
  simulate({{{1'000'000, 2 * kMs}}, {clip({0}, kMs, {1'000, 3'000})}}, &log);
  EXPECT_THAT(
      log, ElementsAre(LogLine{1 * kMs, Happening::released, 0, 0, {}}, LogLine{1 * kMs, Happening::queued, 0, 0, 0},
                       LogLine{1 * kMs, Happening::queued, 0, 1, 0}, LogLine{2 * kMs, Happening::sent, 0, 0, 0},
                       LogLine{4 * kMs, Happening::first_picture, 0, 0, {}}, LogLine{5 * kMs, Happening::sent, 0, 1, 0},
                       LogLine{7 * kMs, Happening::complete, 0, 0, {}}));
  EXPECT_EQ(word_of(Happening::first_picture), "first_picture");
}

TEST(Storm, SimultaneousClipsOnOneUplinkEndWhenAllBitsAreSent) {
  // T + sum of all bits / R (docs/methods/carriage-queues.md), however they mix.
  Storm storm = {{{2'000'000, 30 * kMs}}, {}};
  Bits all = 0;
  for (Bits i = 1; i <= 48; ++i) {
    storm.flows.push_back(clip({0}, 0, {100'000 + 1000 * i, 40'000}));
    all += 140'000 + 1000 * i;
  }
  const std::vector<Nanoseconds> times = complete(simulate(storm));
  EXPECT_EQ(*std::max_element(times.begin(), times.end()), all * 500 + 30 * kMs);
  const Bounds bounds = delivery_bound(storm);
  for (const DeliveryBound& bound : bounds.flows)
    EXPECT_THAT(bound.complete, bound_of(all * 500 + 30 * kMs)) << "met by the last";
}

TEST(Storm, OneHopIsLindleysRecursion) {
  // W(n+1) = max(0, W(n) + S(n) - A(n)) in closed form: the longest of all sums that end here (Lindley 1952).
  for (std::uint64_t seed = 1; seed <= 500; ++seed) {
    Chance chance(seed);
    Storm storm = {{{chance.between(100'000, 9'999'999), 0}}, {}};
    Flow flow = clip({0}, 0, {});
    Nanoseconds at = 0;
    for (int i = 0; i < 60; ++i) flow.frames.push_back({at += chance.between(0, 20 * kMs), chance.between(1, 90'000)});
    storm.flows.push_back(flow);
    std::vector<LogLine> log;
    simulate(storm, &log);
    std::vector<Nanoseconds> sent;
    for (const LogLine& line : log)
      if (line.what == Happening::sent) sent.push_back(line.time);
    ASSERT_EQ(sent.size(), flow.frames.size());
    for (std::size_t n = 0; n < sent.size(); ++n) {
      Nanoseconds latest = 0;
      Bits bits = 0;
      for (std::size_t k = n + 1; k-- > 0;) {
        bits += flow.frames[k].bits;
        const Nanoseconds needed = (bits * kNanosecondsPerSecond + storm.hops[0].rate_bps - 1) / storm.hops[0].rate_bps;
        latest = std::max(latest, flow.frames[k].at + needed);
      }
      ASSERT_EQ(sent[n], latest) << "seed " << seed << " frame " << n;
    }
  }
}

TEST(Storm, WhatIsNoStormIsRefused) {
  const Storm sound = {{{1'000'000, 0}, {1'000'000, 0}}, {clip({0, 1}, 0, {1000})}};
  EXPECT_NO_THROW(simulate(sound));
  const auto refused = [&](auto change) {
    Storm storm = sound;
    change(storm);
    EXPECT_THROW(simulate(storm), std::invalid_argument);
    EXPECT_THROW(delivery_bound(storm), std::invalid_argument);
  };
  refused([](Storm& s) { s.hops[0].rate_bps = 0; });
  refused([](Storm& s) { s.hops[0].latency = -1; });
  refused([](Storm& s) { s.flows[0].path = {}; });
  refused([](Storm& s) { s.flows[0].path = {0, 2}; });
  refused([](Storm& s) { s.flows[0].path = {0, 1, 0}; });
  refused([](Storm& s) { s.flows[0].frames = {}; });
  refused([](Storm& s) { s.flows[0].frames = {{5, 1}, {4, 1}}; });
  refused([](Storm& s) { s.flows[0].frames[0].bits = 0; });
  refused([](Storm& s) { s.flows[0].frames[0].bits = Bits{1} << 31; });
  refused([](Storm& s) { s.flows[0].first_picture = 1; });
  refused([](Storm& s) { s.flows[0].release = -1; });
  refused([](Storm& s) { s.piece_bits = 0; });
  refused([](Storm& s) { s.flows.push_back(clip({1, 0}, 0, {1})); });
  refused([](Storm& s) { s.hops[0].rate_bps = 1, s.flows[0].frames.assign(2, {0, 2'000'000'000}); });
}

TEST(DeliveryBound, AClipAloneWaitsForNothingButItself) {
  // 1 Mbit/s: the picture of 100 kbit is there after 0.1 s, whatever comes behind it.
  Storm storm = {{{1'000'000, 0}}, {clip({0}, 0, {100'000, 900'000})}};
  const Bounds bounds = delivery_bound(storm);
  EXPECT_THAT(bounds.flows[0].first_picture, bound_of(100 * kMs));
  EXPECT_THAT(bounds.flows[0].complete, bound_of(1000 * kMs));
  EXPECT_EQ(bounds.hops[0], 1'900'000) << "all of it, and the largest piece while it is being sent";
}

TEST(DeliveryBound, APictureThatGoesFirstWaitsForPicturesAndOnePiece) {
  Storm storm = {{{1'000'000, 0, Order::first_pictures_first}},
                 {clip({0}, 0, {10'000, 500'000}), clip({0}, 0, {20'000, 500'000})},
                 5'000};
  const Bounds bounds = delivery_bound(storm);
  for (const DeliveryBound& flow : bounds.flows) {
    EXPECT_THAT(flow.first_picture, bound_of(35 * kMs));
    EXPECT_THAT(flow.complete, bound_of(1030 * kMs));
  }
}

TEST(DeliveryBound, LiveStreamsThatGoOnForEverAreHeldAgainstTheirCurve) {
  Storm storm = {{{10'000'000, 0}}, {clip({0}, 0, {100'000}), clip({0}, 0, {50'000})}};
  storm.flows[1].arrival = Curve::leaky_bucket(200'000.0, 4e6);
  EXPECT_THAT(delivery_bound(storm).flows[0].complete, bound_of(30 * kMs)) << "its own bits and the burst of the other";
  storm.flows[1].arrival = Curve::leaky_bucket(200'000.0, 10e6 + 1.0);
  const Bounds bounds = delivery_bound(storm);
  EXPECT_FALSE(bounds.flows[0].complete);
  EXPECT_FALSE(bounds.flows[0].first_picture);
  EXPECT_FALSE(bounds.hops[0]);
}

TEST(DeliveryBound, WhoMeetsAFloodLaterHasNoBoundEither) {
  Storm storm = {{{1'000'000, 0}, {100'000'000, 0}, {1'000'000, 0}},
                 {clip({0, 1}, 0, {1000}), clip({1}, 0, {1000}), clip({2}, 0, {1000})}};
  storm.flows[0].arrival = Curve::leaky_bucket(1000.0, 2e6);
  const Bounds bounds = delivery_bound(storm);
  EXPECT_FALSE(bounds.flows[0].complete);
  EXPECT_FALSE(bounds.flows[1].complete);
  EXPECT_THAT(bounds.flows[2].complete, bound_of(kMs));
}

TEST(DeliveryBound, TwoHopsInARowHoldOneAggregate) {
  // All flows share both hops, so the links in a row are a service curve of the aggregate (Le Boudec and Thiran,
  // theorem 1.4.6), the first one less by one frame, which is passed on whole (theorem 1.7.1).
  for (std::uint64_t seed = 1; seed <= 3000; ++seed) {
    Storm storm = random_storm(seed);
    storm.piece_bits.reset();
    storm.hops.resize(2, {1'000'000 * static_cast<std::int64_t>(1 + seed % 7), 0});
    std::vector<Curve> curves;
    double largest = 0.0;
    for (Hop& hop : storm.hops) hop.order = Order::of_arrival;
    for (Flow& flow : storm.flows) {
      flow.path = {0, 1};
      curves.push_back(arrival_of(flow.frames));
      for (const Frame& frame : flow.frames) largest = std::max(largest, static_cast<double>(frame.bits));
    }
    const auto rate = [&](std::size_t hop) { return static_cast<double>(storm.hops[hop].rate_bps); };
    const Curve both = in_a_row(Curve::rate_latency(rate(0), largest / rate(0)), Curve::rate_latency(rate(1), 0.0));
    const double bound = *delay_bound(sum(curves), both);
    std::vector<LogLine> log;
    simulate(storm, &log);
    const Nanoseconds latency = storm.hops[0].latency, hair = 2;
    for (const LogLine& line : log) {
      if (line.what != Happening::sent || line.hop != 1U) continue;
      const Flow& flow = storm.flows[line.flow];
      const Nanoseconds come = flow.release + flow.frames[line.frame].at;
      ASSERT_LE(line.time - come - latency, static_cast<Nanoseconds>(bound * 1e9) + hair) << seed;
    }
  }
}

TEST(DeliveryBound, WhatOthersLeaveHoldsForEachFlow) {
  for (std::uint64_t seed = 1; seed <= 3000; ++seed) {
    Storm storm = random_storm(seed);
    storm.hops.resize(1);
    for (Flow& flow : storm.flows) flow.path = {0};
    const Curve link = Curve::rate_latency(static_cast<double>(storm.hops[0].rate_bps), 0.0);
    const bool in_order = storm.hops[0].order == Order::of_arrival;
    std::vector<LogLine> log;
    simulate(storm, &log);
    for (std::size_t i = 0; i < storm.flows.size(); ++i) {
      std::vector<Curve> others;
      for (std::size_t k = 0; k < storm.flows.size(); ++k)
        if (k != i) others.push_back(arrival_of(storm.flows[k].frames));
      const Curve own = arrival_of(storm.flows[i].frames), cross = sum(others);
      const double any = *backlog_bound(own, left_in_any_order(link, cross));
      const double late = *delay_bound(own, left_in_order(link, cross));
      Bits waiting = 0, largest = 0;
      for (const Frame& frame : storm.flows[i].frames) largest = std::max(largest, frame.bits);
      for (const LogLine& line : log) {
        if (line.flow != i || !line.hop) continue;
        const Frame& frame = storm.flows[i].frames[line.frame];
        if (line.what == Happening::sent && in_order) {
          ASSERT_LE(line.time - storm.flows[i].release - frame.at, static_cast<Nanoseconds>(late * 1e9) + 2) << seed;
        }
        waiting += line.what == Happening::queued ? frame.bits : -frame.bits;
        ASSERT_LE(waiting, static_cast<Bits>(any) + 1 + largest) << seed << ": whatever the order";
      }
    }
  }
}

}  // namespace
}  // namespace zoneproof::carriage
