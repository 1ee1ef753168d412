#pragma once
#include <vector>

#include "schematic/diagram.hpp"

namespace zoneproof::schematic {

/// A device, or the place where a net passes a column that it has no business in.
struct Slot {
  std::size_t device = 0;  ///< of a passage: its number behind the devices
  bool passage = false;
};

/// A net's way through one column: the passage of `net` that stands in `column`.
struct Passage {
  std::size_t net = 0;
  int column = 0;
};

/// Between column `channel` and the next one; -1 lies left of the first column. Pins by device (or passage) and port.
struct ChannelPin {
  std::size_t slot = 0;  ///< as Slot::device
  std::size_t port = 0;  ///< of a passage 0
};
struct ChannelNet {
  std::size_t net = 0;
  std::vector<ChannelPin> left, right;  ///< pins on the channel's left and right side
};

/// The layered graph of a diagram: nets that reach over columns have passages in them (Sugiyama's dummies).
struct Layers {
  std::vector<std::vector<std::size_t>> columns;  ///< slots from above
  std::vector<Passage> passages;                  ///< slot number minus the number of devices
  std::vector<std::vector<ChannelNet>> channels;  ///< first: left of column 0; then one right of each column
};

/// Devices stand in the order in which the diagram has them, passages below.
Layers layers_of(const Diagram& diagram);

/// Crossings that the orders of the columns force: for two nets in a channel, pairs of their joins from left to right
/// that change sides (Barth, Mutzel and Juenger, "Simple and efficient bilayer cross counting", Journal of Graph
/// Algorithms and Applications 8 (2004)). Joins of one side alone are not counted. n log n in the joins.
std::size_t crossings(const Diagram& diagram, const Layers& layers);

/// Reorders the columns for few crossings: sweeps by barycentres (Sugiyama, Tagawa and Toda, "Methods for visual
/// understanding of hierarchical system structures", IEEE Trans. SMC 11 (1981) 109-125), then neighbours change places
/// while that helps (the transposition of Gansner, Koutsofios, North and Vo, IEEE Trans. Software Engineering 19 (1993)
/// 214-230); the best order seen stands. Devices with `top_mm` keep theirs. Two columns alone are NP-hard: no promise
/// that fewer is impossible; tests hold it against all orders of small cases.
void reduce_crossings(const Diagram& diagram, Layers& layers);

}  // namespace zoneproof::schematic
