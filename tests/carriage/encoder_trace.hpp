#pragma once
#include <string>
#include <vector>

#include "carriage/frame.hpp"

namespace zoneproof::carriage {

/// Frames of a real encoder at 25 a second, as traces/make_traces.sh has measured them.
struct EncoderTrace {
  std::string encoder;
  std::vector<Frame> frames;
  std::vector<bool> keys;  ///< of each frame, whether it is a key frame
};

std::vector<EncoderTrace> encoder_traces();

}  // namespace zoneproof::carriage
