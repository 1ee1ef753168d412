#include "carriage/encoder_trace.hpp"

#include <fstream>
#include <sstream>
#include <stdexcept>

namespace zoneproof::carriage {

std::vector<EncoderTrace> encoder_traces() {
  std::ifstream file(ZONEPROOF_SOURCE_DIR "/tests/carriage/traces/encoder_frames.csv");
  if (!file) throw std::runtime_error("encoder_frames.csv cannot be read");
  std::vector<EncoderTrace> traces;
  std::string line;
  std::getline(file, line);  // the head
  while (std::getline(file, line)) {
    std::istringstream cells(line);
    std::string encoder, frame, key, bytes;
    std::getline(cells, encoder, ',');
    std::getline(cells, frame, ',');
    std::getline(cells, key, ',');
    std::getline(cells, bytes, ',');
    if (traces.empty() || traces.back().encoder != encoder) traces.push_back({encoder, {}, {}});
    traces.back().frames.push_back({std::stoll(frame) * kNanosecondsPerSecond / 25, 8 * std::stoll(bytes)});
    traces.back().keys.push_back(key == "1");
  }
  return traces;
}

}  // namespace zoneproof::carriage
