#include "plane/builder.hpp"

#include <algorithm>
#include <utility>

#include "plane/forced_edge.hpp"
#include "plane/predicates.hpp"

namespace zoneproof::plane {
namespace {

/// How far along Hilbert's curve of 16 turns through the box a point lies: neighbours on it are neighbours in the
/// plane.
std::uint32_t place_on_curve(Point p, const Box& box) {
  const double side = std::max(box.high.x - box.low.x, box.high.y - box.low.y);
  auto x = static_cast<std::uint32_t>((p.x - box.low.x) / side * 65535.0);
  auto y = static_cast<std::uint32_t>((p.y - box.low.y) / side * 65535.0);
  std::uint32_t place = 0;
  for (std::uint32_t half = 32768; half != 0; half /= 2) {
    const bool right = (x & half) != 0, up = (y & half) != 0;
    place += half * half * ((right ? 3U : 0U) ^ (up ? 1U : 0U));
    if (up) continue;
    if (right) x = 65535U - x, y = 65535U - y;
    std::swap(x, y);
  }
  return place;
}

}  // namespace

void Builder::run() {
  const std::size_t vertices = t_.arrangement_.vertices.size();
  for (auto* halves : {&t_.origin_, &t_.twin_, &t_.edge_}) halves->reserve(6 * vertices);
  t_.leaving_.assign(vertices, none);
  start_with_bound();
  for (const Vertex v : along_curve()) {
    if (t_.leaving(v) == none) insert(v);  // the corners of the bound are there
  }
  for (std::size_t e = 0; e < t_.arrangement_.edges.size(); ++e) ForcedEdge(*this, static_cast<std::int32_t>(e)).run();
}

std::vector<Vertex> Builder::along_curve() const {
  std::vector<std::pair<std::uint32_t, Vertex>> order;
  for (const Point p : t_.arrangement_.vertices)
    order.emplace_back(place_on_curve(p, t_.arrangement_.bound), static_cast<Vertex>(order.size()));
  std::sort(order.begin(), order.end());
  std::vector<Vertex> result;
  for (const auto& [place, vertex] : order) result.push_back(vertex);
  return result;
}

void Builder::start_with_bound() {
  const Box& box = t_.arrangement_.bound;
  const auto at = [&](double x, double y) {
    const auto& vertices = t_.arrangement_.vertices;
    return static_cast<Vertex>(std::find(vertices.begin(), vertices.end(), Point{x, y}) - vertices.begin());
  };
  const Vertex a = at(box.low.x, box.low.y), b = at(box.high.x, box.low.y), c = at(box.high.x, box.high.y),
               d = at(box.low.x, box.high.y);
  set(new_triangle(), a, b, c);
  set(new_triangle(), a, c, d);
  pair(2, 3);
}

void Builder::insert(Vertex v) {
  const Place place = *t_.locate(t_.point(v), last_);  // vertices lie in the bound
  const Half h = place.half;
  const Half across = place.kind == Place::Kind::on_edge ? twin(h) : none;
  sides_.clear();
  slots_.assign(1, h - h % 3);
  if (place.kind == Place::Kind::inside) add_side(h);
  add_side(next(h));
  add_side(previous(h));
  if (across != none) {
    slots_.push_back(across - across % 3);
    add_side(next(across));
    add_side(previous(across));
  }
  fan(v, place.kind == Place::Kind::inside || across != none);
  make_delaunay();
}

void Builder::add_side(Half h) { sides_.push_back({t_.origin(h), t_.target(h), twin(h)}); }

void Builder::fan(Vertex v, bool closed) {
  while (slots_.size() < sides_.size()) slots_.push_back(new_triangle());
  for (std::size_t i = 0; i < sides_.size(); ++i) {
    set(slots_[i], sides_[i].from, sides_[i].to, v);
    pair(slots_[i], sides_[i].twin);
    suspects_.push_back(slots_[i]);
  }
  for (std::size_t i = 0; i < sides_.size(); ++i) {
    if (i + 1 < sides_.size())
      pair(slots_[i] + 1, slots_[i + 1] + 2);
    else if (closed)
      pair(slots_[i] + 1, slots_[0] + 2);
  }
  last_ = slots_[0];
}

Half Builder::new_triangle() {
  const auto first = static_cast<Half>(t_.origin_.size());
  for (auto* halves : {&t_.origin_, &t_.twin_, &t_.edge_}) halves->resize(halves->size() + 3, none);
  return first;
}

void Builder::set(Half first, Vertex a, Vertex b, Vertex c) {
  const Vertex corners[3] = {a, b, c};
  for (Half i = 0; i < 3; ++i) {
    t_.origin_[index(first + i)] = corners[i];
    t_.leaving_[index(corners[i])] = first + i;
    twin(first + i) = none;
    edge(first + i) = none;
  }
}

void Builder::pair(Half h, Half g) {
  twin(h) = g;
  if (g != none) twin(g) = h;
}

void Builder::flip(Half h) {
  const Half g = twin(h), sides[4] = {previous(g), next(h), previous(h), next(g)};
  const Vertex a = t_.origin(h), b = t_.origin(g), c = t_.origin(previous(h)), d = t_.origin(previous(g));
  std::pair<Half, std::int32_t> beyond[4];
  for (int i = 0; i < 4; ++i) beyond[i] = {twin(sides[i]), edge(sides[i])};
  const Half places[4] = {next(h), previous(h), next(g), previous(g)};  // now d-b, b-c, c-a, a-d
  const Vertex from[4] = {d, b, c, a};
  t_.origin_[index(h)] = c;
  t_.origin_[index(g)] = d;
  for (int i = 0; i < 4; ++i) {
    t_.origin_[index(places[i])] = from[i];
    t_.leaving_[index(from[i])] = places[i];
    pair(places[i], beyond[i].first);
    edge(places[i]) = beyond[i].second;
  }
}

void Builder::make_delaunay() {
  while (!suspects_.empty()) {
    const Half h = suspects_.back();
    suspects_.pop_back();
    const Half g = twin(h);
    if (g == none || edge(h) != none) continue;
    if (in_circle(t_.point(t_.origin(h)), t_.point(t_.target(h)), t_.point(t_.origin(previous(h))),
                  t_.point(t_.origin(previous(g)))) <= 0)
      continue;
    flip(h);
    suspects_.insert(suspects_.end(), {next(h), previous(h), next(g), previous(g)});
  }
}

}  // namespace zoneproof::plane
