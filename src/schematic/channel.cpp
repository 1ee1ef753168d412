#include "schematic/channel.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <optional>
#include <stdexcept>

#include "schematic/diagram.hpp"

namespace zoneproof::schematic {

namespace {

constexpr std::size_t kExactly = 10;  ///< tracks whose best order is found by looking at all

bool same(double a, double b) { return std::abs(a - b) < kHair_mm; }

struct Span {
  double low = std::numeric_limits<double>::infinity(), high = -std::numeric_limits<double>::infinity();
  void include(double y) {
    low = std::min(low, y);
    high = std::max(high, y);
  }
  bool inside(double y) const { return y > low + kHair_mm && y < high - kHair_mm; }
};

Span span_of(const Track& track) {
  Span span;
  for (const auto* heights : {&track.left, &track.right, &track.jogs})
    for (const double y : *heights) span.include(y);
  return span;
}

bool meet(const Span& a, const Span& b) { return a.low < b.high + kGrid_mm / 2 && b.low < a.high + kGrid_mm / 2; }

class Router {
 public:
  explicit Router(const std::vector<ChannelPins>& nets) : nets_(nets) {}

  ChannelRouting run() {
    for (std::size_t i = 0; i < nets_.size(); ++i) add(i);
    while (const auto circle = net_in_circle()) split(*circle);
    prepare();
    std::vector<std::size_t> order;
    for (const std::vector<std::size_t>& group : groups()) {
      const std::vector<std::size_t> best = group.size() <= kExactly ? best_of_all(group) : improved(group);
      order.insert(order.end(), best.begin(), best.end());
    }
    return levelled(order);
  }

 private:
  void add(std::size_t net) {
    const ChannelPins& pins = nets_[net];
    Track track{net, 0, pins.left, pins.right, {}};
    const Span span = span_of(track);
    if (span.high - span.low < kHair_mm) {
      straight_.push_back(track);
    } else if (span.low <= span.high) {
      tracks_.push_back(track);
    }
  }

  /// Whether `a` has to lie left of `b`: its left pin and the other's right pin are at one height.
  bool must_precede(const Track& a, const Track& b) const {
    if (a.net == b.net) return &a < &b && !a.jogs.empty() && !b.jogs.empty();
    for (const double left : a.left)
      for (const double right : b.right)
        if (same(left, right)) return true;
    return false;
  }

  /// A track that lies on a circle of constraints and can be split.
  std::optional<std::size_t> net_in_circle() const {
    const std::size_t count = tracks_.size();
    std::vector<int> state(count, 0);
    std::vector<std::size_t> path;
    std::optional<std::size_t> found;
    const std::function<bool(std::size_t)> visit = [&](std::size_t at) {
      state[at] = 1;
      path.push_back(at);
      for (std::size_t next = 0; next < count; ++next) {
        if (next == at || !must_precede(tracks_[at], tracks_[next])) continue;
        if (state[next] == 2) continue;
        if (state[next] == 0 && !visit(next)) continue;
        if (!found) found = splittable(path, next);
        return true;
      }
      path.pop_back();
      state[at] = 2;
      return false;
    };
    for (std::size_t i = 0; i < count; ++i)
      if (state[i] == 0 && visit(i)) return found;
    return std::nullopt;
  }

  /// Of the circle that closes at `from`: a track with pins on both sides that is not split yet. There is always one,
  /// for of two halves of a net one only precedes and the other only follows.
  std::size_t splittable(const std::vector<std::size_t>& path, std::size_t from) const {
    auto at = std::find(path.begin(), path.end(), from);
    for (; at != path.end(); ++at)
      if (tracks_[*at].jogs.empty()) return *at;
    throw std::logic_error("a circle of halves");
  }

  void split(std::size_t which) {
    Track whole = tracks_[which];
    const Span span = span_of(whole);
    const double jog = free_height((span.low + span.high) / 2);
    tracks_[which] = {whole.net, 0, whole.left, {}, {jog}};
    tracks_.push_back({whole.net, 0, {}, whole.right, {jog}});
  }

  double free_height(double near) const {
    std::vector<double> taken;
    for (const auto* list : {&tracks_, &straight_})
      for (const Track& track : *list)
        for (const auto* heights : {&track.left, &track.right, &track.jogs})
          taken.insert(taken.end(), heights->begin(), heights->end());
    const double middle = on_grid(near);
    for (int step = 0;; ++step)
      for (const int sign : {1, -1}) {
        const double y = middle + sign * step * kGrid_mm;
        if (std::none_of(taken.begin(), taken.end(), [&](double other) { return same(other, y); })) return y;
      }
  }

  void prepare() {
    for (const Track& track : tracks_) spans_.push_back(span_of(track));
    const std::size_t count = tracks_.size();
    cost_.assign(count, std::vector<long long>(count, 0));
    before_.assign(count, std::vector<bool>(count, false));
    for (std::size_t a = 0; a < count; ++a)
      for (std::size_t b = 0; b < count; ++b) {
        if (a == b) continue;
        cost_[a][b] = tracks_[a].net == tracks_[b].net ? 0 : crossings(a, b);
        before_[a][b] = must_precede(tracks_[a], tracks_[b]);
      }
  }

  /// Crossings of two tracks with `a` to the left.
  long long crossings(std::size_t a, std::size_t b) const {
    long long count = 0;
    for (const double y : tracks_[b].left) count += spans_[a].inside(y) || at_end(a, y) ? 1 : 0;
    for (const double y : tracks_[a].right) count += spans_[b].inside(y) || at_end(b, y) ? 1 : 0;
    return count;
  }
  /// A wire that would run into the end of a track: no crossing but a fault, kept out by the constraints.
  bool at_end(std::size_t track, double y) const { return same(spans_[track].low, y) || same(spans_[track].high, y); }

  bool matter(std::size_t a, std::size_t b) const {
    return before_[a][b] || before_[b][a] || cost_[a][b] != cost_[b][a];
  }

  /// Tracks that matter to each other, directly or through others.
  std::vector<std::vector<std::size_t>> groups() const {
    std::vector<std::vector<std::size_t>> all;
    std::vector<bool> seen(tracks_.size(), false);
    for (std::size_t i = 0; i < tracks_.size(); ++i) {
      if (seen[i]) continue;
      std::vector<std::size_t> group{i};
      seen[i] = true;
      for (std::size_t at = 0; at < group.size(); ++at)
        for (std::size_t j = 0; j < tracks_.size(); ++j)
          if (!seen[j] && matter(group[at], j)) {
            seen[j] = true;
            group.push_back(j);
          }
      std::sort(group.begin(), group.end());
      all.push_back(std::move(group));
    }
    return all;
  }

  /// The best order by dynamic programming over the set of tracks that lie left (Held and Karp's scheme).
  std::vector<std::size_t> best_of_all(const std::vector<std::size_t>& group) const {
    const std::size_t count = group.size(), sets = std::size_t{1} << count;
    constexpr long long never = std::numeric_limits<long long>::max();
    std::vector<long long> best(sets, never);
    std::vector<std::size_t> last(sets, 0);
    best[0] = 0;
    for (std::size_t set = 0; set < sets; ++set) {
      if (best[set] == never) continue;
      for (std::size_t next = 0; next < count; ++next) {
        if ((set >> next & 1) != 0 || !may_follow(group, set, next)) continue;
        long long sum = best[set];
        for (std::size_t other = 0; other < count; ++other)
          if ((set >> other & 1) != 0) sum += cost_[group[other]][group[next]];
        const std::size_t with = set | std::size_t{1} << next;
        if (sum >= best[with]) continue;
        best[with] = sum;
        last[with] = next;
      }
    }
    std::vector<std::size_t> order;
    for (std::size_t set = sets - 1; set != 0; set &= ~(std::size_t{1} << last[set])) order.push_back(group[last[set]]);
    std::reverse(order.begin(), order.end());
    return order;
  }

  bool may_follow(const std::vector<std::size_t>& group, std::size_t set, std::size_t next) const {
    for (std::size_t other = 0; other < group.size(); ++other)
      if ((set >> other & 1) == 0 && other != next && before_[group[other]][group[next]]) return false;
    return true;
  }

  /// An order that holds the constraints, then each track to the place where it crosses least.
  std::vector<std::size_t> improved(const std::vector<std::size_t>& group) const {
    std::vector<std::size_t> order, left = group;
    while (!left.empty()) {
      const auto free = std::find_if(left.begin(), left.end(), [&](std::size_t at) {
        return std::none_of(left.begin(), left.end(), [&](std::size_t other) { return before_[other][at]; });
      });
      order.push_back(*free);
      left.erase(free);
    }
    constexpr int rounds = 8;
    for (int round = 0; round < rounds; ++round) {
      bool changed = false;
      for (const std::size_t track : group) changed = move_best(order, track) || changed;
      if (!changed) break;
    }
    return order;
  }

  bool move_best(std::vector<std::size_t>& order, std::size_t track) const {
    const auto at = static_cast<std::size_t>(std::find(order.begin(), order.end(), track) - order.begin());
    std::size_t best = at;
    long long least = 0;
    for (const int step : {-1, 1}) {
      long long gain = 0;
      for (std::size_t i = at; step < 0 ? i > 0 : i + 1 < order.size();) {
        i = step < 0 ? i - 1 : i + 1;
        const std::size_t other = order[i];
        if (step < 0 ? before_[other][track] : before_[track][other]) break;
        gain += step < 0 ? cost_[track][other] - cost_[other][track] : cost_[other][track] - cost_[track][other];
        if (gain >= least) continue;
        least = gain;
        best = i;
      }
    }
    if (best == at) return false;
    order.erase(order.begin() + static_cast<std::ptrdiff_t>(at));
    order.insert(order.begin() + static_cast<std::ptrdiff_t>(best), track);
    return true;
  }

  /// Each track on the leftmost level that those before it leave to it.
  ChannelRouting levelled(const std::vector<std::size_t>& order) {
    ChannelRouting routing;
    for (std::size_t i = 0; i < order.size(); ++i) {
      Track& track = tracks_[order[i]];
      for (std::size_t j = 0; j < i; ++j) {
        const std::size_t other = order[j];
        const bool apart =
            meet(spans_[other], spans_[order[i]]) || matter(other, order[i]) || tracks_[other].net == track.net;
        if (apart) track.level = std::max(track.level, tracks_[other].level + 1);
      }
      routing.levels = std::max(routing.levels, track.level + 1);
    }
    for (const std::size_t at : order) routing.tracks.push_back(tracks_[at]);
    return routing;
  }

  const std::vector<ChannelPins>& nets_;
  std::vector<Track> tracks_, straight_;
  std::vector<Span> spans_;
  std::vector<std::vector<long long>> cost_;
  std::vector<std::vector<bool>> before_;
};

}  // namespace

ChannelRouting routed(const std::vector<ChannelPins>& nets) { return Router(nets).run(); }

}  // namespace zoneproof::schematic
