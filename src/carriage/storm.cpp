#include "carriage/storm.hpp"

#include <algorithm>
#include <functional>
#include <limits>
#include <queue>
#include <stdexcept>
#include <utility>

namespace zoneproof::carriage {
namespace {

constexpr std::int64_t kMostRate_bps = 1'000'000'000'000;
constexpr Nanoseconds kMostTime = 1'000'000'000'000'000;
constexpr double kMostSeconds = 3e9;  // nanoseconds of 64 bits hold three times that

/// A frame before it is cut, or a piece of one. Millions of them are moved about: 24 bytes.
struct Item {
  Nanoseconds at = 0;  ///< come to this hop
  std::int32_t bits = 0;
  std::uint32_t flow = 0, frame = 0;
  bool picture = false;  ///< of the flow's first picture
  bool last = true;      ///< piece of its frame
};

using Items = std::vector<Item>;

/// One link: what it sends is done at nanosecond `now_` and `rest_`/rate of one.
class Sender {
 public:
  explicit Sender(std::int64_t rate_bps) : rate_(rate_bps) {}

  /// The nanosecond at or after which the piece has left.
  Nanoseconds send(Nanoseconds come, Bits bits) {
    if (come > now_) now_ = come, rest_ = 0;
    const std::int64_t whole = rest_ + bits * kNanosecondsPerSecond;
    now_ += whole / rate_;
    rest_ = whole % rate_;
    return now_ + (rest_ > 0 ? 1 : 0);
  }
  /// What has come by then was there when the last piece was done.
  Nanoseconds now() const { return now_; }

 private:
  std::int64_t rate_, rest_ = 0;
  Nanoseconds now_ = 0;
};

/// One sequence in order of time; of equal times the earlier run's first.
Items merged(std::vector<Items> runs) {
  if (runs.empty()) return {};
  const auto sooner = [](const Item& a, const Item& b) { return a.at < b.at; };
  for (std::size_t step = 1; step < runs.size(); step *= 2) {
    for (std::size_t i = 0; i + step < runs.size(); i += 2 * step) {
      Items both(runs[i].size() + runs[i + step].size());
      std::merge(runs[i].begin(), runs[i].end(), runs[i + step].begin(), runs[i + step].end(), both.begin(), sooner);
      runs[i] = std::move(both);
      runs[i + step] = {};
    }
  }
  return std::move(runs.front());
}

Items in_pieces(const Items& frames, Bits piece_bits) {
  Items pieces;
  pieces.reserve(frames.size());
  for (Item item : frames) {
    for (std::int32_t left = item.bits; left > 0; left -= item.bits) {
      item.bits = static_cast<std::int32_t>(std::min<Bits>(left, piece_bits));
      item.last = item.bits == left;
      pieces.push_back(item);
    }
  }
  return pieces;
}

/// What leaves a hop, in the order in which it does, and when.
struct Sent {
  Items items;
  std::vector<Nanoseconds> done;
};

std::vector<Nanoseconds> done_in_order(const Items& come, Sender sender) {
  std::vector<Nanoseconds> done;
  done.reserve(come.size());
  for (const Item& item : come) done.push_back(sender.send(item.at, item.bits));
  return done;
}

Sent sent_pictures_first(const Items& come, Sender sender) {
  Sent sent;
  sent.items.reserve(come.size());
  sent.done.reserve(come.size());
  std::queue<std::size_t> pictures, others;
  for (std::size_t next = 0; sent.items.size() < come.size();) {
    Nanoseconds now = sender.now();
    if (pictures.empty() && others.empty()) now = std::max(now, come[next].at);
    for (; next < come.size() && come[next].at <= now; ++next) (come[next].picture ? pictures : others).push(next);
    std::queue<std::size_t>& chosen = pictures.empty() ? others : pictures;
    const Item& item = come[chosen.front()];
    chosen.pop();
    sent.items.push_back(item);
    sent.done.push_back(sender.send(item.at, item.bits));
  }
  return sent;
}

Backlog largest_backlog(const Items& come, const Items& sent, const std::vector<Nanoseconds>& done) {
  Backlog largest;
  Bits waiting = 0;
  std::size_t gone = 0;
  for (const Item& item : come) {
    for (; gone < done.size() && done[gone] <= item.at; ++gone) waiting -= sent[gone].bits;
    waiting += item.bits;
    if (waiting > largest.most_bits) largest = {waiting, item.at};
  }
  return largest;
}

class Run {
  static constexpr std::size_t arrived = std::numeric_limits<std::size_t>::max();

 public:
  Run(const Storm& storm, std::vector<LogLine>* log)
      : storm_(storm),
        log_(log),
        waiting_(storm.hops.size()),
        stage_(storm.flows.size(), 0),
        next_(storm.flows.size(), 0),
        to_(storm.hops.size()),
        through_(storm.hops.size()) {
    for (std::size_t flow = 0; flow < storm.flows.size(); ++flow)
      for (const std::size_t hop : storm.flows[flow].path) through_[hop].push_back(flow);
    outcome_.flows.resize(storm.flows.size());
    outcome_.hops.resize(storm.hops.size());
  }

  Outcome whole(const std::vector<std::size_t>& order) {
    const std::size_t logged = log_ ? log_->size() : 0;
    for (std::size_t flow = 0; flow < storm_.flows.size(); ++flow) release(flow);
    for (const std::size_t hop : order) work(hop);
    if (log_) tell_arrivals();
    if (log_)
      std::stable_sort(log_->begin() + static_cast<std::ptrdiff_t>(logged), log_->end(),
                       [](const LogLine& a, const LogLine& b) { return a.time < b.time; });
    return std::move(outcome_);
  }

 private:
  void release(std::size_t number) {
    const Flow& flow = storm_.flows[number];
    Items items;
    items.reserve(flow.frames.size());
    for (std::size_t i = 0; i < flow.frames.size(); ++i)
      items.push_back({flow.release + flow.frames[i].at, static_cast<std::int32_t>(flow.frames[i].bits),
                       static_cast<std::uint32_t>(number), static_cast<std::uint32_t>(i), i == flow.first_picture,
                       true});
    waiting_[flow.path.front()].fresh.push_back(std::move(items));
    if (log_) log_->push_back({flow.release, Happening::released, number});
  }

  void work(std::size_t number) {
    const Hop& hop = storm_.hops[number];
    std::vector<Items> runs = std::move(waiting_[number].passing);
    Items fresh = merged(std::move(waiting_[number].fresh));
    runs.insert(runs.begin(), storm_.piece_bits ? in_pieces(fresh, *storm_.piece_bits) : std::move(fresh));
    const Items come = merged(std::move(runs));
    const Sender sender(hop.rate_bps);
    if (hop.order == Order::of_arrival) {
      leave(number, come, come, done_in_order(come, sender));
    } else {
      const Sent sent = sent_pictures_first(come, sender);
      leave(number, come, sent.items, sent.done);
    }
    for (const std::size_t flow : through_[number]) ++stage_[flow];
  }

  void leave(std::size_t number, const Items& come, const Items& sent, const std::vector<Nanoseconds>& done) {
    outcome_.hops[number] = largest_backlog(come, sent, done);
    if (log_) tell(number, come, sent, done);
    for (const std::size_t flow : through_[number]) {
      const std::vector<std::size_t>& path = storm_.flows[flow].path;
      next_[flow] = stage_[flow] + 1 < path.size() ? path[stage_[flow] + 1] : arrived;
    }
    pass_on(storm_.hops[number].latency, sent, done);
  }

  void pass_on(Nanoseconds latency, const Items& sent, const std::vector<Nanoseconds>& done) {
    std::vector<std::size_t> followed;
    for (std::size_t i = 0; i < sent.size(); ++i) {
      Item item = sent[i];
      item.at = done[i] + latency;
      const std::size_t next = next_[item.flow];
      if (next != arrived) {
        if (to_[next].empty()) {
          followed.push_back(next);
          to_[next].reserve(sent.size() - i);  // as a rule all that is left
        }
        to_[next].push_back(item);
      } else {
        Delivery& delivery = outcome_.flows[item.flow];
        delivery.complete = std::max(delivery.complete, item.at);
        if (item.picture) delivery.first_picture = std::max(delivery.first_picture, item.at);
      }
    }
    for (const std::size_t next : followed) waiting_[next].passing.push_back(std::exchange(to_[next], {}));
  }

  void tell(std::size_t hop, const Items& come, const Items& sent, const std::vector<Nanoseconds>& done) {
    for (const Item& item : come)
      if (item.last) log_->push_back({item.at, Happening::queued, item.flow, item.frame, hop});
    for (std::size_t i = 0; i < sent.size(); ++i)
      if (sent[i].last) log_->push_back({done[i], Happening::sent, sent[i].flow, sent[i].frame, hop});
  }

  void tell_arrivals() {
    for (std::size_t flow = 0; flow < storm_.flows.size(); ++flow) {
      log_->push_back({outcome_.flows[flow].first_picture, Happening::first_picture, flow});
      log_->push_back({outcome_.flows[flow].complete, Happening::complete, flow});
    }
  }

  struct Waiting {
    std::vector<Items> fresh, passing;
  };
  const Storm& storm_;
  std::vector<LogLine>* log_;
  std::vector<Waiting> waiting_;
  std::vector<std::size_t> stage_;                 ///< hops behind each flow
  std::vector<std::size_t> next_;                  ///< behind the hop at work, of the flows through it
  std::vector<Items> to_;                          ///< for each hop, from the one at work; else empty
  std::vector<std::vector<std::size_t>> through_;  ///< flows through each hop
  Outcome outcome_;
};

void require(bool holds, const char* what) {
  if (!holds) throw std::invalid_argument(what);
}

void require_sound(const Flow& flow, std::size_t hops) {
  require(!flow.path.empty(), "a flow has no path");
  std::vector<std::size_t> path = flow.path;
  std::sort(path.begin(), path.end());
  require(path.back() < hops, "a path names no hop");
  require(std::adjacent_find(path.begin(), path.end()) == path.end(), "a path goes through a hop twice");
  require(flow.release >= 0 && flow.release <= kMostTime, "a release is out of range");
  require(flow.first_picture < flow.frames.size(), "the first picture is no frame of the flow");
  Nanoseconds before = 0;
  for (const Frame& frame : flow.frames) {
    require(frame.at >= before && frame.at <= kMostTime, "frames are not in the order of time");
    require(frame.bits >= 1 && frame.bits <= kMostBitsOfFrame, "the size of a frame is out of range");
    before = frame.at;
  }
}

}  // namespace

std::string_view word_of(Happening what) {
  switch (what) {
    case Happening::released: return "released";
    case Happening::queued: return "queued";
    case Happening::sent: return "sent";
    case Happening::first_picture: return "first_picture";
    case Happening::complete: return "complete";
  }
  throw std::invalid_argument("no happening");
}

std::optional<std::vector<std::size_t>> order_of_hops(const Storm& storm) {
  std::vector<std::vector<std::size_t>> after(storm.hops.size());
  std::vector<std::size_t> before(storm.hops.size(), 0);
  for (const Flow& flow : storm.flows)
    for (std::size_t i = 0; i + 1 < flow.path.size(); ++i) after[flow.path[i]].push_back(flow.path[i + 1]);
  for (std::vector<std::size_t>& next : after) {
    std::sort(next.begin(), next.end());
    next.erase(std::unique(next.begin(), next.end()), next.end());
    for (const std::size_t hop : next) ++before[hop];
  }
  std::priority_queue<std::size_t, std::vector<std::size_t>, std::greater<>> free;
  for (std::size_t hop = 0; hop < before.size(); ++hop)
    if (before[hop] == 0) free.push(hop);
  std::vector<std::size_t> order;
  while (!free.empty()) {
    order.push_back(free.top());
    free.pop();
    for (const std::size_t next : after[order.back()])
      if (--before[next] == 0) free.push(next);
  }
  return order.size() == storm.hops.size() ? std::optional(order) : std::nullopt;
}

void require_sound(const Storm& storm) {
  for (const Hop& hop : storm.hops) {
    require(hop.rate_bps >= 1 && hop.rate_bps <= kMostRate_bps, "the rate of a hop is out of range");
    require(hop.latency >= 0 && hop.latency <= kMostTime, "the latency of a hop is out of range");
  }
  for (const Flow& flow : storm.flows) require_sound(flow, storm.hops.size());
  std::vector<double> bits(storm.hops.size(), 0.0);  // that pass each hop
  for (const Flow& flow : storm.flows) {
    double all = 0.0;
    for (const Frame& frame : flow.frames) all += static_cast<double>(frame.bits);
    for (const std::size_t hop : flow.path) bits[hop] += all;
  }
  double seconds = 0.0;
  for (std::size_t i = 0; i < storm.hops.size(); ++i)
    seconds += bits[i] / static_cast<double>(storm.hops[i].rate_bps) +
               static_cast<double>(storm.hops[i].latency) / kNanosecondsPerSecond;
  require(seconds <= kMostSeconds, "the storm takes more than a hundred years");
  require(!storm.piece_bits || *storm.piece_bits >= 1, "pieces have no size");
  require(order_of_hops(storm).has_value(), "hops wait for each other in a ring");
}

Outcome simulate(const Storm& storm, std::vector<LogLine>* log) {
  require_sound(storm);
  return Run(storm, log).whole(*order_of_hops(storm));
}

}  // namespace zoneproof::carriage
