#pragma once
#include <gmpxx.h>

#include "carriage/curve.hpp"

namespace zoneproof::carriage {

/// The value of a curve in rational numbers, at t >= 0 and 0 before.
inline mpq_class exact(const Curve& curve, const mpq_class& t) {
  if (t < 0) return 0;
  const Piece* held = &curve.pieces().front();
  for (const Piece& piece : curve.pieces())
    if (mpq_class(piece.from_s) <= t) held = &piece;
  return mpq_class(held->bits) + mpq_class(held->slope_bps) * (t - mpq_class(held->from_s));
}

}  // namespace zoneproof::carriage
