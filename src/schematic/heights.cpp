#include "schematic/heights.hpp"

#include <algorithm>
#include <limits>
#include <stdexcept>

namespace zoneproof::schematic {

namespace {

constexpr int kHeightSweeps = 8;
constexpr double kStraightPassage = 8.0;  ///< a wire that passes bends rather at its ends (Gansner et al., as 1 to 8)

/// Neighbours that have to move together: from the first member on, wishes counted from its place.
struct Pool {
  std::size_t first = 0, count = 1;
  std::vector<Wish> wishes;
  double at = 0.0;
};

double median(std::vector<Wish>& wishes) {
  if (wishes.empty()) throw std::logic_error("a place that nothing wishes for");
  std::sort(wishes.begin(), wishes.end(), [](const Wish& a, const Wish& b) { return a.at < b.at; });
  double all = 0.0, sum = 0.0;
  for (const Wish& wish : wishes) all += wish.weight;
  std::size_t i = 0;
  while (i + 1 < wishes.size() && 2 * (sum + wishes[i].weight) < all) sum += wishes[i++].weight;
  return wishes[i].at;
}

}  // namespace

std::vector<double> pooled(const std::vector<std::vector<Wish>>& wishes, const std::vector<double>& apart) {
  std::vector<double> before(wishes.size(), 0.0);  // distance from the first value when all are as near as they may be
  for (std::size_t i = 1; i < wishes.size(); ++i) before[i] = before[i - 1] + apart[i - 1];
  std::vector<Pool> pools;
  for (std::size_t i = 0; i < wishes.size(); ++i) {
    Pool pool{i, 1, wishes[i], 0.0};
    for (Wish& wish : pool.wishes) wish.at -= before[i];
    pool.at = median(pool.wishes);
    while (!pools.empty() && pools.back().at > pool.at) {
      pool.first = pools.back().first;
      pool.count += pools.back().count;
      pool.wishes.insert(pool.wishes.end(), pools.back().wishes.begin(), pools.back().wishes.end());
      pool.at = median(pool.wishes);
      pools.pop_back();
    }
    pools.push_back(std::move(pool));
  }
  std::vector<double> values(wishes.size(), 0.0);
  for (const Pool& pool : pools)
    for (std::size_t i = 0; i < pool.count; ++i) values[pool.first + i] = pool.at + before[pool.first + i];
  return values;
}

namespace {

class Heights {
 public:
  Heights(const Diagram& diagram, const Layers& layers, double gap_mm)
      : diagram_(diagram), layers_(layers), gap_mm_(gap_mm), tops_(diagram.devices.size() + layers.passages.size()) {
    placed_ = std::any_of(diagram.devices.begin(), diagram.devices.end(), [](const Device& d) { return d.top_mm; });
  }

  std::vector<double> run() {
    for (const auto& column : layers_.columns) stack(column);
    for (int sweep = 0; sweep < kHeightSweeps; ++sweep) {
      const bool forward = sweep % 2 == 0, both = sweep + 2 >= kHeightSweeps;
      const std::size_t count = layers_.columns.size();
      for (std::size_t i = 0; i < count; ++i) settle(forward ? i : count - 1 - i, forward || both, !forward || both);
    }
    if (!placed_) lift();
    return std::move(tops_);
  }

 private:
  bool passage(std::size_t slot) const { return slot >= diagram_.devices.size(); }
  double height(std::size_t slot) const { return passage(slot) ? 0.0 : diagram_.devices[slot].height_mm; }
  double offset(const ChannelPin& pin) const {
    return passage(pin.slot) ? 0.0 : diagram_.devices[pin.slot].ports[pin.port].y_mm;
  }
  bool fixed(std::size_t slot) const { return !passage(slot) && diagram_.devices[slot].top_mm; }

  /// From one slot's top to the next one's.
  double apart(std::size_t above, std::size_t below) const {
    const bool passes = passage(above) || passage(below);
    const bool close = !passes && diagram_.devices[above].close && diagram_.devices[below].close;
    const double gap = passes ? kGrid_mm : close ? 0.0 : gap_mm_;
    return on_grid(height(above) + gap);
  }

  void stack(const std::vector<std::size_t>& column) {
    double next = 0.0;
    for (std::size_t i = 0; i < column.size(); ++i) {
      if (fixed(column[i])) next = *diagram_.devices[column[i]].top_mm;
      tops_[column[i]] = next;
      if (i + 1 < column.size()) next += apart(column[i], column[i + 1]);
    }
  }

  void wish(const std::vector<ChannelPin>& own, const std::vector<ChannelPin>& others,
            std::vector<std::vector<Wish>>& wishes, const std::vector<std::size_t>& index) const {
    for (const ChannelPin& pin : own) {
      if (index[pin.slot] == npos) continue;
      for (const ChannelPin& other : others) {
        const bool alone = own.size() == 1 && others.size() == 1;
        const double weight = !alone ? kShared : passage(pin.slot) && passage(other.slot) ? kStraightPassage : 1.0;
        wishes[index[pin.slot]].push_back(
            {tops_[other.slot] + offset(other) - offset(pin), weight / static_cast<double>(others.size())});
      }
    }
  }

  void settle(std::size_t at, bool by_left, bool by_right) {
    const std::vector<std::size_t>& column = layers_.columns[at];
    if (column.empty()) return;
    std::vector<std::size_t> index(tops_.size(), npos);
    for (std::size_t i = 0; i < column.size(); ++i) index[column[i]] = i;
    std::vector<std::vector<Wish>> wishes(column.size());
    std::vector<double> apart_mm;
    for (std::size_t i = 0; i + 1 < column.size(); ++i) apart_mm.push_back(apart(column[i], column[i + 1]));
    if (by_left)
      for (const ChannelNet& net : layers_.channels[at]) wish(net.right, net.left, wishes, index);
    if (by_right)
      for (const ChannelNet& net : layers_.channels[at + 1]) wish(net.left, net.right, wishes, index);
    for (std::size_t i = 0; i < column.size(); ++i)
      if (wishes[i].empty()) wishes[i].push_back({tops_[column[i]], kFaintly});
    if (placed_) return settle_passages(column, wishes);
    const std::vector<double> settled = pooled(wishes, apart_mm);
    for (std::size_t i = 0; i < column.size(); ++i) tops_[column[i]] = on_grid(settled[i]);
  }

  /// Among devices that stand already, passages go where their nets come from.
  void settle_passages(const std::vector<std::size_t>& column, std::vector<std::vector<Wish>>& wishes) {
    for (std::size_t i = 0; i < column.size(); ++i)
      if (passage(column[i])) tops_[column[i]] = on_grid(wishes[i].front().at);
  }

  void lift() {
    double least = std::numeric_limits<double>::infinity();
    for (const double top : tops_) least = std::min(least, top);
    for (double& top : tops_) top -= least;
  }

  static constexpr std::size_t npos = static_cast<std::size_t>(-1);
  static constexpr double kFaintly = 1e-3;
  static constexpr double kShared = 0.25;  ///< a net that bends anyway, for it has more than two ends here
  const Diagram& diagram_;
  const Layers& layers_;
  double gap_mm_;
  bool placed_ = false;  ///< devices stand already
  std::vector<double> tops_;
};

}  // namespace

std::vector<double> heights(const Diagram& diagram, const Layers& layers, double gap_mm) {
  return Heights(diagram, layers, gap_mm).run();
}

}  // namespace zoneproof::schematic
