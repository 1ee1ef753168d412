#pragma once
#include <optional>
#include <vector>

#include "carriage/storm.hpp"

/// By when every clip has arrived, whenever the clips are released.
///
/// simulate() tells what happens with these frames and releases; alarms do not come at planned moments. Here the
/// releases do not count: every flow may begin at any time, so that the worst meeting of all others in each queue is
/// covered. Where `Flow::arrival` stands, its frames may be any that keep to that curve.
///
/// Method: total flow analysis, hop by hop from the senders on (Cruz, A calculus for network delay, part II, 1991; Le
/// Boudec and Thiran, sections 1.4 and 6.2; from memory), with three things of our own, all derived in
/// docs/methods/carriage-queues.md. At a hop all flows together have an arrival curve; from it and the rate follows the
/// longest delay of a piece. Then
/// - what leaves: a piece is held up for its own bits at least and for the longest delay at most; so within t seconds
///   leaves what came within t + the difference. No burst of a piece has to be added;
/// - flows that come over one link come no faster than it sends: their sum is cut at its rate and one piece;
/// - of the flow itself only what is in front of the picture (or the last frame) can hold it up, and that is known: the
///   frames before it, at their distances. A single clip is not held against its own end.
/// First pictures that go before all others wait for each other and for one piece being sent; all others get what the
/// pictures leave.
///
/// Not the least bound: delays of hops are added although not every hop can be at its worst for the same piece, and
/// curves are replaced by concave hulls. It is infinite (nothing) where more comes for ever than a hop sends, also for
/// flows that share a later hop with such a flow.
namespace zoneproof::carriage {

/// Since the flow's release; `any_frame`: of each frame, wherever in the flow, since it was handed to the first hop.
struct DeliveryBound {
  std::optional<Nanoseconds> first_picture, complete, any_frame;
};

struct Bounds {
  std::vector<DeliveryBound> flows;
  std::vector<std::optional<Bits>> hops;  ///< backlog of each
};

/// Throws what simulate throws. Cost: for flows of n kinds through a hop (curves and the hop before alike) n times the
/// pieces of their sum; frames of a flow that no other has too: their square.
Bounds delivery_bound(const Storm& storm);

}  // namespace zoneproof::carriage
