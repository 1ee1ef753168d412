// All cameras of a site alarmed within seconds: the time for one storm of clips through switches and an uplink,
// simulated, beside a general simulator of queues; and the time for the bound that holds whenever they are alarmed.
#include <fmt/format.h>

#include <cstdint>
#include <random>
#include <stdexcept>

#include "carriage/clip_traffic.hpp"
#include "carriage/delivery_bound.hpp"
#include "promises/promise.hpp"

namespace zoneproof::promises {

namespace {

using carriage::Nanoseconds;
using carriage::Storm;

constexpr std::size_t kPortsOfASwitch = 24;
constexpr Nanoseconds kMicrosecond = 1000;

/// Clips of 5 s before and 10 s after, all within 5 s: camera port, switch, one uplink of half a megabit a second a
/// camera.
Storm storm_of(std::size_t clips) {
  carriage::ClipStream stream;
  stream.frames_per_s = {25.0, 25.0};
  stream.key_interval_s = {2.0, 2.0};
  stream.key_frame_bits = {400e3, 400e3};
  stream.cap = carriage::RateCap{1e6, 800e3};
  const auto frames = *carriage::largest_clip(stream, {5.0, 10.0, carriage::ClipSent::while_recording});
  const std::size_t switches = (clips + kPortsOfASwitch - 1) / kPortsOfASwitch;
  Storm storm;
  storm.piece_bits = 12'000;
  storm.hops.assign(clips, {100'000'000, 5 * kMicrosecond});
  storm.hops.resize(clips + switches, {1'000'000'000, 5 * kMicrosecond});
  storm.hops.push_back(
      {500'000 * static_cast<std::int64_t>(clips), 20'000 * kMicrosecond, carriage::Order::first_pictures_first});
  std::mt19937_64 random(5);
  for (std::size_t i = 0; i < clips; ++i) {
    carriage::Flow flow;
    flow.path = {i, clips + i / kPortsOfASwitch, clips + switches};
    flow.release = static_cast<Nanoseconds>(random() % 5'000'000'000U);
    flow.frames = frames;
    storm.flows.push_back(std::move(flow));
  }
  return storm;
}

void require_bounded(const Storm& storm, const carriage::Outcome& outcome, const carriage::Bounds& bounds) {
  for (std::size_t i = 0; i < storm.flows.size(); ++i)
    if (!bounds.flows[i].complete || outcome.flows[i].complete - storm.flows[i].release > *bounds.flows[i].complete)
      throw std::runtime_error(fmt::format("clip {} is later than its bound", i));
}

std::vector<Figure> storm_figures(std::size_t clips) {
  const Storm storm = storm_of(clips);
  carriage::Outcome outcome;
  carriage::Bounds bounds;
  Figure simulated, bounded;
  simulated.promise = fmt::format("one storm of {} clips through {} links", clips, storm.hops.size());
  simulated.ours = 1e3 * seconds_of([&] { outcome = carriage::simulate(storm); });
  simulated.unit = "ms";
  simulated.limit = "bringing pieces into order and moving them in memory";
  bounded.promise = fmt::format("... its bound, whenever the clips are released ({} clips)", clips);
  bounded.ours = 1e3 * seconds_of([&] { bounds = carriage::delivery_bound(storm); });
  bounded.unit = "ms";
  bounded.limit = "a sum of curves for each clip and hop";
  require_bounded(storm, outcome, bounds);
  return {simulated, bounded};
}

}  // namespace

std::vector<Figure> storm() {
  std::vector<Figure> figures = storm_figures(48);
  for (Figure& figure : storm_figures(1000)) figures.push_back(std::move(figure));
  return figures;
}

}  // namespace zoneproof::promises
