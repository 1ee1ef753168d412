#pragma once
#include <optional>
#include <vector>

#include "carriage/curve.hpp"
#include "carriage/frame.hpp"

/// How much a camera's settings let a clip or a live picture be.
///
/// An encoder sends a frame each 1/f seconds; the first and then one each G seconds is a *key frame*, which can be
/// looked at alone, the others (*inter frames*) only hold what has changed. In a stretch of t seconds, both ends
/// included, lie at most floor(f t) + 1 frames and floor(t/G) + 1 key frames; with the largest sizes K and I of either
/// that is a staircase of jumps. A *cap* is a token bucket: no stretch holds more than bucket + rate t (the leaky
/// bucket of the hypothetical reference decoder, ITU-T H.264 annex C, H.265 annex C; from memory). What both allow is
/// the stream's arrival curve.
///
/// A clip begins before its event. The recorder holds the stream back and gives out all from the last key frame that is
/// at least `pre_s` old, since no decoder can begin elsewhere: up to one key interval more than asked, so a recorder
/// that is to guarantee P seconds has to hold P + G. All of it is there at once when the event comes; what follows
/// comes as it is encoded (or, where clips are sent when complete, all at once at the end).
///
/// Assumed: frames come evenly, at any rate within the range; of headers and repetitions nothing is known here, so they
/// belong into the sizes. Not guaranteed: that an encoder keeps its cap; where that is not known, leave it out.
namespace zoneproof::carriage {

/// What is not known better than to lie between two values.
struct Between {
  double low = 0.0, high = 0.0;
};

/// What an encoder promises to keep.
struct RateCap {
  double rate_bps = 0.0;     ///< above 0
  double bucket_bits = 0.0;  ///< how far a moment may run ahead of the rate; the largest key frame at least
};

struct ClipStream {
  Between frames_per_s;                     ///< above 0
  Between key_interval_s;                   ///< between key frames; without inter frames it does not count
  bool inter_frames = true;                 ///< false: each frame is a picture of its own (MJPEG)
  Between key_frame_bits;                   ///< above 0
  std::optional<Between> inter_frame_bits;  ///< not known: they may be as large as the cap lets them
  std::optional<RateCap> cap;               ///< none: whatever the sizes of frames give
};

enum class ClipSent { while_recording, when_complete };

struct ClipSettings {
  double pre_s = 0.0;   ///< guaranteed before the event
  double post_s = 0.0;  ///< after it
  ClipSent sent = ClipSent::while_recording;
};

/// The longest distance between two moments at which a clip may begin: the key interval, or one frame without inter
/// frames.
double start_step_s(const ClipStream& stream);

/// What a recorder has to hold to guarantee `pre_s` before the event, and what it guarantees if it holds `buffer_s`.
double buffer_for_s(const ClipStream& stream, double pre_s);
double guaranteed_pre_s(const ClipStream& stream, double buffer_s);

/// The arrival curve of the live stream: exact steps for the first `steps_s` seconds, then straight above them. Nothing
/// where neither the inter frames' size nor a cap is known. Cost: proportional to the frames in `steps_s`.
std::optional<Curve> stream_arrival(const ClipStream& stream, double steps_s);

/// The arrival curve of one clip, whose release is its event (while recording) or its end (when complete).
std::optional<Curve> clip_arrival(const ClipStream& stream, const ClipSettings& clip);

/// How many bits a clip has at the least and at the most. The most is nothing where stream_arrival is.
struct ClipSize {
  double least_bits = 0.0;
  std::optional<double> most_bits;
};
ClipSize clip_size(const ClipStream& stream, const ClipSettings& clip);

/// A clip as large as the settings allow, frame by frame, to be sent through the links of a storm: frames as close and
/// large as they may be, key frames in full, what a cap leaves for inter frames shared by each key interval. Lies under
/// clip_arrival. Nothing where that is nothing.
std::optional<std::vector<Frame>> largest_clip(const ClipStream& stream, const ClipSettings& clip);

}  // namespace zoneproof::carriage
