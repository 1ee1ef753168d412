#include "carriage/delivery_bound.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <tuple>
#include <utility>

#include "carriage/calculus.hpp"
#include "carriage/rounding.hpp"

namespace zoneproof::carriage {
namespace {

constexpr double kPerSecond = static_cast<double>(kNanosecondsPerSecond);

/// A frame that is waited for, on its way.
struct Mark {
  Curve in_front;         ///< of its own flow, how much within t before it comes; with itself
  Nanoseconds since = 0;  ///< since the release, until it comes to the hop, at most
};

/// A flow as it comes to a hop.
struct Passing {
  Curve arrival;
  Mark picture, last;
  Nanoseconds any_since = 0;  ///< of each piece, since it came to the first hop
  Bits picture_bits = 0;
  bool last_is_picture = false;
  std::optional<double> other_bits;  ///< all but the picture, where the flow ends
  Bits least_piece = 0, largest_piece = 0;
  std::optional<std::size_t> from;  ///< the hop before
  bool bounded = true;
};

/// How long pieces are at a hop, until their last bit is sent.
struct Held {
  Nanoseconds any = 0, picture = 0, last = 0;
};

std::optional<Nanoseconds> whole_nanoseconds(std::optional<double> seconds) {
  if (!seconds) return std::nullopt;
  const double nanoseconds = std::ceil(product_up(*seconds, kPerSecond));
  return nanoseconds < 4e18 ? std::optional(static_cast<Nanoseconds>(nanoseconds)) : std::nullopt;
}

double seconds_up(Nanoseconds time) { return ratio_up(static_cast<double>(time), kPerSecond); }

// --- flows at their senders --------------------------------------------------------------------------------------

/// Frames up to `marked` by how long they are before it.
Curve in_front_of(const std::vector<Frame>& frames, std::size_t marked) {
  std::vector<Piece> pieces;
  double bits = 0.0;
  for (std::size_t i = marked + 1; i-- > 0;) {
    bits += static_cast<double>(frames[i].bits);
    const double before = ratio_down(static_cast<double>(frames[marked].at - frames[i].at), kPerSecond);
    if (!pieces.empty() && pieces.back().from_s == before)
      pieces.back().bits = bits;
    else
      pieces.push_back({before, bits, 0.0});
  }
  return concave_hull(raised(std::move(pieces)));
}

/// The same clip is sent by many: each list of frames is looked through once.
class Hulls {
 public:
  const Curve& of(const std::vector<Frame>& frames) {
    const auto known = known_.find(&frames);
    return known != known_.end() ? known->second
                                 : known_.emplace(&frames, concave_hull(arrival_of(frames))).first->second;
  }

 private:
  struct Sooner {
    bool operator()(const std::vector<Frame>* a, const std::vector<Frame>* b) const {
      return std::lexicographical_compare(
          a->begin(), a->end(), b->begin(), b->end(),
          [](const Frame& x, const Frame& y) { return std::pair(x.at, x.bits) < std::pair(y.at, y.bits); });
    }
  };
  std::map<const std::vector<Frame>*, Curve, Sooner> known_;
};

void measure_pieces(const Flow& flow, std::optional<Bits> piece_bits, Passing& passing) {
  for (const Frame& frame : flow.frames) {
    const Bits largest = piece_bits ? std::min(*piece_bits, frame.bits) : frame.bits;
    const Bits rest = frame.bits % largest;
    const Bits least = rest > 0 ? rest : largest;
    passing.largest_piece = std::max(passing.largest_piece, largest);
    passing.least_piece = passing.least_piece == 0 ? least : std::min(passing.least_piece, least);
  }
  if (!flow.arrival) return;
  // Other frames may come than those listed: pieces are as large as they may be, and as small.
  passing.least_piece = 0;
  const double burst = std::ceil(flow.arrival->at_most(0.0));
  if (burst > static_cast<double>(passing.largest_piece))
    passing.largest_piece = static_cast<Bits>(std::min(burst, 1e18));
  if (piece_bits) passing.largest_piece = std::min(passing.largest_piece, *piece_bits);
}

Passing at_sender(const Flow& flow, std::optional<Bits> piece_bits, Hulls& hulls) {
  const std::size_t picture = flow.first_picture, end = flow.frames.size() - 1;
  const std::size_t last = picture == end && end > 0 ? end - 1 : end;  // the last that is not the picture
  const auto bits_of = [&](std::size_t i) { return static_cast<double>(flow.frames[i].bits); };
  Passing passing;
  passing.picture_bits = flow.frames[picture].bits;
  passing.last_is_picture = last == picture;
  passing.picture.since = flow.frames[picture].at;
  passing.last.since = flow.frames[last].at;
  measure_pieces(flow, piece_bits, passing);
  double until_picture = 0.0, all = 0.0;
  for (std::size_t i = 0; i <= end; ++i) {
    all += bits_of(i);
    if (i == picture) until_picture = all;
  }
  if (flow.arrival) {
    passing.arrival = concave_hull(*flow.arrival);
    passing.picture.in_front = minimum(passing.arrival, Curve::leaky_bucket(until_picture, 0.0));
    passing.last.in_front = passing.arrival;
    return passing;
  }
  passing.arrival = hulls.of(flow.frames);
  passing.other_bits = all - bits_of(picture);
  passing.picture.in_front = in_front_of(flow.frames, picture);
  passing.last.in_front = in_front_of(flow.frames, last);
  if (last < picture)  // which may overtake it
    passing.last.in_front = sum(passing.last.in_front, Curve::leaky_bucket(bits_of(picture), 0.0));
  return passing;
}

// --- a hop -------------------------------------------------------------------------------------------------------

/// Flows that wait for each other in one queue, grouped by the link over which they come, and what serves them.
class Queue {
 public:
  using Share = std::function<Curve(const Passing&)>;

  Queue(const std::vector<const Passing*>& flows, const std::vector<Hop>& hops, Curve service, Share share)
      : service_(std::move(service)), share_(std::move(share)) {
    std::map<std::optional<std::size_t>, std::vector<const Passing*>> by_link;
    for (const Passing* flow : flows) by_link[flow->from].push_back(flow);
    std::vector<Curve> groups;
    for (const auto& [link, members] : by_link) {
      Group& group = groups_[link];
      std::vector<Curve> shares;
      for (const Passing* flow : members) shares.push_back(share_(*flow));
      group.sum = sum(std::move(shares));
      if (link) {  // in t seconds it ends pieces for t and the grid, but for the first one, most of which may be older
        Bits largest = 0;
        for (const Passing* flow : members) largest = std::max(largest, flow->largest_piece);
        const auto rate = static_cast<double>(hops[*link].rate_bps);
        group.link = Curve::leaky_bucket(sum_up(static_cast<double>(largest), ratio_up(rate, kPerSecond)), rate);
      }
      groups.push_back(group.cut(group.sum));
    }
    all_ = sum(std::move(groups));
  }

  const Curve& all() const { return all_; }
  std::optional<Nanoseconds> delay() const { return whole_nanoseconds(delay_bound(all_, service_)); }
  std::optional<double> backlog() const { return backlog_bound(all_, service_); }

  /// The delay with `own` in the place of that flow. Many flows are of one kind, the clips of a unit as a rule: each
  /// kind is looked at once.
  std::optional<Nanoseconds> delay_with(const Passing& flow, const Curve& own) {
    const auto [known, fresh] = delays_.try_emplace(Kind{flow.from, share_(flow), own});
    if (fresh) known->second = whole_nanoseconds(delay_bound(with(flow, own), service_));
    return known->second;
  }

 private:
  /// All, with `own` in the place of that flow.
  Curve with(const Passing& flow, const Curve& own) const {
    const Group& group = groups_.at(flow.from);
    return sum(without(all_, group.cut(group.sum)), group.cut(sum(without(group.sum, share_(flow)), own)));
  }

  struct Kind {
    std::optional<std::size_t> from;
    Curve share, own;  ///< what stands in the place of its share

    bool operator<(const Kind& other) const {
      if (from != other.from) return from < other.from;
      if (share.pieces() != other.share.pieces()) return before(share, other.share);
      return before(own, other.own);
    }
    static bool before(const Curve& a, const Curve& b) {
      return std::lexicographical_compare(a.pieces().begin(), a.pieces().end(), b.pieces().begin(), b.pieces().end(),
                                          [](const Piece& x, const Piece& y) {
                                            return std::tuple(x.from_s, x.bits, x.slope_bps) <
                                                   std::tuple(y.from_s, y.bits, y.slope_bps);
                                          });
    }
  };
  struct Group {
    Curve sum;
    std::optional<Curve> link;
    Curve cut(const Curve& curve) const { return link ? minimum(curve, *link) : curve; }
  };
  Curve service_;
  Share share_;
  std::map<std::optional<std::size_t>, Group> groups_;
  Curve all_;
  std::map<Kind, std::optional<Nanoseconds>> delays_;
};

using Flows = std::vector<Passing*>;

Bits largest_piece(const Flows& flows) {
  Bits largest = 0;
  for (const Passing* flow : flows) largest = std::max(largest, flow->largest_piece);
  return largest;
}

std::vector<const Passing*> seen(const Flows& flows) { return {flows.begin(), flows.end()}; }

/// All of a hop that sends what comes in its order.
Queue whole_queue(const Flows& flows, const std::vector<Hop>& hops, const Hop& hop) {
  return Queue(seen(flows), hops, Curve::rate_latency(static_cast<double>(hop.rate_bps), 0.0),
               [](const Passing& flow) { return flow.arrival; });
}

/// How long each flow is held; nothing where that has no bound.
std::optional<std::vector<Held>> held_in_order(const Flows& flows, const std::vector<Hop>& hops, const Hop& hop) {
  Queue queue = whole_queue(flows, hops, hop);
  const std::optional<Nanoseconds> any = queue.delay();
  if (!any) return std::nullopt;
  const auto of_mark = [&](const Passing& flow, const Mark& mark) {
    return std::min(*any, queue.delay_with(flow, mark.in_front).value_or(*any));
  };
  std::vector<Held> held;
  for (const Passing* flow : flows) held.push_back({*any, of_mark(*flow, flow->picture), of_mark(*flow, flow->last)});
  return held;
}

std::optional<std::vector<Held>> held_pictures_first(const Flows& flows, const std::vector<Hop>& hops, const Hop& hop) {
  const auto rate = static_cast<double>(hop.rate_bps);
  const Curve first = Curve::rate_latency(rate, ratio_up(static_cast<double>(largest_piece(flows)), rate));
  const Queue pictures(seen(flows), hops, first, [](const Passing& flow) {
    return minimum(flow.arrival, Curve::leaky_bucket(static_cast<double>(flow.picture_bits), 0.0));
  });
  const Curve rest = left_in_any_order(Curve::rate_latency(rate, 0.0), pictures.all());
  Queue others(seen(flows), hops, rest, [](const Passing& flow) {
    return flow.other_bits ? minimum(flow.arrival, Curve::leaky_bucket(*flow.other_bits, 0.0)) : flow.arrival;
  });
  const std::optional<Nanoseconds> picture = pictures.delay(), other = others.delay();
  if (!picture || !other) return std::nullopt;
  std::vector<Held> held;
  for (const Passing* flow : flows) {
    Held of_flow = {std::max(*picture, *other), *picture, *picture};
    if (!flow->last_is_picture)
      of_flow.last = std::min(*other, others.delay_with(*flow, flow->last.in_front).value_or(*other));
    held.push_back(of_flow);
  }
  return held;
}

/// What is in front comes closer where it is held longest and the mark shortest.
void pass(Mark& mark, Nanoseconds held, double jitter_s, Nanoseconds latency) {
  mark.since += held + latency;
  mark.in_front = advanced(mark.in_front, jitter_s);
}

std::optional<Bits> backlog_at(const Flows& flows, const std::vector<Hop>& hops, const Hop& hop) {
  const std::optional<double> bits = whole_queue(flows, hops, hop).backlog();
  // The piece being sent waits whole until it is done.
  return bits ? std::optional(static_cast<Bits>(std::ceil(*bits)) + largest_piece(flows)) : std::nullopt;
}

/// The flows behind the hop; the bound of its backlog.
std::optional<Bits> pass_hop(const Flows& flows, const std::vector<Hop>& hops, std::size_t number) {
  if (flows.empty()) return 0;
  const Hop& hop = hops[number];
  const bool bounded = std::all_of(flows.begin(), flows.end(), [](const Passing* flow) { return flow->bounded; });
  const std::optional<Bits> backlog = bounded ? backlog_at(flows, hops, hop) : std::nullopt;
  std::optional<std::vector<Held>> held;
  if (bounded && backlog)
    held = hop.order == Order::of_arrival ? held_in_order(flows, hops, hop) : held_pictures_first(flows, hops, hop);
  for (std::size_t i = 0; i < flows.size(); ++i) {
    Passing& flow = *flows[i];
    flow.bounded = held.has_value();
    flow.from = number;
    if (!held) continue;
    const Nanoseconds least = flow.least_piece * kNanosecondsPerSecond / hop.rate_bps;
    const Held& of_flow = (*held)[i];
    const double jitter_s = seconds_up(std::max<Nanoseconds>(0, of_flow.any - least));
    flow.arrival = advanced(flow.arrival, jitter_s);
    flow.any_since += of_flow.any + hop.latency;
    pass(flow.picture, of_flow.picture, jitter_s, hop.latency);
    pass(flow.last, of_flow.last, jitter_s, hop.latency);
  }
  return backlog;
}

}  // namespace

Bounds delivery_bound(const Storm& storm) {
  require_sound(storm);
  Hulls hulls;
  std::vector<Passing> passing;
  passing.reserve(storm.flows.size());
  for (const Flow& flow : storm.flows) passing.push_back(at_sender(flow, storm.piece_bits, hulls));
  std::vector<Flows> through(storm.hops.size());
  for (std::size_t i = 0; i < storm.flows.size(); ++i)
    for (const std::size_t hop : storm.flows[i].path) through[hop].push_back(&passing[i]);
  Bounds bounds;
  bounds.hops.resize(storm.hops.size());
  const std::optional<std::vector<std::size_t>> order = order_of_hops(storm);
  for (const std::size_t hop : *order) bounds.hops[hop] = pass_hop(through[hop], storm.hops, hop);
  for (const Passing& flow : passing) {
    DeliveryBound bound;
    if (flow.bounded) bound = {flow.picture.since, std::max(flow.picture.since, flow.last.since), flow.any_since};
    bounds.flows.push_back(bound);
  }
  return bounds;
}

}  // namespace zoneproof::carriage
