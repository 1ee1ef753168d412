#include "schematic/columns.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

namespace zoneproof::schematic {

double on_grid(double mm) {
  constexpr double hair = 1e-6;  // what was on the grid stays there
  return std::ceil(mm / kGrid_mm - hair) * kGrid_mm;
}

namespace {

constexpr int kSweeps = 12, kRounds = 6;
constexpr std::size_t kMostOrders = 5'000;  ///< that are all tried

int channel_of(const Diagram& diagram, const End& end) {
  const Device& device = diagram.devices[end.device];
  return device.column + (device.ports[end.port].side == Side::right ? 1 : 0);
}

/// Adds the pins and passages of one net.
void add_net(const Diagram& diagram, std::size_t number, Layers& layers) {
  const Net& net = diagram.nets[number];
  if (net.ends.empty()) return;
  int first = channel_of(diagram, net.ends.front()), last = first;
  for (const End& end : net.ends) {
    first = std::min(first, channel_of(diagram, end));
    last = std::max(last, channel_of(diagram, end));
  }
  std::map<int, ChannelNet> parts;
  for (int channel = first; channel <= last; ++channel) parts[channel].net = number;
  for (const End& end : net.ends) {
    const int channel = channel_of(diagram, end);
    const bool right_edge = diagram.devices[end.device].column + 1 == channel;
    (right_edge ? parts[channel].left : parts[channel].right).push_back({end.device, end.port});
  }
  for (int column = first; column < last; ++column) {
    const std::size_t slot = diagram.devices.size() + layers.passages.size();
    layers.passages.push_back({number, column});
    layers.columns[static_cast<std::size_t>(column)].push_back(slot);
    parts[column].right.push_back({slot, 0});
    parts[column + 1].left.push_back({slot, 0});
  }
  for (auto& [channel, part] : parts) layers.channels[static_cast<std::size_t>(channel)].push_back(std::move(part));
}

/// Where each slot stands in its column, from 0.
std::vector<double> ranks_of(const Layers& layers, std::size_t slots) {
  std::vector<double> ranks(slots, 0.0);
  for (const auto& column : layers.columns)
    for (std::size_t i = 0; i < column.size(); ++i) ranks[column[i]] = static_cast<double>(i);
  return ranks;
}

/// A pin's place as a number that grows downwards: ports of a device lie between it and the next one.
class PinOrder {
 public:
  PinOrder(const Diagram& diagram, const Layers& layers)
      : diagram_(diagram), ranks_(ranks_of(layers, diagram.devices.size() + layers.passages.size())) {}

  double rank(std::size_t slot) const { return ranks_[slot]; }
  void swap(std::size_t a, std::size_t b) { std::swap(ranks_[a], ranks_[b]); }

  double at(const ChannelPin& pin) const {
    if (pin.slot >= diagram_.devices.size()) return ranks_[pin.slot] + 0.5;
    const Device& device = diagram_.devices[pin.slot];
    return ranks_[pin.slot] + (device.ports[pin.port].y_mm + kGrid_mm) / (device.height_mm + 2 * kGrid_mm);
  }

 private:
  const Diagram& diagram_;
  std::vector<double> ranks_;
};

struct Join {
  double left, right;
};

void add_joins(const ChannelNet& net, const PinOrder& order, std::vector<Join>& joins) {
  for (const ChannelPin& a : net.left)
    for (const ChannelPin& b : net.right) joins.push_back({order.at(a), order.at(b)});
}

/// Pairs that stand in one order on the left and in the other on the right: inversions, by merging.
std::size_t inversions(std::vector<double>& values, std::vector<double>& spare, std::size_t from, std::size_t to) {
  if (to - from < 2) return 0;
  const std::size_t middle = (from + to) / 2;
  std::size_t count = inversions(values, spare, from, middle) + inversions(values, spare, middle, to);
  std::size_t a = from, b = middle, out = from;
  while (a < middle || b < to) {
    const bool take_a = b == to || (a < middle && values[a] <= values[b]);
    if (!take_a) count += middle - a;
    spare[out++] = take_a ? values[a++] : values[b++];
  }
  std::copy(spare.begin() + static_cast<std::ptrdiff_t>(from), spare.begin() + static_cast<std::ptrdiff_t>(to),
            values.begin() + static_cast<std::ptrdiff_t>(from));
  return count;
}

std::size_t crossings_of(std::vector<Join> joins) {
  std::sort(joins.begin(), joins.end(),
            [](const Join& a, const Join& b) { return a.left != b.left ? a.left < b.left : a.right < b.right; });
  std::vector<double> values, spare(joins.size());
  for (const Join& join : joins) values.push_back(join.right);
  return inversions(values, spare, 0, values.size());
}

/// Those of all joins less those of a net with itself: its wires meet, they do not cross.
std::size_t crossings_in(const std::vector<ChannelNet>& channel, const PinOrder& order) {
  std::vector<Join> joins;
  std::size_t own = 0;
  for (const ChannelNet& net : channel) {
    std::vector<Join> of_net;
    add_joins(net, order, of_net);
    joins.insert(joins.end(), of_net.begin(), of_net.end());
    own += crossings_of(std::move(of_net));
  }
  return crossings_of(std::move(joins)) - own;
}

class Reduction {
 public:
  Reduction(const Diagram& diagram, Layers& layers) : diagram_(diagram), layers_(layers) {
    const std::size_t slots = diagram.devices.size() + layers.passages.size();
    leftward_.resize(slots);
    rightward_.resize(slots);
    for (const auto& channel : layers.channels)
      for (const ChannelNet& net : channel)
        for (const ChannelPin& a : net.left)
          for (const ChannelPin& b : net.right) {
            rightward_[a.slot].push_back({a, b});
            leftward_[b.slot].push_back({b, a});
          }
  }

  void run() {
    keep_best();
    for (int sweep = 0; sweep < kSweeps && best_ > 0; ++sweep) {
      const bool forward = sweep % 2 == 0;
      const std::size_t count = layers_.columns.size();
      for (std::size_t i = 0; i < count; ++i)
        sort_column(forward ? i : count - 1 - i, forward ? leftward_ : rightward_);
      transpose();
      keep_best();
    }
    layers_.columns = best_order_;
    if (orders() <= kMostOrders)
      try_all(0);
    else
      sift();
    layers_.columns = best_order_;
  }

 private:
  struct Pull {
    ChannelPin own, other;
  };
  using Pulls = std::vector<std::vector<Pull>>;

  bool fixed(std::size_t slot) const { return slot < diagram_.devices.size() && diagram_.devices[slot].top_mm; }

  void keep_best() {
    const std::size_t now = crossings(diagram_, layers_);
    if (!best_order_.empty() && now >= best_) return;
    best_ = now;
    best_order_ = layers_.columns;
  }

  /// Slots with neighbours on that side change places among themselves; others and fixed ones stay where they are.
  void sort_column(std::size_t at, const Pulls& pulls) {
    std::vector<std::size_t>& column = layers_.columns[at];
    const PinOrder order(diagram_, layers_);
    std::vector<std::pair<double, std::size_t>> movable;
    std::vector<std::size_t> places;
    for (std::size_t i = 0; i < column.size(); ++i) {
      const auto& own = pulls[column[i]];
      if (own.empty() || fixed(column[i])) continue;
      double sum = 0.0;
      for (const Pull& pull : own) sum += order.at(pull.other);
      movable.push_back({sum / static_cast<double>(own.size()), column[i]});
      places.push_back(i);
    }
    std::stable_sort(movable.begin(), movable.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    for (std::size_t i = 0; i < places.size(); ++i) column[places[i]] = movable[i].second;
  }

  /// Crossings between the joins of two neighbours in a column, `a` standing above `b`, on one side of it.
  std::size_t between(std::size_t a, std::size_t b, const Pulls& pulls, const PinOrder& order) const {
    std::size_t count = 0;
    for (const Pull& up : pulls[a])
      for (const Pull& down : pulls[b]) count += order.at(up.other) > order.at(down.other) ? 1 : 0;
    return count;
  }

  void transpose() {
    for (int round = 0; round < kRounds; ++round) {
      bool changed = false;
      PinOrder order(diagram_, layers_);
      for (auto& column : layers_.columns)
        for (std::size_t i = 0; i + 1 < column.size(); ++i) {
          const std::size_t a = column[i], b = column[i + 1];
          if (fixed(a) || fixed(b)) continue;
          const std::size_t now = between(a, b, leftward_, order) + between(a, b, rightward_, order);
          const std::size_t then = between(b, a, leftward_, order) + between(b, a, rightward_, order);
          if (then >= now) continue;
          std::swap(column[i], column[i + 1]);
          order.swap(a, b);
          changed = true;
        }
      if (!changed) return;
    }
  }

  /// Each slot in turn goes to the place in its column where all crossings are fewest, the others keeping their order
  /// (Rudell, "Dynamic variable ordering for ordered binary decision diagrams", ICCAD 1993; for layers: Matuszewski,
  /// Schoenfeld, Molitor, Graph Drawing 1999), until none of them helps. What sweeps and neighbours do not find.
  void sift() {
    for (int round = 0; round < kRounds && best_ > 0; ++round) {
      const std::size_t before = best_;
      for (auto& column : layers_.columns)
        for (const std::size_t slot : std::vector<std::size_t>(column)) sift(column, slot);
      if (best_ == before) return;
    }
  }

  void sift(std::vector<std::size_t>& column, std::size_t slot) {
    if (std::any_of(column.begin(), column.end(), [&](std::size_t one) { return fixed(one); })) return;
    std::vector<std::size_t> best = column, others = column;
    others.erase(std::find(others.begin(), others.end(), slot));
    for (std::size_t at = 0; at <= others.size(); ++at) {
      column = others;
      column.insert(column.begin() + static_cast<std::ptrdiff_t>(at), slot);
      const std::size_t now = crossings(diagram_, layers_);
      if (now >= best_) continue;
      best_ = now;
      best = column;
    }
    column = std::move(best);
    best_order_ = layers_.columns;
  }

  /// How many orders there are of all columns together; nothing more than `kMostOrders` is counted.
  std::size_t orders() const {
    std::size_t count = 1;
    for (const auto& column : layers_.columns)
      for (std::size_t i = 2; i <= column.size(); ++i) {
        if (fixed(column[i - 1]) || fixed(column[0])) return kMostOrders + 1;
        count *= i;
        if (count > kMostOrders) return count;
      }
    return count;
  }

  /// Small diagrams have the fewest crossings that there can be.
  void try_all(std::size_t at) {
    if (best_ == 0) return;
    if (at == layers_.columns.size()) return keep_best();
    std::vector<std::size_t>& column = layers_.columns[at];
    std::sort(column.begin(), column.end());
    do try_all(at + 1);
    while (std::next_permutation(column.begin(), column.end()));
  }

  const Diagram& diagram_;
  Layers& layers_;
  Pulls leftward_, rightward_;
  std::size_t best_ = 0;
  std::vector<std::vector<std::size_t>> best_order_;
};

}  // namespace

Layers layers_of(const Diagram& diagram) {
  int columns = 0;
  for (const Device& device : diagram.devices) columns = std::max(columns, device.column + 1);
  Layers layers;
  layers.columns.resize(static_cast<std::size_t>(columns));
  layers.channels.resize(static_cast<std::size_t>(columns) + 1);
  for (std::size_t i = 0; i < diagram.devices.size(); ++i)
    layers.columns[static_cast<std::size_t>(diagram.devices[i].column)].push_back(i);
  for (std::size_t i = 0; i < diagram.nets.size(); ++i) add_net(diagram, i, layers);
  return layers;
}

std::size_t crossings(const Diagram& diagram, const Layers& layers) {
  const PinOrder order(diagram, layers);
  std::size_t count = 0;
  for (const auto& channel : layers.channels) count += crossings_in(channel, order);
  return count;
}

void reduce_crossings(const Diagram& diagram, Layers& layers) { Reduction(diagram, layers).run(); }

}  // namespace zoneproof::schematic
