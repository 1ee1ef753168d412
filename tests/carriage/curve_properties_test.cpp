// Random curves: what a bound promises holds in exact rational numbers, not only up to rounding.
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>

#include "carriage/calculus.hpp"
#include "carriage/exact_curve.hpp"
#include "carriage/random_storm.hpp"

namespace zoneproof::carriage {
namespace {

constexpr int kPlaces = 24;

/// Any arrival curve: jumps, steep and flat pieces.
Curve random_arrival(Chance& chance) {
  std::vector<Piece> pieces;
  double from = 0.0, bits = chance.once_in(4) ? 0.0 : chance.real(0.0, 1e6);
  for (std::int64_t count = chance.between(1, 6); count > 0; --count) {
    const double slope = chance.once_in(3) ? 0.0 : chance.real(0.0, 5e6);
    pieces.push_back({from, bits, slope});
    const double length = chance.real(1e-3, 2.0);
    bits += slope * length * (1.0 + 1e-12) + (chance.once_in(2) ? chance.real(0.0, 1e6) : 0.0);
    from += length;
  }
  return raised(std::move(pieces));
}

/// A convex service curve that ends with the slope given. Its corners are numbers that a double holds, or it would not
/// be convex to the last bit.
Curve random_service(Chance& chance, double last_slope) {
  const auto grid = [&](std::int64_t most) { return static_cast<double>(chance.between(1, most)) / 1024.0; };
  const double start = chance.once_in(3) ? 0.0 : grid(1024);
  if (chance.once_in(2)) return Curve::rate_latency(last_slope, start);
  // A slower start: straight from a corner on, then faster.
  const double length = grid(2048), slow = std::floor(last_slope * chance.real(0.1, 0.9) / 1024.0) * 1024.0;
  std::vector<Piece> pieces;
  if (start > 0.0) pieces.push_back(Piece{});
  pieces.push_back({start, 0.0, slow});
  pieces.push_back({start + length, slow * length, last_slope});
  return Curve(std::move(pieces));
}

std::vector<mpq_class> places(Chance& chance, const Curve& a, const Curve& b) {
  std::vector<mpq_class> found;
  for (const double t : breakpoints(a, b)) found.emplace_back(t);
  for (int i = 0; i < kPlaces; ++i) found.emplace_back(chance.real(0.0, 12.0));
  return found;
}

/// A bound is not only safe: it is no further off than rounding can be.
bool close(const mpq_class& bound, const mpq_class& truth) { return bound - truth <= mpq_class(1e-12) * (truth + 1); }

RC_GTEST_PROP(CurveProperty, SumsAndMinimaAreNeverTooLowAndHardlyTooHigh, ()) {
  Chance chance(*rc::gen::arbitrary<std::uint64_t>());
  const Curve a = random_arrival(chance), b = random_arrival(chance);
  const Curve added = sum(a, b), least = minimum(a, b), rest = without(added, b);
  for (const mpq_class& t : places(chance, a, b)) {
    const mpq_class of_a = exact(a, t), of_b = exact(b, t);
    RC_ASSERT(exact(added, t) >= of_a + of_b);
    RC_ASSERT(close(exact(added, t), of_a + of_b));
    RC_ASSERT(exact(least, t) >= std::min(of_a, of_b));
    RC_ASSERT(close(exact(least, t), std::min(of_a, of_b)));
    RC_ASSERT(exact(rest, t) >= exact(added, t) - of_b);
    RC_ASSERT(exact(rest, t) - of_a <= mpq_class(1e-12) * (of_a + of_b + 1));
  }
}

RC_GTEST_PROP(CurveProperty, TheHullIsConcaveAndTouches, ()) {
  Chance chance(*rc::gen::arbitrary<std::uint64_t>());
  const Curve curve = random_arrival(chance), hull = concave_hull(curve);
  for (const mpq_class& t : places(chance, curve, hull)) RC_ASSERT(exact(hull, t) >= exact(curve, t));
  for (std::size_t i = 0; i < hull.pieces().size(); ++i) {
    const Piece& corner = hull.pieces()[i];
    RC_ASSERT(close(corner.bits, exact(curve, corner.from_s)));
    if (i > 0) RC_ASSERT(corner.slope_bps <= hull.pieces()[i - 1].slope_bps * (1.0 + 1e-9));
  }
}

RC_GTEST_PROP(CurveProperty, MovedCurvesAreNeverTooLow, ()) {
  Chance chance(*rc::gen::arbitrary<std::uint64_t>());
  const Curve curve = random_arrival(chance);
  const double by = chance.real(0.0, 3.0);
  const Curve sooner = advanced(curve, by), later = delayed(curve, by);
  for (const mpq_class& t : places(chance, sooner, later)) {
    RC_ASSERT(exact(sooner, t) >= exact(curve, t + mpq_class(by)));
    RC_ASSERT(exact(later, t) >= exact(curve, t - mpq_class(by)));
  }
}

RC_GTEST_PROP(CurveProperty, DelayQueueAndOutputHoldForEveryMoment, ()) {
  Chance chance(*rc::gen::arbitrary<std::uint64_t>());
  const Curve come = random_arrival(chance);
  const Curve service =
      random_service(chance, come.last_slope_bps() + (chance.once_in(4) ? 0.0 : chance.real(0.0, 5e6)) + 1.0);
  const auto delay = delay_bound(come, service);
  const auto backlog = backlog_bound(come, service);
  const auto out = output_bound(come, service);
  RC_ASSERT(delay && backlog && out);
  const std::vector<mpq_class> moments = places(chance, come, service);
  for (const mpq_class& t : moments) {
    RC_ASSERT(exact(service, t + mpq_class(*delay)) >= exact(come, t));
    RC_ASSERT(exact(come, t) - exact(service, t) <= mpq_class(*backlog));
    for (const mpq_class& u : moments) RC_ASSERT(exact(*out, t) >= exact(come, t + u) - exact(service, u));
  }
}

RC_GTEST_PROP(CurveProperty, AShorterDelayOrASmallerQueueDoesNotHold, ()) {
  Chance chance(*rc::gen::arbitrary<std::uint64_t>());
  const Curve come = random_arrival(chance);
  const Curve service = random_service(chance, come.last_slope_bps() + chance.real(1e3, 5e6));
  const double delay = *delay_bound(come, service), backlog = *backlog_bound(come, service);
  // The delay is attained where the stream bends, or reaches a level at which the service bends.
  std::vector<double> moments = breakpoints(come, service);
  for (const Piece& bend : service.pieces()) {
    for (const Piece& piece : come.pieces()) {
      if (piece.slope_bps <= 0.0 || bend.bits < piece.bits) continue;
      moments.push_back(piece.from_s + (bend.bits - piece.bits) / piece.slope_bps);
    }
  }
  bool late = delay < 1e-9, waits = backlog < 1e-3;
  for (const double t : moments) {
    const double just_after = t + 1e-12;
    late = late || come.at(just_after) > service.at(just_after + delay * (1.0 - 1e-8) - 1e-8);
    waits = waits || come.at(t) - service.at(t) >= backlog * (1.0 - 1e-9) - 1e-3;
  }
  RC_ASSERT(late);
  RC_ASSERT(waits);
}

RC_GTEST_PROP(CurveProperty, LinksInARowPromiseNoMoreThanTheyCan, ()) {
  Chance chance(*rc::gen::arbitrary<std::uint64_t>());
  const Curve a = random_service(chance, chance.real(1e5, 1e7)), b = random_service(chance, chance.real(1e5, 1e7));
  const Curve both = in_a_row(a, b), turned = in_a_row(b, a);
  for (const mpq_class& t : places(chance, a, both)) {
    mpq_class least = exact(a, t);
    for (const mpq_class& s : places(chance, a, b))
      if (s <= t)
        least = std::min(least,
                         std::min(mpq_class(exact(a, s) + exact(b, t - s)), mpq_class(exact(b, s) + exact(a, t - s))));
    RC_ASSERT(exact(both, t) <= least);
    RC_ASSERT(abs(exact(both, t) - exact(turned, t)) <= mpq_class(1e-12) * (exact(both, t) + 1));
  }
}

RC_GTEST_PROP(CurveProperty, WhatIsLeftIsNeverTooMuch, ()) {
  Chance chance(*rc::gen::arbitrary<std::uint64_t>());
  const Curve others = random_arrival(chance), hull = concave_hull(others);
  const Curve service = random_service(chance, others.last_slope_bps() + chance.real(1e3, 5e6));
  const Curve any = left_in_any_order(service, others), in_order = left_in_order(service, others);
  // The moment at which the burst of the others has gone, as left_in_order takes it.
  const double gone = *delay_bound(Curve::leaky_bucket(hull.pieces().front().bits, 0.0), service);
  for (const mpq_class& t : places(chance, any, in_order)) {
    RC_ASSERT(exact(any, t) <= std::max(mpq_class(0), mpq_class(exact(service, t) - exact(hull, t))));
    const mpq_class left =
        t < mpq_class(gone) ? mpq_class(0) : mpq_class(exact(service, t) - exact(hull, t - mpq_class(gone)));
    RC_ASSERT(exact(in_order, t) <= std::max(mpq_class(0), left));
  }
}

RC_GTEST_PROP(CurveProperty, NoStretchOfFramesHoldsMoreThanTheirCurve, ()) {
  Chance chance(*rc::gen::arbitrary<std::uint64_t>());
  const std::vector<Frame> frames = random_storm(chance.between(0, 1'000'000'000)).flows.front().frames;
  const Curve curve = arrival_of(frames);
  for (std::size_t i = 0; i < frames.size(); ++i) {
    Bits bits = 0;
    for (std::size_t k = i; k < frames.size(); ++k) {
      bits += frames[k].bits;
      const mpq_class stretch(frames[k].at - frames[i].at, kNanosecondsPerSecond);
      RC_ASSERT(exact(curve, stretch) >= bits);
    }
  }
}

}  // namespace
}  // namespace zoneproof::carriage
