#include "plane/visibility.hpp"

#include <cmath>
#include <stdexcept>

#include "plane/expander.hpp"
#include "plane/predicates.hpp"

namespace zoneproof::plane {
namespace {

Point in_range(Point p) {
  return {std::abs(p.x) < least_magnitude ? 0.0 : p.x, std::abs(p.y) < least_magnitude ? 0.0 : p.y};
}

}  // namespace

double View::area() const {
  double twice = 0.0;
  for (std::size_t i = 0; i < corners_.size(); ++i) {
    const Point a = corners_[i].at, b = corners_[i + 1 < corners_.size() ? i + 1 : 0].at;
    twice += (a.x - from_.x) * (b.y - from_.y) - (a.y - from_.y) * (b.x - from_.x);
  }
  return 0.5 * twice;
}

Visibility::Visibility(const Triangulation& triangulation) : triangulation_(triangulation), locator_(triangulation) {
  entries_.resize(static_cast<std::size_t>(triangulation.half_count()));
  for (Half h = 0; h < triangulation.half_count(); ++h) {
    const Vertex apex = triangulation.origin(previous(h));
    entries_[static_cast<std::size_t>(h)] = {triangulation.point(apex), apex, beyond(next(h)), beyond(previous(h))};
  }
  // Each product is at most width times height; the bound of predicates.cpp, 3 x 2^-53 and a little, holds for their
  // sum.
  const Box& bound = triangulation.arrangement().bound;
  doubt_ = 0x1p-50 * (bound.high.x - bound.low.x) * (bound.high.y - bound.low.y);
}

Half Visibility::beyond(Half h) const { return triangulation_.blocks(h) ? -1 - h : triangulation_.twin(h); }

bool Visibility::from(Point eye, View& view) const {
  Expander expander(*this, in_range(eye), view);
  if (!expander.stands()) return false;
  expander.see_all();
  return true;
}

bool Visibility::from(Point eye, Point towards, View& view) const {
  eye = in_range(eye);
  towards = in_range(towards);
  if (eye == towards) throw std::invalid_argument("plane::Visibility::from: no direction");
  Expander expander(*this, eye, view);
  if (!expander.stands()) return false;
  expander.see_towards(towards);
  return true;
}

}  // namespace zoneproof::plane
