#pragma once
#include <vector>

#include "carriage/frame.hpp"

/// Curves of bits over time: how much may come within any stretch of time, how much is sent at least.
///
/// Network calculus (Cruz, A calculus for network delay, IEEE Transactions on Information Theory 37, 1991; Le Boudec
/// and Thiran, Network Calculus, Springer LNCS 2050, 2001, chapter 1; both from memory). A flow has the *arrival curve*
/// a if in no stretch of t seconds, both ends included, more than a(t) bits arrive. A link has the *service curve* b if
/// from any moment at which nothing waits it has sent, t seconds later, at least b(t) of what came since. From the two
/// alone follow the longest delay, the largest queue and an arrival curve of what leaves (calculus.hpp).
///
/// A curve here is made of straight pieces over t >= 0, never falls, may jump, and ends in a piece without end. At a
/// jump it has the upper value, as a stretch of time with both its ends asks for: a burst of 100 bits is the curve that
/// is 100 at 0 already. Le Boudec and Thiran take the lower value; no bound depends on it. Before 0 every curve is 0.
///
/// Rounding: arrival curves are rounded up (sum, minimum, concave_hull, without, advanced, arrival_of), so what they
/// promise holds for the true numbers; nothing is rounded that a double holds exactly. Cost: linear in the pieces,
/// where nothing else is said. Range: seconds, bits and bit/s from 1e-12 to 1e18, or 0.
namespace zoneproof::carriage {

struct Piece {
  double from_s = 0.0;     ///< up to where the next one begins
  double bits = 0.0;       ///< at from_s
  double slope_bps = 0.0;  ///< from there on

  bool operator==(const Piece&) const = default;
};

class Curve {
 public:
  Curve() : pieces_{Piece{}} {}  ///< 0 everywhere

  /// Throws std::invalid_argument where there is no piece, the first does not begin at 0, they are not in order, one is
  /// no number or below 0, or the curve would fall.
  explicit Curve(std::vector<Piece> pieces);

  /// burst + rate t: what a token bucket lets through. Le Boudec and Thiran, section 1.2.1.
  static Curve leaky_bucket(double burst_bits, double rate_bps);
  /// rate (t - latency), 0 before: a link. Le Boudec and Thiran, section 1.3.2.
  static Curve rate_latency(double rate_bps, double latency_s);

  const std::vector<Piece>& pieces() const { return pieces_; }
  double last_slope_bps() const { return pieces_.back().slope_bps; }

  /// The value at t >= 0, at a jump the upper one; rounded to the nearest, up, down. Cost: logarithmic.
  double at(double t_s) const;
  double at_most(double t_s) const;
  double at_least(double t_s) const;
  /// The value just before t >= 0: 0 at 0.
  double before(double t_s) const;

  /// The piece that holds at t >= 0.
  const Piece& piece_at(double t_s) const;

 private:
  std::vector<Piece> pieces_;
};

/// An arrival curve from pieces in order whose rounding may let it fall by a hair: it is raised there.
Curve raised(std::vector<Piece> pieces);

/// Of two flows together.
Curve sum(const Curve& a, const Curve& b);
/// Of many; pair by pair, so that many curves of few pieces cost n log n. None: 0 everywhere.
Curve sum(std::vector<Curve> curves);

/// What both allow: two token buckets in a row, a stream behind a cap.
Curve minimum(const Curve& a, const Curve& b);

/// The smallest concave curve above: what bounds across several links are made with, for it has few pieces.
Curve concave_hull(const Curve& curve);

/// What is left of a sum without one of its parts.
Curve without(const Curve& total, const Curve& part);

/// curve(t + jitter): the arrival curve of a flow whose bits were held up for different times, at most jitter >= 0 s
/// apart. A stretch of t seconds behind holds what arrived within t + jitter before.
Curve advanced(const Curve& curve, double jitter_s);

/// curve(t - delay) from delay >= 0 s on, 0 before.
Curve delayed(const Curve& curve, double delay_s);

/// The arrival curve of exactly these frames, in order of time: for each stretch of time the most that arrives in one
/// of that length. A staircase. Cost: the square of the number of moments at which frames come.
Curve arrival_of(const std::vector<Frame>& frames);

/// Where two curves have pieces: all places from which on both are straight.
std::vector<double> breakpoints(const Curve& a, const Curve& b);

}  // namespace zoneproof::carriage
