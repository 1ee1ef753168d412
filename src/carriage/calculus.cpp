#include "carriage/calculus.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "carriage/rounding.hpp"

namespace zoneproof::carriage {
namespace {

constexpr double never = std::numeric_limits<double>::infinity();

/// When the curve is at `bits` or above for the first time, rounded up.
double reached_at(const Curve& curve, double bits) {
  const std::vector<Piece>& pieces = curve.pieces();
  // The last piece that begins below.
  const auto later =
      std::partition_point(pieces.begin(), pieces.end(), [&](const Piece& piece) { return piece.bits < bits; });
  if (later == pieces.begin()) return 0.0;
  const Piece& piece = *std::prev(later);
  const double end = later == pieces.end() ? never : later->from_s;
  if (piece.slope_bps == 0.0) return end;
  return std::min(end, sum_up(piece.from_s, ratio_up(sum_up(bits, -piece.bits), piece.slope_bps)));
}

/// When the curve leaves `bits` and what is below for good, rounded down or up.
double above_from(const Curve& curve, double bits, bool rounded_up) {
  const std::vector<Piece>& pieces = curve.pieces();
  const auto later =
      std::partition_point(pieces.begin(), pieces.end(), [&](const Piece& piece) { return piece.bits <= bits; });
  if (later == pieces.begin()) return 0.0;
  const Piece& piece = *std::prev(later);
  const double end = later == pieces.end() ? never : later->from_s;
  if (piece.slope_bps == 0.0) return end;
  const double at = rounded_up ? sum_up(piece.from_s, ratio_up(sum_up(bits, -piece.bits), piece.slope_bps))
                               : sum_down(piece.from_s, ratio_down(sum_down(bits, -piece.bits), piece.slope_bps));
  return std::min(end, at);
}

/// What a convex service is above a concave cross from `from_s` on, where it is 0 or below; 0 before.
Curve excess(const Curve& service, const Curve& cross, double from_s) {
  std::vector<Piece> corners = {{from_s, 0.0, 0.0}};
  std::size_t last_taken = 0;  // the last corner at which the others still take all
  for (const double t : breakpoints(service, cross)) {
    const double left = sum_down(service.at_least(t), -cross.at_most(t));
    if (t <= from_s) {
      corners.front().bits = std::min(0.0, t == from_s ? left : corners.front().bits);
      continue;
    }
    corners.push_back({t, left, 0.0});
    if (left <= 0.0) last_taken = corners.size() - 1;
  }
  const double last_slope = sum_down(service.last_slope_bps(), -cross.last_slope_bps());
  const Piece taken = corners[last_taken];
  const bool ends = last_taken + 1 == corners.size();
  const double slope = ends ? last_slope
                            : ratio_down(sum_down(corners[last_taken + 1].bits, -taken.bits),
                                         sum_up(corners[last_taken + 1].from_s, -taken.from_s));
  if (slope <= 0.0) return {};
  std::vector<Piece> left = {{sum_up(taken.from_s, ratio_up(-taken.bits, slope)), 0.0, slope}};
  for (std::size_t i = last_taken + 1; i < corners.size(); ++i)
    if (corners[i].from_s > left.back().from_s) left.push_back(corners[i]);
  // Lines between corners of a convex curve that were moved down and to the later stay below it.
  for (std::size_t i = left.size() - 1; i > 0; --i) left[i - 1].bits = std::min(left[i - 1].bits, left[i].bits);
  for (std::size_t i = 0; i + 1 < left.size(); ++i)
    left[i].slope_bps = std::max(
        0.0, ratio_down(sum_down(left[i + 1].bits, -left[i].bits), sum_up(left[i + 1].from_s, -left[i].from_s)));
  left.back().slope_bps = std::max(0.0, last_slope);
  if (left.front().from_s > 0.0) left.insert(left.begin(), Piece{});
  return Curve(std::move(left));
}

}  // namespace

std::optional<double> delay_bound(const Curve& arrival, const Curve& service) {
  if (arrival.last_slope_bps() > service.last_slope_bps()) return std::nullopt;
  double longest = 0.0;
  const auto hold = [&](double sent, double come) { longest = std::max(longest, sum_up(sent, -come)); };
  // The distance at a level is straight between the levels at which either curve bends: just at them ...
  for (const Piece& piece : arrival.pieces()) hold(reached_at(service, piece.bits), piece.from_s);
  // ... and just above them, where the service may rest at a level.
  const auto just_above = [&](double bits) {
    const double come = above_from(arrival, bits, false);
    if (come < never) hold(above_from(service, bits, true), come);
  };
  for (const Piece& piece : service.pieces()) {
    just_above(piece.bits);
    just_above(service.before(piece.from_s));
  }
  return longest < never ? std::optional(longest) : std::nullopt;
}

std::optional<double> backlog_bound(const Curve& arrival, const Curve& service) {
  if (arrival.last_slope_bps() > service.last_slope_bps()) return std::nullopt;
  double most = 0.0;
  for (const double t : breakpoints(arrival, service)) {
    most = std::max(most, sum_up(arrival.at_most(t), -service.at_least(t)));
    if (service.at_least(t) > service.before(t))  // just before the service jumps
      most = std::max(most, sum_up(next_above(arrival.before(t)), -next_below(service.before(t))));
  }
  return most;
}

std::optional<Curve> output_bound(const Curve& arrival, const Curve& service) {
  if (arrival.last_slope_bps() > service.last_slope_bps()) return std::nullopt;
  const Curve come = concave_hull(arrival);
  const auto most = [&](double t) {
    double bits = 0.0;
    for (const Piece& bend : service.pieces())
      bits = std::max(bits, sum_up(come.at_most(sum_up(t, bend.from_s)), -bend.bits));
    for (const Piece& bend : come.pieces()) {
      const double since = sum_down(bend.from_s, -t);
      if (since >= 0.0) bits = std::max(bits, sum_up(bend.bits, -service.at_least(since)));
    }
    return bits;
  };
  std::vector<double> bends = {0.0};
  for (const Piece& late : come.pieces())
    for (const Piece& early : service.pieces())
      if (late.from_s > early.from_s) bends.push_back(sum_down(late.from_s, -early.from_s));
  std::sort(bends.begin(), bends.end());
  bends.erase(std::unique(bends.begin(), bends.end()), bends.end());
  std::vector<Piece> pieces;
  for (const double t : bends) pieces.push_back({t, most(t == 0.0 ? t : next_above(t)), 0.0});  // to the safe side
  pieces.back().slope_bps = come.last_slope_bps();
  return concave_hull(raised(std::move(pieces)));
}

Curve in_a_row(const Curve& first, const Curve& second) {
  struct Stretch {
    double seconds, slope_bps;
  };
  std::vector<Stretch> stretches;
  for (const Curve* curve : {&first, &second})
    for (std::size_t i = 0; i + 1 < curve->pieces().size(); ++i)
      stretches.push_back(
          {sum_up(curve->pieces()[i + 1].from_s, -curve->pieces()[i].from_s), curve->pieces()[i].slope_bps});
  const double last = std::min(first.last_slope_bps(), second.last_slope_bps());
  std::stable_sort(stretches.begin(), stretches.end(),
                   [](const Stretch& a, const Stretch& b) { return a.slope_bps < b.slope_bps; });
  std::vector<Piece> pieces = {Piece{}};
  for (std::size_t i = 0; i < stretches.size(); ++i) {
    Stretch stretch = stretches[i];
    if (stretch.slope_bps >= last) break;  // from here on the slower link's last piece, which has no end
    for (; i + 1 < stretches.size() && stretches[i + 1].slope_bps == stretch.slope_bps; ++i)
      stretch.seconds = sum_up(stretch.seconds, stretches[i + 1].seconds);
    Piece& now = pieces.back();
    now.slope_bps = stretch.slope_bps;
    const double bits = sum_down(now.bits, product_down(now.slope_bps, stretch.seconds));
    const double until = sum_up(now.from_s, stretch.seconds);
    if (now.slope_bps > 0.0)  // the line to the moved corner
      now.slope_bps = std::max(0.0, ratio_down(sum_down(bits, -now.bits), sum_up(until, -now.from_s)));
    pieces.push_back({until, bits, 0.0});
  }
  pieces.back().slope_bps = last;
  return Curve(std::move(pieces));
}

Curve left_in_any_order(const Curve& service, const Curve& cross) { return excess(service, concave_hull(cross), 0.0); }

Curve left_in_order(const Curve& service, const Curve& cross) {
  const Curve others = concave_hull(cross);
  const double gone = reached_at(service, others.pieces().front().bits);
  return gone < never ? excess(service, delayed(others, gone), gone) : Curve();
}

}  // namespace zoneproof::carriage
