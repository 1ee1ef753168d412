// What settings promise about streams and clips; that real encoders keep to it is in encoder_test.cpp.
#include "carriage/clip_traffic.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "carriage/exact_curve.hpp"
#include "carriage/random_storm.hpp"

namespace zoneproof::carriage {
namespace {

/// 25 frames/s, a key frame of 100 kbit each second, inter frames of 10 kbit.
ClipStream camera() { return {{25.0, 25.0}, {1.0, 1.0}, true, {80e3, 100e3}, Between{1e3, 10e3}, {}}; }

constexpr double kGrid_s = 2e-9;

TEST(ClipTraffic, APictureBeforeTheEventNeedsAKeyIntervalMore) {
  // Guaranteed pre >= P needs a buffer of P + key interval (the start is the last key frame): derived in
  // docs/methods/carriage-queues.md.
  ClipStream stream = camera();
  stream.key_interval_s = {1.0, 2.0};
  EXPECT_DOUBLE_EQ(buffer_for_s(stream, 5.0), 7.0);
  EXPECT_DOUBLE_EQ(guaranteed_pre_s(stream, 7.0), 5.0);
  EXPECT_DOUBLE_EQ(guaranteed_pre_s(stream, 1.5), 0.0) << "no key frame may be in it";
  stream.inter_frames = false;
  stream.frames_per_s = {5.0, 25.0};
  EXPECT_DOUBLE_EQ(buffer_for_s(stream, 5.0), 5.2) << "each frame is a picture of its own";
}

TEST(ClipTraffic, AStreamIsStepsOfFrames) {
  const Curve live = *stream_arrival(camera(), 3.0);
  EXPECT_DOUBLE_EQ(live.at(0.0), 100e3);
  EXPECT_DOUBLE_EQ(live.at(0.04 - kGrid_s), 100e3);
  EXPECT_DOUBLE_EQ(live.at(0.04), 110e3);
  EXPECT_DOUBLE_EQ(live.at(0.999), 100e3 + 24 * 10e3);
  EXPECT_DOUBLE_EQ(live.at(1.0), 2 * 100e3 + 24 * 10e3) << "two key frames lie a second apart";
  EXPECT_DOUBLE_EQ(live.last_slope_bps(), 25 * 10e3 + 90e3);
}

TEST(ClipTraffic, ACapIsATokenBucket) {
  ClipStream stream = camera();
  stream.cap = RateCap{200e3, 120e3};
  const Curve live = *stream_arrival(stream, 3.0);
  EXPECT_DOUBLE_EQ(live.at(0.0), 100e3);
  EXPECT_NEAR(live.at(1.0), 320e3, 1e-3);
  EXPECT_DOUBLE_EQ(live.last_slope_bps(), 200e3);
  stream.inter_frame_bits.reset();
  EXPECT_NEAR(stream_arrival(stream, 3.0)->at(1.0), 320e3, 1e-3);
}

TEST(ClipTraffic, WithoutCapAndSizesNothingIsKnown) {
  ClipStream stream = camera();
  stream.inter_frame_bits.reset();
  const ClipSettings clip = {5.0, 10.0, ClipSent::while_recording};
  EXPECT_FALSE(stream_arrival(stream, 3.0));
  EXPECT_FALSE(clip_arrival(stream, clip));
  EXPECT_FALSE(largest_clip(stream, clip));
  EXPECT_FALSE(clip_size(stream, clip).most_bits);
  EXPECT_GT(clip_size(stream, clip).least_bits, 0.0) << "key frames there are";
}

TEST(ClipTraffic, AClipIsABurstOfWhatWasHeldThenTheStream) {
  // Held: 2 s and the key interval, 3 s: 76 frames of which 4 are key frames. Whole: 5 s: 126 and 6.
  const ClipSettings clip = {2.0, 2.0, ClipSent::while_recording};
  const Curve come = *clip_arrival(camera(), clip);
  EXPECT_DOUBLE_EQ(come.at(0.0), 76 * 10e3 + 4 * 90e3);
  EXPECT_DOUBLE_EQ(come.at(2.0), 126 * 10e3 + 6 * 90e3);
  EXPECT_DOUBLE_EQ(come.at(1000.0), 126 * 10e3 + 6 * 90e3);
  EXPECT_DOUBLE_EQ(come.last_slope_bps(), 0.0);
  const ClipSize size = clip_size(camera(), clip);
  EXPECT_DOUBLE_EQ(*size.most_bits, 126 * 10e3 + 6 * 90e3);
  EXPECT_DOUBLE_EQ(size.least_bits, 101 * 1e3 + 5 * 79e3) << "begun at the event's own key frame: 4 s";
  EXPECT_EQ(clip_arrival(camera(), {2.0, 2.0, ClipSent::when_complete})->pieces(),
            Curve::leaky_bucket(126 * 10e3 + 6 * 90e3, 0.0).pieces());
}

/// A stream of any settings.
ClipStream random_stream(Chance& chance) {
  ClipStream stream;
  stream.frames_per_s.low = chance.real(1.0, 30.0);
  stream.frames_per_s.high = stream.frames_per_s.low * (chance.once_in(2) ? 1.0 : chance.real(1.0, 1.2));
  stream.key_interval_s.low = chance.real(0.2, 4.0);
  stream.key_interval_s.high = stream.key_interval_s.low * (chance.once_in(2) ? 1.0 : chance.real(1.0, 1.5));
  stream.inter_frames = !chance.once_in(4);
  stream.key_frame_bits = {1e4, chance.real(1e4, 1e6)};
  if (!chance.once_in(3)) stream.inter_frame_bits = Between{1e3, chance.real(1e3, 5e5)};
  if (!stream.inter_frame_bits || chance.once_in(2))
    stream.cap = RateCap{chance.real(1e5, 8e6), stream.key_frame_bits.high * chance.real(1.0, 3.0)};
  return stream;
}

RC_GTEST_PROP(ClipTrafficProperty, TheLargestClipLiesUnderItsCurve, ()) {
  Chance chance(*rc::gen::arbitrary<std::uint64_t>());
  const ClipStream stream = random_stream(chance);
  const ClipSettings clip = {chance.real(0.0, 5.0), chance.real(0.0, 10.0),
                             chance.once_in(4) ? ClipSent::when_complete : ClipSent::while_recording};
  const std::vector<Frame> frames = *largest_clip(stream, clip);
  const Curve measured = arrival_of(frames), promised = *clip_arrival(stream, clip);
  for (const double t : breakpoints(measured, promised)) RC_ASSERT(measured.at(t) <= promised.at_most(t));
  Bits bits = 0;
  for (const Frame& frame : frames) bits += frame.bits;
  const ClipSize size = clip_size(stream, clip);
  RC_ASSERT(static_cast<double>(bits) <= *size.most_bits);
  if (!stream.cap) RC_ASSERT(static_cast<double>(bits) >= size.least_bits * (1.0 - 1e-9));
}

}  // namespace
}  // namespace zoneproof::carriage
