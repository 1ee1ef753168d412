// Any bytes as walls and eyes: an arrangement that can be triangulated, and views that hold together; or a refusal. The
// first byte chooses how numbers are read: whole ones from a byte each, so that walls meet in every way, or any doubles
// at all.
#include <cmath>
#include <cstdint>
#include <cstring>
#include <stdexcept>
#include <vector>

#include "fuzz/held.hpp"
#include "plane/predicates.hpp"
#include "plane/visibility.hpp"

namespace {

using namespace zoneproof::plane;
using zoneproof::fuzz::hold;

/// Numbers out of bytes, until there are no more.
class Numbers {
 public:
  Numbers(const std::uint8_t* data, std::size_t size, bool whole) : data_(data), left_(size), whole_(whole) {}
  bool more() const { return left_ >= 4 * (whole_ ? 1U : sizeof(double)); }
  Point point() {
    const double x = number();
    return {x, number()};
  }

 private:
  double number() {
    const std::size_t size = whole_ ? 1 : sizeof(double);
    double value = 0.0;
    if (whole_)
      value = data_[0] / 4.0;
    else
      std::memcpy(&value, data_, sizeof(double));
    data_ += size;
    left_ -= size;
    return value;
  }
  const std::uint8_t* data_;
  std::size_t left_;
  bool whole_;
};

void hold_triangles(const Triangulation& t) {
  for (Half h = 0; h < t.half_count(); ++h) {
    const Half twin = t.twin(h);
    hold(twin == none || (t.twin(twin) == h && t.origin(twin) == t.target(h)),
         "two triangles agree on the edge between them");
    if (h % 3 == 0)
      hold(orientation(t.point(t.origin(h)), t.point(t.target(h)), t.point(t.origin(h + 2))) > 0,
           "a triangle turns left");
  }
  for (std::size_t e = 0; e < t.arrangement().edges.size(); ++e) {
    const Edge& edge = t.arrangement().edges[e];
    const Half h = t.between(edge.from, edge.to);
    hold(h != none && t.edge(h) == static_cast<std::int32_t>(e), "every piece of a wall is an edge of triangles");
  }
}

void hold_view(const Triangulation& t, const View& view) {
  const Box& bound = t.arrangement().bound;
  const double width = bound.high.x - bound.low.x, height = bound.high.y - bound.low.y;
  const double most = width * height, slack = 0x1p-36 * most;
  const auto corners = view.corners();
  hold(view.area() >= 0.0 && view.area() <= most + slack, "a view is part of the bound");
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const Corner &a = corners[i], &b = corners[(i + 1) % corners.size()];
    hold(twice_area(view.from(), a.at, b.at) >= -slack, "corners follow each other around the eye");
    hold((a.wall == none) == (a.behind != none), "a side is a wall or a window");
    hold(a.wall == none || t.arrangement().edges[static_cast<std::size_t>(a.wall)].obstructs,
         "only what obstructs ends a view");
    hold(a.wall != none || a.behind == a.vertex || a.behind == b.vertex, "a window is behind one of its ends");
    hold(a.vertex == none || t.point(a.vertex) == a.at, "a vertex stands where it is");
  }
}

void hold_views(const Triangulation& t, const std::vector<Point>& eyes) {
  const Visibility visibility(t);
  View view;
  for (std::size_t i = 0; i < eyes.size(); ++i) {
    hold(visibility.from(eyes[i], view) || !t.arrangement().bound.holds(eyes[i]), "every eye within the bound sees");
    hold_view(t, view);
    const double all = view.area();
    const Point towards = eyes[(i + 1) % eyes.size()];
    if (!std::isfinite(towards.x) || !std::isfinite(towards.y) || towards == view.from()) continue;
    if (!t.arrangement().bound.holds(towards) || !visibility.from(eyes[i], towards, view)) continue;
    hold_view(t, view);
    hold(view.area() <= all * (1.0 + 1e-9), "one side is no more than all");
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size < 2 || size > 4096) return 0;  // longer ones find nothing that shorter ones do not
  const bool whole = (data[0] & 1) != 0;
  const double steps[] = {0.0, 0x1p-20, 0.125, 1.0};
  Numbers numbers(data + 2, size - 2, whole);
  Box bound{{0.0, 0.0}, {64.0, 64.0}};
  if (!whole && numbers.more()) bound = {numbers.point(), numbers.point()};
  std::vector<Segment> walls;
  std::vector<Point> eyes;
  for (int i = 0; numbers.more(); ++i) {
    const Point a = numbers.point(), b = numbers.point();
    if (i % 4 == 3)
      eyes.insert(eyes.end(), {a, b});
    else
      walls.push_back({a, b, ((data[1] >> (i % 8)) & 1) == 0});
  }
  try {
    const Triangulation triangulation(arrange(walls, bound, steps[(data[0] >> 1) & 3]));
    hold_triangles(triangulation);
    hold_views(triangulation, eyes);
  } catch (const std::invalid_argument&) {  // refused
  }
  return 0;
}
