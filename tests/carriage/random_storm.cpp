#include "carriage/random_storm.hpp"

#include <algorithm>

namespace zoneproof::carriage {
namespace {

Flow random_flow(Chance& chance, std::size_t hops, Nanoseconds step) {
  Flow flow;
  for (std::size_t hop = 0; hop < hops; ++hop)
    if (chance.once_in(2)) flow.path.push_back(hop);
  if (flow.path.empty())
    flow.path.push_back(static_cast<std::size_t>(chance.between(0, static_cast<std::int64_t>(hops) - 1)));
  flow.release = step * chance.between(0, 4);
  Nanoseconds at = 0;
  for (std::int64_t frames = chance.between(1, 6); frames > 0; --frames) {
    if (!chance.once_in(3)) at += step * chance.between(1, 3) + (chance.once_in(4) ? chance.between(0, step) : 0);
    flow.frames.push_back({at, chance.once_in(3) ? chance.between(1, 100000) : 1000 * chance.between(1, 60)});
  }
  flow.first_picture = static_cast<std::size_t>(chance.between(0, static_cast<std::int64_t>(flow.frames.size()) - 1));
  return flow;
}

}  // namespace

Storm random_storm(std::uint64_t seed) {
  Chance chance(seed);
  Storm storm;
  const Nanoseconds step = chance.between(1, 40) * 1'000'000;
  const std::int64_t orders = chance.between(0, 2);  // none, some, all with pictures first
  for (std::int64_t hops = chance.between(1, 5); hops > 0; --hops) {
    const std::int64_t rate =
        chance.once_in(3) ? chance.between(100'000, 20'000'000) : 1'000'000 * chance.between(1, 20);
    const bool pictures = orders == 2 || (orders == 1 && chance.once_in(2));
    storm.hops.push_back({rate, chance.once_in(2) ? chance.between(0, 5'000'000) : 0,
                          pictures ? Order::first_pictures_first : Order::of_arrival});
  }
  for (std::int64_t flows = chance.between(1, 5); flows > 0; --flows)
    storm.flows.push_back(random_flow(chance, storm.hops.size(), step));
  if (chance.once_in(2)) storm.piece_bits = chance.between(500, 20'000);
  return storm;
}

}  // namespace zoneproof::carriage
