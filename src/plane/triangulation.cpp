#include "plane/triangulation.hpp"

#include <algorithm>

#include "plane/builder.hpp"
#include "plane/predicates.hpp"

namespace zoneproof::plane {

Triangulation::Triangulation(Arrangement arrangement) : arrangement_(std::move(arrangement)) { Builder(*this).run(); }

Half Triangulation::first_leaving(Vertex v) const {
  const Half start = leaving(v);
  Half h = start;
  while (twin(h) != none) {
    h = next(twin(h));
    if (h == start) break;
  }
  return h;
}

Half Triangulation::between(Vertex from, Vertex to) const {
  const Half start = first_leaving(from);
  for (Half h = start;;) {
    if (target(h) == to) return h;
    const Half last = previous(h);
    if (twin(last) == none) return origin(last) == to ? last : none;
    h = twin(last);
    if (h == start) return none;
  }
}

std::optional<Place> Triangulation::locate(Point p, Half near) const {
  if (!arrangement_.bound.holds(p)) return std::nullopt;
  std::uint32_t chance = 1;
  Half first = near - near % 3;
  for (;;) {
    chance = chance * 1664525U + 1013904223U;
    const Half start = first + static_cast<Half>((chance >> 16U) % 3U);
    Half on[3];
    int zeros = 0;
    Half h = start;
    bool leaves = false;
    do {
      const int turn = orientation(point(origin(h)), point(target(h)), p);
      if (turn < 0 && twin(h) != none) {
        leaves = true;
        break;
      }
      if (turn == 0) on[zeros++] = h;
      h = next(h);
    } while (h != start);
    if (leaves) {
      first = twin(h) - twin(h) % 3;
    } else if (zeros == 0) {
      return Place{Place::Kind::inside, first};
    } else if (zeros == 1) {
      return Place{Place::Kind::on_edge, std::max(on[0], twin(on[0]))};
    } else {
      const Half leaves_here = target(on[0]) == origin(on[1]) ? on[1] : on[0];
      return Place{Place::Kind::at_vertex, first_leaving(origin(leaves_here))};
    }
  }
}

}  // namespace zoneproof::plane
