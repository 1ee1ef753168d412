#pragma once
#include <cstddef>
#include <optional>
#include <string_view>
#include <vector>

#include "carriage/curve.hpp"
#include "carriage/frame.hpp"

/// Many clips, and whatever else is on the way, through links and queues: when each arrives.
///
/// Model. A *hop* is a link in one direction with the queue before it: it takes one *piece* (a frame, or what it is cut
/// into) when that has come whole, sends it at a constant rate, one at a time, never idle while something waits, and
/// the piece is at the next hop a fixed latency after its last bit was sent. Queues hold everything: what would be lost
/// in a smaller one is told by the largest backlog. Nobody slows down or sends again.
///
/// Order in a queue is that of arrival; of pieces that come in the same nanosecond: first what enters the network here,
/// by number of flow, then by hop it comes from, in the order of `order_of_hops`. A hop with `first_pictures_first`
/// takes the pieces of first pictures before all others, and lets the piece that is being sent go on.
///
/// Exact times. A queue of constant rate obeys Lindley's recursion (Lindley, The theory of queues with a single server,
/// 1952): done(n) = max(come(n), done(n-1)) + bits(n)/rate. Within a hop this is computed in whole nanoseconds and a
/// remainder in units of 1/rate of one, without error; when a piece leaves it is rounded up to the next nanosecond. So
/// rounding never adds up along a queue, is later by less than 1 ns a hop, and the same everywhere. Rationals without
/// rounding would need the product of all rates as their denominator.
///
/// No two hops wait for each other: hops can be put in an order in which every path goes forward (as in a tree of
/// switches, with a hop for either direction). So they are worked one after the other, each with all that ever reaches
/// it, which gives the same as working through all events in order of time, in a fraction of the time. Cost: n log k
/// for n pieces from k flows, about 50 ns a piece and hop; memory 60 bytes a piece.
namespace zoneproof::carriage {

enum class Order { of_arrival, first_pictures_first };

struct Hop {
  std::int64_t rate_bps = 0;  ///< 1 ... 10^12
  Nanoseconds latency = 0;    ///< 0 ... 10^15
  Order order = Order::of_arrival;
};

/// A clip, or any other stream of frames: its path, its release, what it is made of.
struct Flow {
  std::vector<std::size_t> path;  ///< hops, from the sender on; none twice
  Nanoseconds release = 0;        ///< 0 ... 10^15
  std::vector<Frame> frames;      ///< in the order of time; at least one
  std::size_t first_picture = 0;  ///< the frame with which somebody sees something
  /// What delivery_bound holds against instead of exactly these frames, for streams that go on, or of which only bounds
  /// are known. Contains `frames`; those up to the first picture have to be as large as they can be.
  std::optional<Curve> arrival = std::nullopt;
};

struct Storm {
  std::vector<Hop> hops;
  std::vector<Flow> flows;
  std::optional<Bits> piece_bits = std::nullopt;  ///< frames are cut into pieces of that size and a rest; 1 or more
};

struct Delivery {
  Nanoseconds first_picture = 0, complete = 0;  ///< when they are whole at the end of the path; not since the release
};

struct Backlog {
  Bits most_bits = 0;  ///< waiting and being sent, at the worst moment
  Nanoseconds at = 0;  ///< the first such moment
};

struct Outcome {
  std::vector<Delivery> flows;
  std::vector<Backlog> hops;
};

enum class Happening { released, queued, sent, first_picture, complete };
std::string_view word_of(Happening what);

/// A line of the log. Frames are logged, not pieces: `queued` when all of a frame has come, `sent` when its last bit
/// was sent.
struct LogLine {
  Nanoseconds time = 0;
  Happening what = Happening::released;
  std::size_t flow = 0;
  std::size_t frame = 0;                          ///< of queued and sent
  std::optional<std::size_t> hop = std::nullopt;  ///< of queued and sent

  bool operator==(const LogLine&) const = default;
};

/// An order in which every path goes forward, the smaller number first where that is free; none where hops wait for
/// each other in a ring.
std::optional<std::vector<std::size_t>> order_of_hops(const Storm& storm);

/// Throws std::invalid_argument where a number is out of the ranges above, a path names no hop or one twice, or hops
/// form a ring. With `log`, lines are added in order of time; equal times in the order of what causes what.
Outcome simulate(const Storm& storm, std::vector<LogLine>* log = nullptr);

/// What simulate throws, for others that read a storm.
void require_sound(const Storm& storm);

}  // namespace zoneproof::carriage
