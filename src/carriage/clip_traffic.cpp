#include "carriage/clip_traffic.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "carriage/rounding.hpp"

namespace zoneproof::carriage {
namespace {

/// Frames stand at whole nanoseconds, so two of them may be that much closer than they should.
constexpr double kGrid_s = 1e-9;

double span_s(const ClipStream& stream, const ClipSettings& clip) {
  return sum_up(sum_up(clip.pre_s, start_step_s(stream)), clip.post_s);
}

/// Jumps of the largest frames at the smallest distances.
Curve frame_steps(const ClipStream& stream, double inter_bits, double steps_s) {
  const double frames_per_s = stream.frames_per_s.high;
  const double each = stream.inter_frames ? inter_bits : stream.key_frame_bits.high;
  const double more = stream.inter_frames ? std::max(0.0, stream.key_frame_bits.high - each) : 0.0;
  const double interval_s = std::max(stream.key_interval_s.low, ratio_down(1.0, frames_per_s));
  std::vector<Piece> pieces = {{0.0, sum_up(each, more), 0.0}};
  double frames = 1.0, keys = 1.0;
  for (;;) {
    const double frame_s = ratio_down(frames, frames_per_s);
    const double key_s = more > 0.0 ? product_down(keys, interval_s) : std::numeric_limits<double>::infinity();
    const double next_s = std::min(frame_s, key_s);
    if (next_s > steps_s) break;
    if (frame_s == next_s) frames += 1.0;
    if (key_s == next_s) keys += 1.0;
    pieces.push_back({next_s, sum_up(product_up(frames, each), product_up(keys, more)), 0.0});
  }
  // At most f t + 1 frames and t/G + 1 key frames.
  const double frame_slope = product_up(each, frames_per_s), key_slope = ratio_up(more, interval_s);
  const Piece above = {0.0, sum_up(each, more), sum_up(frame_slope, key_slope)};
  const double start_s = std::max(steps_s, next_above(pieces.back().from_s));
  pieces.push_back({start_s, sum_up(above.bits, product_up(above.slope_bps, start_s)), above.slope_bps});
  return raised(std::move(pieces));
}

}  // namespace

double start_step_s(const ClipStream& stream) {
  return stream.inter_frames ? stream.key_interval_s.high : ratio_up(1.0, stream.frames_per_s.low);
}

double buffer_for_s(const ClipStream& stream, double pre_s) { return sum_up(pre_s, start_step_s(stream)); }

double guaranteed_pre_s(const ClipStream& stream, double buffer_s) {
  return std::max(0.0, sum_down(buffer_s, -start_step_s(stream)));
}

std::optional<Curve> stream_arrival(const ClipStream& stream, double steps_s) {
  std::optional<Curve> arrival;
  if (!stream.inter_frames || stream.inter_frame_bits)
    arrival = frame_steps(stream, stream.inter_frames ? stream.inter_frame_bits->high : 0.0,
                          sum_up(steps_s, 2.0 * kGrid_s));  // steps at its end are steps still
  if (stream.cap) {
    const Curve bucket = Curve::leaky_bucket(stream.cap->bucket_bits, stream.cap->rate_bps);
    arrival = arrival ? minimum(*arrival, bucket) : bucket;
  }
  return arrival ? std::optional(advanced(*arrival, kGrid_s)) : std::nullopt;
}

std::optional<Curve> clip_arrival(const ClipStream& stream, const ClipSettings& clip) {
  const double span = span_s(stream, clip);
  const std::optional<Curve> live = stream_arrival(stream, span);
  if (!live) return std::nullopt;
  const Curve whole = Curve::leaky_bucket(live->at_most(span), 0.0);
  if (clip.sent == ClipSent::when_complete) return whole;
  return minimum(advanced(*live, sum_up(clip.pre_s, start_step_s(stream))), whole);
}

ClipSize clip_size(const ClipStream& stream, const ClipSettings& clip) {
  const double least_span = sum_down(clip.pre_s, clip.post_s), span = span_s(stream, clip);
  const double frames = std::floor(product_down(least_span, stream.frames_per_s.low)) + 1.0;
  const double keys = stream.inter_frames
                          ? std::min(frames, std::floor(ratio_down(least_span, stream.key_interval_s.high)) + 1.0)
                          : frames;
  const double key = stream.key_frame_bits.low, inter = stream.inter_frame_bits ? stream.inter_frame_bits->low : 0.0;
  ClipSize size;
  size.least_bits =
      sum_down(product_down(frames, std::min(key, inter)), product_down(keys, std::max(0.0, sum_down(key, -inter))));
  if (!stream.inter_frames) size.least_bits = product_down(frames, key);
  if (const std::optional<Curve> live = stream_arrival(stream, span)) size.most_bits = live->at_most(span);
  return size;
}

std::optional<std::vector<Frame>> largest_clip(const ClipStream& stream, const ClipSettings& clip) {
  if (!stream.cap && stream.inter_frames && !stream.inter_frame_bits) return std::nullopt;
  const double frames_per_s = stream.frames_per_s.high, key_bits = stream.key_frame_bits.high;
  const double interval_s = std::max(stream.key_interval_s.low, 1.0 / frames_per_s);
  double inter_bits = stream.inter_frame_bits ? stream.inter_frame_bits->high : std::numeric_limits<double>::infinity();
  if (stream.cap) {
    const double inter_frames = std::max(1.0, std::round(interval_s * frames_per_s) - 1.0);
    inter_bits = std::clamp((stream.cap->rate_bps * interval_s - key_bits) / inter_frames, 1.0, inter_bits);
  }
  const double whole_s = clip.pre_s + start_step_s(stream), nanoseconds = static_cast<double>(kNanosecondsPerSecond);
  const auto held = static_cast<Nanoseconds>(whole_s * nanoseconds);
  const auto count = static_cast<std::int64_t>((whole_s + clip.post_s) * frames_per_s) + 1;
  double tokens = stream.cap ? stream.cap->bucket_bits : 0.0, keys = 0.0;
  std::vector<Frame> frames;
  for (std::int64_t i = 0; i < count; ++i) {
    const double at_s = static_cast<double>(i) / frames_per_s;
    const bool key = !stream.inter_frames || at_s >= keys * interval_s;
    if (key) keys += 1.0;
    double bits = key ? key_bits : inter_bits;
    if (stream.cap) {
      if (i > 0) tokens = std::min(stream.cap->bucket_bits, tokens + stream.cap->rate_bps / frames_per_s);
      bits = std::min(bits, tokens);
    }
    const Bits whole = std::max<Bits>(1, static_cast<Bits>(bits));
    tokens -= static_cast<double>(whole);
    const auto at = static_cast<Nanoseconds>(std::ceil(at_s * nanoseconds));
    const bool complete = clip.sent == ClipSent::when_complete;
    frames.push_back({complete ? 0 : std::max<Nanoseconds>(0, at - held), whole});
  }
  return frames;
}

}  // namespace zoneproof::carriage
