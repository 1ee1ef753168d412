#include "site/outline.hpp"

#include <algorithm>
#include <numeric>

#include "plane/predicates.hpp"

namespace zoneproof::site {

namespace {

using plane::orientation;
using plane::Point;

bool same_place(Point a, Point b) { return a.x == b.x && a.y == b.y; }

bool on_side(Point a, Point b, Point p) {
  return orientation(a, b, p) == 0 && (plane::between(a, b, p) || same_place(a, p) || same_place(b, p));
}

/// Whether two closed segments have any point in common.
bool meet(Point a, Point b, Point c, Point d) {
  const int abc = orientation(a, b, c), abd = orientation(a, b, d);
  const int cda = orientation(c, d, a), cdb = orientation(c, d, b);
  if (abc * abd < 0 && cda * cdb < 0) return true;
  return on_side(a, b, c) || on_side(a, b, d) || on_side(c, d, a) || on_side(c, d, b);
}

/// The sides of a ring, tried in pairs whose ranges of x overlap.
class Sides {
 public:
  explicit Sides(const std::vector<Point>& ring) : ring_(ring), order_(ring.size()) {
    std::iota(order_.begin(), order_.end(), std::size_t{0});
    std::stable_sort(order_.begin(), order_.end(), [&](std::size_t a, std::size_t b) { return left(a) < left(b); });
  }

  std::optional<OutlineFault> crossing() const {
    for (std::size_t i = 0; i < order_.size(); ++i) {
      for (std::size_t j = i + 1; j < order_.size() && left(order_[j]) <= right(order_[i]); ++j) {
        const std::size_t first = std::min(order_[i], order_[j]), second = std::max(order_[i], order_[j]);
        if (wrong(first, second)) return OutlineFault{OutlineFault::Kind::crossing, second, first};
      }
    }
    return std::nullopt;
  }

 private:
  Point begin(std::size_t side) const { return ring_[side]; }
  Point end(std::size_t side) const { return ring_[(side + 1) % ring_.size()]; }
  double left(std::size_t side) const { return std::min(begin(side).x, end(side).x); }
  double right(std::size_t side) const { return std::max(begin(side).x, end(side).x); }

  /// Neighbours share one corner and may share no more: the one must not turn back over the other.
  bool wrong(std::size_t first, std::size_t second) const {
    if (second == first + 1)
      return on_side(begin(first), end(first), end(second)) || on_side(begin(second), end(second), begin(first));
    if (first == 0 && second + 1 == ring_.size())
      return on_side(begin(first), end(first), begin(second)) || on_side(begin(second), end(second), end(first));
    return meet(begin(first), end(first), begin(second), end(second));
  }

  const std::vector<Point>& ring_;
  std::vector<std::size_t> order_;
};

template <class P, class X, class Y>
std::optional<std::vector<Point>> points(const std::vector<P>& path, X x, Y y) {
  std::vector<Point> out;
  for (const P& at : path) {
    if (!(at.*x).known() || !(at.*y).known()) return std::nullopt;
    out.push_back({(at.*x).nominal, (at.*y).nominal});
  }
  return out;
}

}  // namespace

std::optional<std::vector<Point>> points_of(const std::vector<PlanPoint>& path) {
  return points(path, &PlanPoint::x_m, &PlanPoint::y_m);
}

std::optional<std::vector<Point>> points_of(const std::vector<PicturePoint>& path) {
  return points(path, &PicturePoint::across_pct, &PicturePoint::down_pct);
}

std::optional<OutlineFault> outline_fault(const std::vector<Point>& ring) {
  using Kind = OutlineFault::Kind;
  if (ring.size() < 3) return OutlineFault{Kind::too_few, ring.size(), 0};
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const std::size_t next = (i + 1) % ring.size();
    if (same_place(ring[i], ring[next])) return OutlineFault{Kind::repeated, next, i};
  }
  const bool flat =
      std::all_of(ring.begin() + 2, ring.end(), [&](Point p) { return orientation(ring[0], ring[1], p) == 0; });
  if (flat) return OutlineFault{Kind::no_area, 0, 0};
  return Sides(ring).crossing();
}

bool inside_or_on(const std::vector<Point>& ring, Point at) {
  bool inside = false;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    Point low = ring[i], high = ring[(i + 1) % ring.size()];
    if (on_side(low, high, at)) return true;
    if (low.y > high.y) std::swap(low, high);
    if (low.y <= at.y && at.y < high.y && orientation(low, high, at) > 0) inside = !inside;
  }
  return inside;
}

}  // namespace zoneproof::site
