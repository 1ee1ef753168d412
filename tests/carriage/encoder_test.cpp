// Frames of real encoders (traces/make_traces.sh) against what is promised from settings, and through the links of a
// storm.
#include <gtest/gtest.h>

#include <algorithm>

#include "carriage/clip_traffic.hpp"
#include "carriage/delivery_bound.hpp"
#include "carriage/encoder_trace.hpp"

namespace zoneproof::carriage {
namespace {

/// Settings as somebody would measure them: the largest frames seen, the key interval, the frame rate.
ClipStream measured(const EncoderTrace& trace) {
  ClipStream stream;
  stream.frames_per_s = {25.0, 25.0};
  stream.inter_frames = std::find(trace.keys.begin(), trace.keys.end(), false) != trace.keys.end();
  double interval = 0.0, last = -1.0, key = 0.0, inter = 0.0;
  for (std::size_t i = 0; i < trace.frames.size(); ++i) {
    const auto bits = static_cast<double>(trace.frames[i].bits);
    double& largest = trace.keys[i] ? key : inter;
    largest = std::max(largest, bits);
    if (!trace.keys[i]) continue;
    if (last >= 0.0) interval = (static_cast<double>(i) - last) / 25.0;
    last = static_cast<double>(i);
  }
  stream.key_interval_s = {interval, interval};
  stream.key_frame_bits = {1.0, key};
  if (stream.inter_frames) stream.inter_frame_bits = Between{1.0, inter};
  return stream;
}

/// A clip as a recorder cuts it: from the last key frame `pre` frames before the event on, what is old at once.
Flow cut(const EncoderTrace& trace, std::size_t event, std::size_t pre, std::size_t post) {
  std::size_t first = event - pre;
  while (!trace.keys[first]) --first;
  Flow flow;
  for (std::size_t i = first; i <= event + post; ++i)
    flow.frames.push_back(
        {std::max<Nanoseconds>(0, trace.frames[i].at - trace.frames[event].at), trace.frames[i].bits});
  return flow;
}

void expect_under(const Curve& trace, const Curve& promised, const std::string& of) {
  for (const double t : breakpoints(trace, promised)) EXPECT_LE(trace.at(t), promised.at_most(t)) << of << " at " << t;
}

TEST(Encoder, FourEncodersHaveBeenMeasured) {
  const std::vector<EncoderTrace> traces = encoder_traces();
  ASSERT_EQ(traces.size(), 4U);
  for (const EncoderTrace& trace : traces) EXPECT_EQ(trace.frames.size(), 200U) << trace.encoder;
}

TEST(Encoder, ItsStreamLiesUnderTheCurveOfItsSettings) {
  for (const EncoderTrace& trace : encoder_traces())
    expect_under(arrival_of(trace.frames), *stream_arrival(measured(trace), 10.0), trace.encoder);
}

TEST(Encoder, ACappedOneKeepsToItsTokenBucket) {
  // -maxrate 600k -bufsize 300k: the decoder's buffer of the hypothetical reference decoder (ITU-T H.264 annex C).
  int capped = 0;
  for (const EncoderTrace& trace : encoder_traces()) {
    ClipStream stream = measured(trace);
    stream.inter_frame_bits.reset();
    stream.cap = RateCap{600e3, 300e3};
    const Curve come = arrival_of(trace.frames), promised = *stream_arrival(stream, 10.0);
    if (trace.encoder == "h264_capped") {
      expect_under(come, promised, trace.encoder);
      ++capped;
    } else if (trace.encoder == "mjpeg") {
      EXPECT_GT(come.at(1.0), promised.at(1.0)) << "nobody has capped it";
    }
  }
  EXPECT_EQ(capped, 1);
}

TEST(Encoder, ItsClipsLieUnderTheCurveOfAClip) {
  for (const EncoderTrace& trace : encoder_traces()) {
    const Curve promised = *clip_arrival(measured(trace), {1.0, 2.0, ClipSent::while_recording});
    for (std::size_t event = 75; event < 150; ++event) {
      const Flow flow = cut(trace, event, 25, 50);
      expect_under(arrival_of(flow.frames), promised, trace.encoder);
    }
  }
}

TEST(Encoder, ItsClipsComeNoLaterThanBoundsFromItsSettings) {
  // Eight cameras behind two switches on one uplink that is too slow for all at once; each encoder twice.
  const std::vector<EncoderTrace> traces = encoder_traces();
  const ClipSettings settings = {1.0, 2.0, ClipSent::while_recording};
  for (const Order order : {Order::of_arrival, Order::first_pictures_first}) {
    for (std::size_t event = 75; event <= 140; event += 5) {
      Storm storm = {{{100'000'000, 10'000}, {100'000'000, 10'000}, {3'000'000, 40'000'000, order}}, {}, 12'000};
      for (std::size_t i = 0; i < 8; ++i) {
        const EncoderTrace& trace = traces[i % 4];
        Flow flow = cut(trace, event + i, 25, 50);
        flow.path = {i / 4, 2};
        flow.release = static_cast<Nanoseconds>(i * i) * 10'000'000;
        flow.frames.front().bits = static_cast<Bits>(measured(trace).key_frame_bits.high);  // as large as it may be
        flow.arrival = clip_arrival(measured(trace), settings);
        storm.flows.push_back(flow);
      }
      const Outcome outcome = simulate(storm);
      const Bounds bounds = delivery_bound(storm);
      for (std::size_t i = 0; i < storm.flows.size(); ++i) {
        ASSERT_TRUE(bounds.flows[i].complete && bounds.flows[i].first_picture);
        EXPECT_LE(outcome.flows[i].complete - storm.flows[i].release, *bounds.flows[i].complete);
        EXPECT_LE(outcome.flows[i].first_picture - storm.flows[i].release, *bounds.flows[i].first_picture);
      }
      for (std::size_t hop = 0; hop < storm.hops.size(); ++hop)
        EXPECT_LE(outcome.hops[hop].most_bits, bounds.hops[hop].value_or(0));
    }
  }
}

}  // namespace
}  // namespace zoneproof::carriage
