#include "plane/expander.hpp"

#include <algorithm>
#include <cmath>

#include "plane/predicates.hpp"

namespace zoneproof::plane {

Expander::Expander(const Visibility& visibility, Point eye, View& view)
    : visibility_(visibility), triangulation_(visibility.triangulation_), view_(view), eye_(eye) {
  view.from_ = eye;
  view.corners_.clear();
  view.ring_.clear();
  // Every cone left open belongs to another triangle on the way of one ray, and a ray meets a triangle once.
  const std::size_t most = visibility.entries_.size() / 3 + 2;
  if (view.cones_.size() < most) view.cones_.resize(most);
  if (const auto place = visibility.locator_.locate(eye)) face(*place);
}

void Expander::face(const Place& place) {
  const Half h = place.half;
  if (place.kind == Place::Kind::at_vertex) {
    face_around(triangulation_.origin(h), h);
  } else if (place.kind == Place::Kind::inside) {
    for (Half side = h; side < h + 3; ++side) view_.ring_.push_back({side, none});
  } else {
    const Half across = triangulation_.twin(h);
    open_ = across == none;
    last_spoke_ = h;
    view_.ring_.push_back({next(h), h});
    view_.ring_.push_back({previous(h), none});
    if (open_) return;
    view_.ring_.push_back({next(across), h});
    view_.ring_.push_back({previous(across), none});
  }
}

void Expander::face_around(Vertex v, Half first) {
  eye_vertex_ = v;
  Half h = first;
  do {
    view_.ring_.push_back({next(h), h});
    last_spoke_ = previous(h);
    h = triangulation_.twin(last_spoke_);
  } while (h != none && h != first);
  open_ = h == none;
}

bool Expander::begins_at_wall(const View::Facing& facing) const {
  return facing.spoke != none && triangulation_.blocks(facing.spoke);
}

void Expander::see_all() {
  if (open_) return see_between(0, view_.ring_.size());
  for (const View::Facing& facing : view_.ring_) expand(facing.half);
  if (wall_ != first_wall_) turn(first_ray_, wall_, first_wall_);
}

void Expander::see_towards(Point towards) {
  auto& ring = view_.ring_;
  const auto at_wall = [&](const View::Facing& facing) { return begins_at_wall(facing); };
  if (!open_) {
    if (std::count_if(ring.begin(), ring.end(), at_wall) < 2) return see_all();  // all around the end of a wall
    std::rotate(ring.begin(), std::find_if(ring.begin(), ring.end(), at_wall), ring.end());
    last_spoke_ = ring.front().spoke;
  }
  const auto found = std::find_if(ring.begin(), ring.end(), [&](const View::Facing& facing) {
    const Point right = triangulation_.point(triangulation_.origin(facing.half));
    const Point left = triangulation_.point(triangulation_.target(facing.half));
    return orientation(eye_, right, towards) >= 0 && orientation(eye_, left, towards) < 0;
  });
  if (found == ring.end()) return;  // out of the bound from its border
  auto begin = found;
  while (!at_wall(*begin)) --begin;
  const auto end = std::find_if(found + 1, ring.end(), at_wall);
  see_between(static_cast<std::size_t>(begin - ring.begin()), static_cast<std::size_t>(end - ring.begin()));
}

void Expander::see_between(std::size_t begin, std::size_t end) {
  const auto& ring = view_.ring_;
  const Half spoke_after = end == ring.size() ? last_spoke_ : ring[end].spoke;
  wall_ = ring[begin].spoke;
  add({eye_, eye_vertex_, none, none}, triangulation_.edge(wall_), none);
  for (std::size_t i = begin; i < end; ++i) expand(ring[i].half);
  turn(triangulation_.target(ring[end - 1].half), wall_, spoke_after);
}

void Expander::expand(Half facing) {
  const auto& entries = visibility_.entries_;
  const double doubt = visibility_.doubt_;
  Vertex right_vertex = triangulation_.origin(facing);
  const Vertex left_vertex = triangulation_.target(facing);
  const Point right_end = triangulation_.point(right_vertex), left_end = triangulation_.point(left_vertex);
  double right_x = right_end.x - eye_.x, right_y = right_end.y - eye_.y;
  View::Cone* const bottom = view_.cones_.data();
  View::Cone* top = bottom;
  *top = {left_end.x - eye_.x, left_end.y - eye_.y, left_vertex, none};
  Half beyond = visibility_.beyond(facing);
  for (;;) {
    while (beyond >= 0) {
      const Visibility::Entry& entry = entries[static_cast<std::size_t>(beyond)];
      const double x = entry.apex.x - eye_.x, y = entry.apex.y - eye_.y;
      double from_right = right_x * y - right_y * x, from_left = top->x * y - top->y * x;
      if (!(std::min(std::abs(from_right), std::abs(from_left)) > doubt)) {
        from_right = orientation(eye_, triangulation_.point(right_vertex), entry.apex);
        from_left = orientation(eye_, triangulation_.point(top->vertex), entry.apex);
      }
      const bool left_of_right = from_right > 0.0;
      if (left_of_right && from_left < 0.0) *++top = {x, y, entry.vertex, entry.left};
      beyond = left_of_right ? entry.right : entry.left;
    }
    see(-1 - beyond, right_vertex);
    if (top == bottom) return;
    right_x = top->x;
    right_y = top->y;
    right_vertex = top->vertex;
    beyond = top->beyond;
    --top;
  }
}

void Expander::see(Half wall, Vertex ray) {
  if (wall == wall_) return;  // it goes on behind a vertex that hides nothing
  if (wall_ != none) {
    turn(ray, wall_, wall);
  } else {
    first_wall_ = wall;
    first_ray_ = ray;
  }
  wall_ = wall;
}

void Expander::turn(Vertex ray, Half before, Half after) {
  const Corner end = hit(before, ray), start = hit(after, ray);
  if (end.vertex == none || end.vertex != start.vertex) {
    // The near end is a vertex: a wall that is hit between its ends lets no ray by.
    const bool end_is_near = start.vertex == none || (end.vertex != none && between(eye_, start.at, end.at));
    add(end, none, end_is_near ? end.vertex : start.vertex);
  }
  add(start, triangulation_.edge(after), none);
}

Corner Expander::hit(Half wall, Vertex ray) const {
  const Vertex right = triangulation_.origin(wall), left = triangulation_.target(wall);
  const Point a = triangulation_.point(right), b = triangulation_.point(left);
  if (right == ray) return {a, right, none, none};
  if (left == ray) return {b, left, none, none};
  const Point past = triangulation_.point(ray);
  const double beside_a = twice_area(eye_, past, a), beside_b = twice_area(eye_, past, b);
  if (beside_a == 0.0) return {a, right, none, none};
  if (beside_b == 0.0) return {b, left, none, none};
  const double share = beside_a / (beside_a - beside_b);
  return {{a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)}, none, none, none};
}

void Expander::add(const Corner& corner, std::int32_t wall, Vertex behind) {
  view_.corners_.push_back({corner.at, corner.vertex, wall, behind});
}

}  // namespace zoneproof::plane
