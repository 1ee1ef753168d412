#include "carriage/curve.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "carriage/rounding.hpp"

namespace zoneproof::carriage {
namespace {

double value_up(const Piece& piece, double t_s) {
  return sum_up(piece.bits, product_up(piece.slope_bps, sum_up(t_s, -piece.from_s)));
}

double value_down(const Piece& piece, double t_s) {
  return sum_down(piece.bits, product_down(piece.slope_bps, sum_down(t_s, -piece.from_s)));
}

bool is_amount(double x) { return std::isfinite(x) && x >= 0.0; }

/// Takes the place of a piece that begins at the same time: what comes later is not lower.
void append(std::vector<Piece>& pieces, const Piece& piece) {
  if (!pieces.empty() && pieces.back().from_s >= piece.from_s) {
    const double from = pieces.back().from_s, bits = std::max(pieces.back().bits, piece.bits);
    pieces.back() = {from, bits, piece.slope_bps};
  } else {
    pieces.push_back(piece);
  }
}

}  // namespace

Curve::Curve(std::vector<Piece> pieces) : pieces_(std::move(pieces)) {
  if (pieces_.empty() || pieces_.front().from_s != 0.0) throw std::invalid_argument("a curve begins at 0");
  for (std::size_t i = 0; i < pieces_.size(); ++i) {
    const Piece& piece = pieces_[i];
    if (!is_amount(piece.from_s) || !is_amount(piece.bits) || !is_amount(piece.slope_bps))
      throw std::invalid_argument("a piece of a curve is no number or below 0");
    if (i == 0) continue;
    if (!(piece.from_s > pieces_[i - 1].from_s)) throw std::invalid_argument("pieces of a curve are not in order");
    if (piece.bits < value_down(pieces_[i - 1], piece.from_s)) throw std::invalid_argument("a curve falls");
  }
}

Curve Curve::leaky_bucket(double burst_bits, double rate_bps) { return Curve({{0.0, burst_bits, rate_bps}}); }

Curve Curve::rate_latency(double rate_bps, double latency_s) {
  if (latency_s == 0.0) return Curve({{0.0, 0.0, rate_bps}});
  return Curve({{0.0, 0.0, 0.0}, {latency_s, 0.0, rate_bps}});
}

const Piece& Curve::piece_at(double t_s) const {
  const auto later = std::upper_bound(pieces_.begin(), pieces_.end(), t_s,
                                      [](double t, const Piece& piece) { return t < piece.from_s; });
  return later == pieces_.begin() ? pieces_.front() : *std::prev(later);
}

double Curve::at(double t_s) const {
  const Piece& piece = piece_at(t_s);
  return piece.bits + piece.slope_bps * (t_s - piece.from_s);
}

double Curve::at_most(double t_s) const { return value_up(piece_at(t_s), t_s); }
double Curve::at_least(double t_s) const { return value_down(piece_at(t_s), t_s); }

double Curve::before(double t_s) const {
  if (t_s <= 0.0) return 0.0;
  const auto at = std::lower_bound(pieces_.begin(), pieces_.end(), t_s,
                                   [](const Piece& piece, double t) { return piece.from_s < t; });
  const Piece& piece = *std::prev(at);
  return piece.bits + piece.slope_bps * (t_s - piece.from_s);
}

Curve raised(std::vector<Piece> pieces) {
  std::vector<Piece> kept;
  for (Piece& piece : pieces) {
    if (!kept.empty()) {
      const bool straight = piece.slope_bps == kept.back().slope_bps;
      if (straight && piece.bits <= value_down(kept.back(), piece.from_s)) continue;  // the line before goes on
      piece.bits = std::max(piece.bits, value_up(kept.back(), piece.from_s));
    }
    kept.push_back(piece);
  }
  return Curve(std::move(kept));
}

std::vector<double> breakpoints(const Curve& a, const Curve& b) {
  std::vector<double> places;
  places.reserve(a.pieces().size() + b.pieces().size());
  auto in_a = a.pieces().begin(), in_b = b.pieces().begin();
  while (in_a != a.pieces().end() || in_b != b.pieces().end()) {
    const bool from_a = in_b == b.pieces().end() || (in_a != a.pieces().end() && in_a->from_s <= in_b->from_s);
    const double place = from_a ? (in_a++)->from_s : (in_b++)->from_s;
    if (places.empty() || place > places.back()) places.push_back(place);
  }
  return places;
}

Curve sum(const Curve& a, const Curve& b) {
  std::vector<Piece> pieces;
  for (const double t : breakpoints(a, b)) {
    const Piece &of_a = a.piece_at(t), &of_b = b.piece_at(t);
    pieces.push_back({t, sum_up(value_up(of_a, t), value_up(of_b, t)), sum_up(of_a.slope_bps, of_b.slope_bps)});
  }
  return raised(std::move(pieces));
}

Curve sum(std::vector<Curve> curves) {
  if (curves.empty()) return {};
  for (std::size_t step = 1; step < curves.size(); step *= 2)
    for (std::size_t i = 0; i + step < curves.size(); i += 2 * step) curves[i] = sum(curves[i], curves[i + step]);
  return std::move(curves.front());
}

Curve minimum(const Curve& a, const Curve& b) {
  const std::vector<double> places = breakpoints(a, b);
  std::vector<Piece> pieces;
  for (std::size_t i = 0; i < places.size(); ++i) {
    const double t = places[i];
    Piece low = {t, a.at_most(t), a.piece_at(t).slope_bps}, high = {t, b.at_most(t), b.piece_at(t).slope_bps};
    if (std::pair(high.bits, high.slope_bps) < std::pair(low.bits, low.slope_bps)) std::swap(low, high);
    append(pieces, low);
    if (!(low.slope_bps > high.slope_bps)) continue;
    // Where the two cross: either is above the minimum, so any place near it is safe.
    const double crossing = t + (high.bits - low.bits) / (low.slope_bps - high.slope_bps);
    if (crossing > t && (i + 1 == places.size() || crossing < places[i + 1]))
      append(pieces, {crossing, value_up(high, crossing), high.slope_bps});
  }
  return raised(std::move(pieces));
}

Curve concave_hull(const Curve& curve) {
  // Of each piece only its beginning can be a corner: its end lies below the next beginning.
  const auto slope = [](const Piece& from, const Piece& to) {
    return ratio_up(sum_up(to.bits, -from.bits), sum_down(to.from_s, -from.from_s));
  };
  std::vector<Piece> corners;
  for (const Piece& piece : curve.pieces()) {
    while (corners.size() > 1 && slope(corners[corners.size() - 2], corners.back()) <= slope(corners.back(), piece))
      corners.pop_back();
    corners.push_back(piece);
  }
  const double last = curve.last_slope_bps();
  while (corners.size() > 1 && slope(corners[corners.size() - 2], corners.back()) <= last) corners.pop_back();
  // Rounding may have dropped a corner a hair above the line: each line is as steep as all it has to pass.
  std::size_t next = 0;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const Piece corner = corners[i];
    const bool ends = i + 1 == corners.size();
    const double end = ends ? 0.0 : corners[i + 1].from_s;
    corners[i].slope_bps = ends ? last : 0.0;
    for (; next < curve.pieces().size() && (ends || curve.pieces()[next].from_s <= end); ++next)
      if (curve.pieces()[next].from_s > corner.from_s)
        corners[i].slope_bps = std::max(corners[i].slope_bps, slope(corner, curve.pieces()[next]));
  }
  return raised(std::move(corners));
}

Curve without(const Curve& total, const Curve& part) {
  std::vector<Piece> pieces;
  for (const double t : breakpoints(total, part)) {
    const Piece &whole = total.piece_at(t), &taken = part.piece_at(t);
    pieces.push_back({t, std::max(0.0, sum_up(value_up(whole, t), -value_down(taken, t))),
                      std::max(0.0, sum_up(whole.slope_bps, -taken.slope_bps))});
  }
  return raised(std::move(pieces));
}

Curve advanced(const Curve& curve, double jitter_s) {
  std::vector<Piece> pieces = {{0.0, curve.at_most(jitter_s), curve.piece_at(jitter_s).slope_bps}};
  for (const Piece& piece : curve.pieces())
    if (piece.from_s > jitter_s) append(pieces, {sum_down(piece.from_s, -jitter_s), piece.bits, piece.slope_bps});
  return raised(std::move(pieces));
}

Curve delayed(const Curve& curve, double delay_s) {
  std::vector<Piece> pieces = {Piece{}};
  for (const Piece& piece : curve.pieces())
    append(pieces, {sum_down(piece.from_s, delay_s), piece.bits, piece.slope_bps});
  return raised(std::move(pieces));
}

Curve arrival_of(const std::vector<Frame>& frames) {
  struct Moment {
    Nanoseconds at;
    Bits before, until;  ///< how much has come before it, and with it
  };
  std::vector<Moment> moments;
  Bits come = 0;
  for (const Frame& frame : frames) {
    if (moments.empty() || frame.at != moments.back().at) moments.push_back({frame.at, come, come});
    moments.back().until = come += frame.bits;
  }
  std::vector<std::pair<Nanoseconds, Bits>> stretches;  // of every pair of moments
  stretches.reserve(moments.size() * (moments.size() + 1) / 2);
  for (std::size_t i = 0; i < moments.size(); ++i)
    for (std::size_t k = i; k < moments.size(); ++k)
      stretches.emplace_back(moments[k].at - moments[i].at, moments[k].until - moments[i].before);
  std::sort(stretches.begin(), stretches.end());
  std::vector<Piece> pieces = {Piece{}};
  for (const auto& [length, bits] : stretches) {
    if (static_cast<double>(bits) <= pieces.back().bits) continue;
    const double from = ratio_down(static_cast<double>(length), static_cast<double>(kNanosecondsPerSecond));
    append(pieces, {from, static_cast<double>(bits), 0.0});
  }
  return raised(std::move(pieces));
}

}  // namespace zoneproof::carriage
