#pragma once
#include <cstddef>
#include <vector>

namespace zoneproof::schematic {

/// A net between two columns: how far down its pins are, on the left and on the right side.
struct ChannelPins {
  std::vector<double> left, right;
};

/// A vertical piece of a wire in a channel. Levels count from 0 at the left.
struct Track {
  std::size_t net = 0;
  std::size_t level = 0;
  std::vector<double> left, right;  ///< horizontal pieces from it to that side of the channel, by height
  std::vector<double> jogs;         ///< heights at which it is joined to another track of its net
};

struct ChannelRouting {
  std::vector<Track> tracks;  ///< none for a net that runs straight through
  std::size_t levels = 0;
};

/// Routes the nets of one channel: one vertical track for each net with pins at different heights, horizontal pieces to
/// its pins, so that wires of different nets cross but never lie on each other.
///
/// Model: left-edge channel routing (Hashimoto and Stevens, "Wire routing by optimizing channel assignment within large
/// apertures", 8th Design Automation Workshop (1971) 155-169). Tracks whose spans meet have different levels. A net
/// with a left pin at the height of another's right pin lies left of that one (the vertical constraint of Deutsch, "A
/// dogleg channel router", 13th Design Automation Conference (1976) 425-433); where such constraints run in a circle a
/// net is split into two tracks with a jog between them, at the nearest height at which no net has a pin. Which of two
/// tracks lies left decides how often they cross: the order with the least sum is sought, exactly up to ten tracks
/// that matter to each other, else by letting each track move to its best place until none gains (the linear ordering
/// problem is NP-hard). Heights are on the grid, so pins are at one height or `kGrid_mm` apart.
/// Cost: quadratic in the nets, times 2 to the power of their number up to ten.
ChannelRouting routed(const std::vector<ChannelPins>& nets);

}  // namespace zoneproof::schematic
