// Bounds of network calculus against their closed forms: Le Boudec and Thiran, Network Calculus, Springer LNCS 2050,
// 2001 (numbers of sections from memory; every form is derived again in docs/methods/carriage-queues.md).
#include "carriage/calculus.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace zoneproof::carriage {
namespace {

using testing::DoubleEq;
using testing::Optional;

const Curve kNothing;

TEST(Calculus, ATokenBucketThroughALink) {
  // Section 1.4, example after theorem 1.4.3: delay T + s/R, queue s + r T, output a bucket of s + r T.
  const Curve come = Curve::leaky_bucket(600'000.0, 2e6), link = Curve::rate_latency(8e6, 0.25);
  EXPECT_THAT(delay_bound(come, link), Optional(DoubleEq(0.25 + 600'000.0 / 8e6)));
  EXPECT_THAT(backlog_bound(come, link), Optional(DoubleEq(600'000.0 + 2e6 * 0.25)));
  const std::optional<Curve> left = output_bound(come, link);
  ASSERT_TRUE(left);
  EXPECT_DOUBLE_EQ(left->at(0.0), 1.1e6);
  EXPECT_DOUBLE_EQ(left->at(3.0), 1.1e6 + 6e6);
}

TEST(Calculus, ABurstIsWaitedForOnceOnTheWayThroughTwoLinks) {
  const Curve come = Curve::leaky_bucket(600'000.0, 2e6);
  const Curve first = Curve::rate_latency(8e6, 0.25), second = Curve::rate_latency(4e6, 0.5);
  const Curve both = in_a_row(first, second);
  EXPECT_EQ(both.pieces(), Curve::rate_latency(4e6, 0.75).pieces());
  EXPECT_EQ(in_a_row(second, first).pieces(), both.pieces());
  EXPECT_THAT(delay_bound(come, both), Optional(DoubleEq(0.75 + 600'000.0 / 4e6)));
  // One after the other: the burst that the first link has made larger waits again.
  const double apart = *delay_bound(come, first) + *delay_bound(*output_bound(come, first), second);
  EXPECT_DOUBLE_EQ(apart, 0.25 + 600'000.0 / 8e6 + 0.5 + 1.1e6 / 4e6);
}

TEST(Calculus, AStreamWithAPeakRate) {
  // Proposition 1.4.1 (integrated services, M peak packet, p peak rate, b bucket, r rate), with p above and below R.
  const double packet = 12'000.0, bucket = 500'000.0, rate = 1e6, latency = 0.02;
  for (const double peak : {3e6, 20e6}) {
    for (const double sent : {2e6, 5e6}) {
      const Curve come = minimum(Curve::leaky_bucket(packet, peak), Curve::leaky_bucket(bucket, rate));
      const Curve link = Curve::rate_latency(sent, latency);
      const double bend = (bucket - packet) / (peak - rate), faster = std::max(0.0, peak - sent);
      EXPECT_NEAR(*delay_bound(come, link), (packet + bend * faster) / sent + latency, 1e-12);
      EXPECT_NEAR(*backlog_bound(come, link),
                  bucket + rate * latency + std::max(0.0, bend - latency) * (faster - peak + rate), 1e-6);
    }
  }
}

TEST(Calculus, ThreeBucketsBendTwice) {
  // 10 kbit + 8 Mbit/s until 10 ms (90 kbit), then 4 Mbit/s until 60 ms (290 kbit), then 1 Mbit/s.
  const Curve come =
      minimum(minimum(Curve::leaky_bucket(10e3, 8e6), Curve::leaky_bucket(50e3, 4e6)), Curve::leaky_bucket(230e3, 1e6));
  ASSERT_EQ(come.pieces().size(), 3U);
  EXPECT_DOUBLE_EQ(come.pieces()[1].from_s, 0.01);
  EXPECT_DOUBLE_EQ(come.pieces()[2].from_s, 0.06);
  // At 2 Mbit/s the queue is largest where the stream falls below it: 290 kbit have come at 60 ms.
  EXPECT_NEAR(*backlog_bound(come, Curve::rate_latency(2e6, 0.0)), 290e3 - 120e3, 1e-6);
  EXPECT_NEAR(*delay_bound(come, Curve::rate_latency(2e6, 0.0)), 0.145 - 0.06, 1e-12);
  EXPECT_NEAR(*delay_bound(come, Curve::rate_latency(5e6, 0.0)), 90e3 / 5e6 - 0.01, 1e-12);
}

TEST(Calculus, FramesAsSteps) {
  // A frame of 40 kbit each 40 ms through 2 Mbit/s: each is gone (20 ms) before the next.
  const Curve come({{0.0, 40e3, 0.0}, {0.04, 80e3, 0.0}, {0.08, 120e3, 0.0}, {0.12, 160e3, 1e6}});
  EXPECT_THAT(delay_bound(come, Curve::rate_latency(2e6, 0.003)), Optional(DoubleEq(0.023)));
  EXPECT_THAT(backlog_bound(come, Curve::rate_latency(2e6, 0.0)), Optional(DoubleEq(40e3)));
  // Through 0.9 Mbit/s each waits longer than the one before, and the tail grows for ever.
  EXPECT_FALSE(delay_bound(come, Curve::rate_latency(0.9e6, 0.0)));
}

TEST(Calculus, MoreThanIsSentForEverHasNoBound) {
  const Curve come = Curve::leaky_bucket(1e3, 1e6), slow = Curve::rate_latency(999'999.0, 0.0);
  EXPECT_FALSE(delay_bound(come, slow));
  EXPECT_FALSE(backlog_bound(come, slow));
  EXPECT_FALSE(output_bound(come, slow));
  const Curve just = Curve::rate_latency(1e6, 0.0);
  EXPECT_THAT(delay_bound(come, just), Optional(DoubleEq(1e-3)));
  EXPECT_THAT(backlog_bound(come, just), Optional(DoubleEq(1e3)));
}

TEST(Calculus, ALinkThatStopsSendingHasNoBoundOnlyWhereMoreComes) {
  const Curve stops({{0.0, 0.0, 1e6}, {1.0, 1e6, 0.0}});
  EXPECT_THAT(delay_bound(Curve::leaky_bucket(1e6, 0.0), stops), Optional(DoubleEq(1.0)));
  EXPECT_FALSE(delay_bound(Curve::leaky_bucket(1e6 + 1.0, 0.0), stops));
  EXPECT_THAT(delay_bound(kNothing, kNothing), Optional(0.0));
  EXPECT_FALSE(delay_bound(Curve::leaky_bucket(1.0, 0.0), kNothing));
}

TEST(Calculus, WhatOthersLeave) {
  const Curve link = Curve::rate_latency(10e6, 0.1), others = Curve::leaky_bucket(2e6, 4e6);
  // In any order: 10 (t - 0.1) - 2 - 4 t > 0 from 0.5 s on. In order: from 0.1 + 2/10 s on (corollary 6.2.3).
  const Curve any_order = left_in_any_order(link, others);
  ASSERT_EQ(any_order.pieces().size(), 2U);
  EXPECT_DOUBLE_EQ(any_order.pieces()[1].from_s, 0.5);
  EXPECT_DOUBLE_EQ(any_order.last_slope_bps(), 6e6);
  const Curve in_order = left_in_order(link, others);
  ASSERT_EQ(in_order.pieces().size(), 2U);
  EXPECT_DOUBLE_EQ(in_order.pieces()[1].from_s, 0.3);
  EXPECT_DOUBLE_EQ(in_order.last_slope_bps(), 6e6);
  EXPECT_EQ(left_in_any_order(link, Curve::leaky_bucket(0.0, 10e6)).pieces(), kNothing.pieces());
  EXPECT_EQ(left_in_order(link, Curve::leaky_bucket(1.0, 11e6)).pieces(), kNothing.pieces());
}

TEST(Calculus, OthersThatComeFasterThanTheLinkForATimeAreWaitedFor) {
  // Others: a clip of 1 Mbit + 20 Mbit/s for 0.1 s, 3 Mbit in all; the link sends 10 Mbit/s.
  const Curve clip = minimum(Curve::leaky_bucket(1e6, 20e6), Curve::leaky_bucket(3e6, 0.0));
  const Curve any = left_in_any_order(Curve::rate_latency(10e6, 0.0), clip);
  const Curve in_order = left_in_order(Curve::rate_latency(10e6, 0.0), clip);
  EXPECT_NEAR(any.piece_at(1.0).from_s, 0.3, 1e-12);
  EXPECT_NEAR(in_order.piece_at(1.0).from_s, 0.3, 1e-12);
  EXPECT_NEAR(in_order.at(1.0), 7e6, 1e-3);
}

TEST(Curve, TwoStreamsTogether) {
  const Curve both = sum(Curve::leaky_bucket(100.0, 10.0), Curve({{0.0, 5.0, 0.0}, {2.0, 9.0, 1.0}}));
  EXPECT_EQ(both.pieces(), (std::vector<Piece>{{0.0, 105.0, 10.0}, {2.0, 129.0, 11.0}}));
  EXPECT_DOUBLE_EQ(both.before(2.0), 125.0);
  EXPECT_EQ(sum({}).pieces(), kNothing.pieces());
  EXPECT_EQ(sum({Curve::leaky_bucket(1.0, 1.0), Curve::leaky_bucket(2.0, 2.0), Curve::leaky_bucket(3.0, 3.0)}).pieces(),
            Curve::leaky_bucket(6.0, 6.0).pieces());
}

TEST(Curve, FramesHoldTheMostOfEveryStretch) {
  // 5 at 0, 1 at 1 s, 9 at 3 s, two of 4 at 4 s: most in 0 s: 9; in 1 s: 9 + 8; in 3 s: 1 + 9 + 8; in 4 s: all.
  const std::vector<Frame> frames = {
      {0, 5}, {1'000'000'000, 1}, {3'000'000'000, 9}, {4'000'000'000, 4}, {4'000'000'000, 4}};
  EXPECT_EQ(arrival_of(frames).pieces(),
            (std::vector<Piece>{{0.0, 9.0, 0.0}, {1.0, 17.0, 0.0}, {3.0, 18.0, 0.0}, {4.0, 23.0, 0.0}}));
  EXPECT_EQ(concave_hull(arrival_of(frames)).pieces(),
            (std::vector<Piece>{{0.0, 9.0, 8.0}, {1.0, 17.0, 2.0}, {4.0, 23.0, 0.0}}));
}

TEST(Curve, HeldUpForDifferentTimesABurstGrows) {
  EXPECT_EQ(advanced(Curve::leaky_bucket(100.0, 10.0), 3.0).pieces(), Curve::leaky_bucket(130.0, 10.0).pieces());
  EXPECT_EQ(delayed(Curve::leaky_bucket(100.0, 10.0), 3.0).pieces(),
            (std::vector<Piece>{{0.0, 0.0, 0.0}, {3.0, 100.0, 10.0}}));
}

TEST(Curve, WhatIsNoCurveIsRefused) {
  using Pieces = std::vector<Piece>;
  EXPECT_THROW(Curve(Pieces{}), std::invalid_argument);
  EXPECT_THROW(Curve(Pieces{{1.0, 0.0, 0.0}}), std::invalid_argument);
  EXPECT_THROW(Curve(Pieces{{0.0, 5.0, 0.0}, {1.0, 4.0, 0.0}}), std::invalid_argument);
  EXPECT_THROW(Curve(Pieces{{0.0, 5.0, 0.0}, {0.0, 6.0, 0.0}}), std::invalid_argument);
  EXPECT_THROW(Curve(Pieces{{0.0, -1.0, 0.0}}), std::invalid_argument);
  EXPECT_THROW(Curve(Pieces{{0.0, 1.0, -1.0}}), std::invalid_argument);
  EXPECT_THROW(Curve(Pieces{{0.0, std::nan(""), 0.0}}), std::invalid_argument);
}

}  // namespace
}  // namespace zoneproof::carriage
