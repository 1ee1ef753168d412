#include "plane/forced_edge.hpp"

#include <stdexcept>
#include <string>

#include "plane/predicates.hpp"

namespace zoneproof::plane {
namespace {

[[noreturn]] void impossible(const char* what) { throw std::logic_error(std::string("plane::Triangulation: ") + what); }

}  // namespace

ForcedEdge::ForcedEdge(Builder& builder, std::int32_t edge)
    : builder_(builder),
      t_(builder.t_),
      edge_(edge),
      u_(t_.arrangement().edges[static_cast<std::size_t>(edge)].from),
      v_(t_.arrangement().edges[static_cast<std::size_t>(edge)].to) {}

void ForcedEdge::run() {
  Half h = t_.between(u_, v_);
  if (h == none) {
    collect();
    while (!crossed_.empty()) flip_one();
    h = t_.between(u_, v_);
  }
  builder_.edge(h) = edge_;
  if (t_.twin(h) != none) builder_.edge(t_.twin(h)) = edge_;
  if (made_.empty()) return;
  suspect(h);
  for (const auto& [from, to] : made_) suspect(t_.between(from, to));
  builder_.make_delaunay();
}

int ForcedEdge::turn(Vertex a, Vertex b, Vertex c) const { return orientation(t_.point(a), t_.point(b), t_.point(c)); }

/// All edges that the segment from u to v crosses. It neither meets a vertex nor crosses an edge of the arrangement.
void ForcedEdge::collect() {
  Half h = t_.first_leaving(u_);
  while (turn(u_, v_, t_.target(h)) >= 0 || turn(u_, v_, t_.origin(previous(h))) <= 0) {
    h = t_.twin(previous(h));
    if (h == none) impossible("an edge leaves the bound or runs through a vertex");
  }
  Half crossed = next(h);
  for (;;) {
    crossed_.push_back({t_.target(crossed), t_.origin(crossed)});
    if (t_.edge(crossed) != none) impossible("two edges cross");
    const Half beyond = t_.twin(crossed);
    const Vertex apex = t_.origin(previous(beyond));
    if (apex == v_) return;
    const int side = turn(u_, v_, apex);
    if (side == 0) impossible("an edge runs through a vertex");
    crossed = side > 0 ? next(beyond) : previous(beyond);
  }
}

void ForcedEdge::flip_one() {
  for (std::size_t side = 0; side < 2; ++side) {
    std::size_t begin = 0;
    while (begin < crossed_.size()) {
      std::size_t end = begin + 1;
      while (end < crossed_.size() && crossed_[end][side] == crossed_[begin][side]) ++end;
      if (flip_at(begin, end, side)) return;
      begin = end;
    }
  }
  impossible("no crossed edge can be flipped");
}

/// Flips one of the crossed edges from `begin` to before `end`, all those of one vertex p of the chain on `side`.
bool ForcedEdge::flip_at(std::size_t begin, std::size_t end, std::size_t side) {
  const Vertex p = crossed_[begin][side];
  const Vertex before = begin > 0 ? crossed_[begin - 1][side] : u_;
  const Vertex after = end < crossed_.size() ? crossed_[end][side] : v_;
  if (turn(before, p, after) != (side == 0 ? -1 : 1)) return false;
  for (std::size_t i = begin; i < end; ++i) {
    const Vertex q = crossed_[i][1 - side];
    const Vertex q_before = i == begin ? before : crossed_[i - 1][1 - side];
    const Vertex q_after = i + 1 == end ? after : crossed_[i + 1][1 - side];
    if (!can_flip(side, p, q_before, q, q_after)) continue;
    builder_.flip(t_.between(p, q));
    if (i == begin && i + 1 < end && before != u_)
      crossed_[i] = side == 0 ? Ends{before, q_after} : Ends{q_after, before};
    else if (i + 1 == end && i > begin && after != v_)
      crossed_[i] = side == 0 ? Ends{after, q_before} : Ends{q_before, after};
    else
      crossed_.erase(crossed_.begin() + static_cast<std::ptrdiff_t>(i)), made_.emplace_back(q_before, q_after);
    return true;
  }
  return false;
}

/// Whether p, before, q, after is strictly convex at p and at q.
bool ForcedEdge::can_flip(std::size_t side, Vertex p, Vertex before, Vertex q, Vertex after) const {
  const int wanted = side == 0 ? 1 : -1;
  return turn(before, q, after) == wanted && turn(p, before, after) == wanted;
}

void ForcedEdge::suspect(Half h) {
  for (const Half side : {h, t_.twin(h)}) {
    if (side != none) builder_.suspects_.insert(builder_.suspects_.end(), {side, next(side), previous(side)});
  }
}

}  // namespace zoneproof::plane
