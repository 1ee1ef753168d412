#include "schematic/channel.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <random>

#include "schematic/diagram.hpp"

namespace zoneproof::schematic {

namespace {

struct Piece {
  std::size_t net;
  bool level;
  double at, from, to;
};

/// The pieces of a routing with channel from x = -1 to x = levels; those of straight nets too.
std::vector<Piece> pieces_of(const std::vector<ChannelPins>& nets, const ChannelRouting& routing) {
  std::vector<Piece> pieces;
  const double right = static_cast<double>(routing.levels);
  std::vector<bool> tracked(nets.size(), false);
  std::vector<std::vector<double>> jogs(nets.size());
  for (const Track& track : routing.tracks) {
    tracked[track.net] = true;
    const auto x = static_cast<double>(track.level);
    std::vector<double> all = track.left;
    all.insert(all.end(), track.right.begin(), track.right.end());
    all.insert(all.end(), track.jogs.begin(), track.jogs.end());
    const auto [low, high] = std::minmax_element(all.begin(), all.end());
    pieces.push_back({track.net, false, x, *low, *high});
    for (const double y : track.left) pieces.push_back({track.net, true, y, -1.0, x});
    for (const double y : track.right) pieces.push_back({track.net, true, y, x, right});
    for (std::size_t i = 0; i < track.jogs.size(); ++i) jogs[track.net].push_back(x);
    if (jogs[track.net].size() == 2)
      pieces.push_back({track.net, true, track.jogs.front(), std::min(jogs[track.net][0], jogs[track.net][1]),
                        std::max(jogs[track.net][0], jogs[track.net][1])});
  }
  for (std::size_t i = 0; i < nets.size(); ++i)
    if (!tracked[i] && !nets[i].left.empty() && !nets[i].right.empty())
      pieces.push_back({i, true, nets[i].left.front(), -1.0, right});
  return pieces;
}

bool lie_on_each_other(const Piece& a, const Piece& b) {
  return a.net != b.net && a.level == b.level && std::abs(a.at - b.at) < 1e-6 && a.from < b.to - 1e-6 &&
         b.from < a.to - 1e-6;
}

/// Also a corner of one on the other's line: nobody could tell them apart.
bool touch(const Piece& a, const Piece& b) {
  if (a.net == b.net || a.level == b.level) return false;
  const Piece& across = a.level ? a : b;
  const Piece& down = a.level ? b : a;
  const bool on = down.at >= across.from - 1e-6 && down.at <= across.to + 1e-6 && across.at >= down.from - 1e-6 &&
                  across.at <= down.to + 1e-6;
  const bool inside = down.at > across.from + 1e-6 && down.at < across.to - 1e-6 && across.at > down.from + 1e-6 &&
                      across.at < down.to - 1e-6;
  return on && !inside;
}

std::size_t crossed(const std::vector<Piece>& pieces) {
  std::size_t count = 0;
  for (std::size_t i = 0; i < pieces.size(); ++i)
    for (std::size_t j = i + 1; j < pieces.size(); ++j) {
      const Piece &a = pieces[i], &b = pieces[j];
      if (a.net == b.net || a.level == b.level) continue;
      const Piece& across = a.level ? a : b;
      const Piece& down = a.level ? b : a;
      count += down.at > across.from && down.at < across.to && across.at > down.from && across.at < down.to ? 1 : 0;
    }
  return count;
}

/// Pins of `nets` nets at places of their own on each side, taken by chance from the grid's lines.
std::vector<ChannelPins> random_channel(std::mt19937& random, std::size_t nets, std::size_t lines) {
  std::vector<ChannelPins> made(nets);
  for (const bool left : {true, false}) {
    std::vector<double> places(lines);
    std::iota(places.begin(), places.end(), 0.0);
    std::shuffle(places.begin(), places.end(), random);
    for (std::size_t i = 0; i < lines; ++i)
      if (random() % 3 != 0) {
        ChannelPins& net = made[random() % nets];
        (left ? net.left : net.right).push_back(kGrid_mm * places[i]);
      }
  }
  return made;
}

/// The least crossings of any order of one track a net, by trying all; nothing where none holds the constraints.
std::size_t least_crossings(const std::vector<ChannelPins>& nets) {
  std::vector<std::size_t> order;
  ChannelRouting routing;
  for (std::size_t i = 0; i < nets.size(); ++i) {
    std::vector<double> all = nets[i].left;
    all.insert(all.end(), nets[i].right.begin(), nets[i].right.end());
    if (all.empty() || *std::max_element(all.begin(), all.end()) == *std::min_element(all.begin(), all.end())) continue;
    routing.tracks.push_back({i, routing.tracks.size(), nets[i].left, nets[i].right, {}});
  }
  routing.levels = routing.tracks.size();
  order.resize(routing.tracks.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::size_t best = std::numeric_limits<std::size_t>::max();
  do {
    for (std::size_t i = 0; i < order.size(); ++i) routing.tracks[i].level = order[i];
    const std::vector<Piece> pieces = pieces_of(nets, routing);
    bool sound = true;
    for (std::size_t i = 0; i < pieces.size() && sound; ++i)
      for (std::size_t j = i + 1; j < pieces.size() && sound; ++j)
        sound = !lie_on_each_other(pieces[i], pieces[j]) && !touch(pieces[i], pieces[j]);
    if (sound) best = std::min(best, crossed(pieces));
  } while (std::next_permutation(order.begin(), order.end()));
  return best;
}

}  // namespace

TEST(Channel, WiresOfDifferentNetsNeverLieOnEachOtherNorMeet) {
  std::mt19937 random(5);
  for (int i = 0; i < 400; ++i) {
    const std::vector<ChannelPins> nets = random_channel(random, 2 + random() % 14, 4 + random() % 20);
    const ChannelRouting routing = routed(nets);
    const std::vector<Piece> pieces = pieces_of(nets, routing);
    for (std::size_t a = 0; a < pieces.size(); ++a)
      for (std::size_t b = a + 1; b < pieces.size(); ++b) {
        EXPECT_FALSE(lie_on_each_other(pieces[a], pieces[b])) << i;
        EXPECT_FALSE(touch(pieces[a], pieces[b])) << i;
      }
    std::size_t pins = 0, wired = 0;
    for (const ChannelPins& net : nets) pins += net.left.size() + net.right.size();
    for (const Track& track : routing.tracks) wired += track.left.size() + track.right.size();
    for (const ChannelPins& net : nets) {
      std::vector<double> all = net.left;
      all.insert(all.end(), net.right.begin(), net.right.end());
      if (!all.empty() && *std::max_element(all.begin(), all.end()) == *std::min_element(all.begin(), all.end()))
        wired += all.size();
    }
    EXPECT_EQ(wired, pins) << "every pin has its wire";
  }
}

TEST(Channel, CrossesAsSeldomAsTheBestOfAllOrders) {
  std::mt19937 random(9);
  int compared = 0;
  for (int i = 0; i < 300; ++i) {
    const std::vector<ChannelPins> nets = random_channel(random, 2 + random() % 4, 7);
    const std::size_t least = least_crossings(nets);
    if (least == std::numeric_limits<std::size_t>::max()) continue;  // a circle: no order of whole tracks holds
    EXPECT_EQ(crossed(pieces_of(nets, routed(nets))), least) << i;
    ++compared;
  }
  EXPECT_GT(compared, 150);
}

TEST(Channel, ACircleOfConstraintsIsBrokenByAJog) {
  const std::vector<ChannelPins> nets = {{{0.0}, {2.5}}, {{2.5}, {0.0}}};
  const ChannelRouting routing = routed(nets);
  EXPECT_EQ(routing.tracks.size(), 3U);
  const std::vector<Piece> pieces = pieces_of(nets, routing);
  for (std::size_t a = 0; a < pieces.size(); ++a)
    for (std::size_t b = a + 1; b < pieces.size(); ++b) EXPECT_FALSE(lie_on_each_other(pieces[a], pieces[b]));
}

TEST(Channel, AStraightWireNeedsNoTrack) { EXPECT_EQ(routed({{{5.0}, {5.0}}}).levels, 0U); }

}  // namespace zoneproof::schematic
