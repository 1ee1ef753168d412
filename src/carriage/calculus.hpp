#pragma once
#include <optional>

#include "carriage/curve.hpp"

/// What follows from an arrival curve and a service curve (curve.hpp): delay, queue, output, what is left for others.
///
/// Sources: Cruz 1991; Le Boudec and Thiran 2001, whose numbers stand below (from memory). What has no bound has none:
/// `std::nullopt`, never a large number. Rounding: delays, queues and output up, service down.
///
/// | asked | answer | Le Boudec and Thiran |
/// | --- | --- | --- |
/// | delay of bits served in their order | largest horizontal distance | theorem 1.4.2 |
/// | bits waiting | largest vertical distance | theorem 1.4.1 |
/// | arrival curve of what leaves | a(t + u) - b(u), largest over u >= 0 | theorem 1.4.3 |
/// | two links in a row | smallest b1(s) + b2(t - s) over s | theorem 1.4.6 |
/// | left beside other traffic | see the functions | theorem 6.2.1, proposition 6.2.1 |
///
/// Example: a token bucket of s bits and r bit/s through a link of R >= r bit/s and T s: delay T + s/R, queue s + r T,
/// output a token bucket of s + r T and r; through two such links one after the other 2 T + s/R, not 2 (T + s/R), for a
/// burst has to be waited for only once.
namespace zoneproof::carriage {

/// Seconds that a bit waits at most, until it has left, where bits leave in the order of arrival. None where more comes
/// than is sent for ever, or where sending ends too early. Any curves. Cost: n log n.
std::optional<double> delay_bound(const Curve& arrival, const Curve& service);

/// Bits that have come and not left, at most. Any curves, in any order of service.
std::optional<double> backlog_bound(const Curve& arrival, const Curve& service);

/// An arrival curve of what leaves, with any order of service. `service` convex; of `arrival` the concave hull is
/// taken, so the answer is the least only where it was concave. Cost: the third power of the pieces, which are few.
std::optional<Curve> output_bound(const Curve& arrival, const Curve& service);

/// The service curve of two links in a row, both convex: their pieces in the order of their slopes. Of curves that are
/// not convex, a service curve all the same, not the best.
Curve in_a_row(const Curve& first, const Curve& second);

/// What a link leaves to one flow beside others with the arrival curve `cross`, in whatever order it serves: what
/// service - cross is above 0. `service` convex and what the link *guarantees while anything waits* (strict), as a link
/// of constant rate does; of `cross` the hull is taken. 0 everywhere where the others take all.
Curve left_in_any_order(const Curve& service, const Curve& cross);

/// The same where the link serves in the order of arrival, which bounds how much can get in front: service(t) - cross(t
/// - h) after h, where h is when the burst of the others has gone. One of a family (any h >= 0 gives a service curve);
/// with a token bucket and a link it is rate R - r from T + burst/R on (Le Boudec and Thiran, corollary 6.2.3).
Curve left_in_order(const Curve& service, const Curve& cross);

}  // namespace zoneproof::carriage
