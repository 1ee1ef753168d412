#include "plane/arrangement.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <stdexcept>
#include <tuple>

#include "plane/bins.hpp"
#include "plane/predicates.hpp"

namespace zoneproof::plane {
namespace {

struct Input {
  Point from, to;
  std::int32_t index;
  bool obstructs;
};

/// A piece of an input between neighbouring vertices of its chain.
struct Piece {
  Vertex from, to;
  std::int32_t input;
  bool obstructs;
};

bool before(Point a, Point b) { return a.x != b.x ? a.x < b.x : a.y < b.y; }

Point snapped(Point p, double step) {
  return {std::floor(p.x / step + 0.5) * step, std::floor(p.y / step + 0.5) * step};
}

bool cross_properly(const Input& a, const Input& b) {
  return orientation(a.from, a.to, b.from) * orientation(a.from, a.to, b.to) < 0 &&
         orientation(b.from, b.to, a.from) * orientation(b.from, b.to, a.to) < 0;
}

bool boxes_meet(const Input& a, const Input& b) {
  return std::min(a.from.x, a.to.x) <= std::max(b.from.x, b.to.x) &&
         std::min(b.from.x, b.to.x) <= std::max(a.from.x, a.to.x) &&
         std::min(a.from.y, a.to.y) <= std::max(b.from.y, b.to.y) &&
         std::min(b.from.y, b.to.y) <= std::max(a.from.y, a.to.y);
}

/// Whether a segment between middles of pixels passes the pixel around `middle`, which has its left and lower border.
bool passes(Point a, Point b, Point middle, double step) {
  if (a == middle || b == middle) return true;
  if (std::max(a.x, b.x) < middle.x || std::min(a.x, b.x) > middle.x || std::max(a.y, b.y) < middle.y ||
      std::min(a.y, b.y) > middle.y)
    return false;
  const double left = middle.x - step / 2, right = middle.x + step / 2, low = middle.y - step / 2,
               high = middle.y + step / 2;
  int turns[4] = {orientation(a, b, {left, low}), orientation(a, b, {right, low}), orientation(a, b, {left, high}),
                  orientation(a, b, {right, high})};
  const auto [least, most] = std::minmax_element(turns, turns + 4);
  if (*least < 0 && *most > 0) return true;
  // Else the line touches no more than one corner: no line through middles runs along a border. The lower left one
  // counts.
  return turns[0] == 0 && std::min(a.x, b.x) <= left && left <= std::max(a.x, b.x) && std::min(a.y, b.y) <= low &&
         low <= std::max(a.y, b.y);
}

/// In the order in which the segment from a to b passes pixels: by the longer axis, then by the other. Two pixels in
/// one column, of a line that is no steeper than the diagonal, are neighbours and are passed as it rises or falls.
struct AlongSegment {
  bool by_x, falling_x, falling_y;
  AlongSegment(Point a, Point b)
      : by_x(std::abs(b.x - a.x) >= std::abs(b.y - a.y)), falling_x(b.x < a.x), falling_y(b.y < a.y) {}
  bool operator()(Point p, Point q) const {
    const double dx = falling_x ? p.x - q.x : q.x - p.x, dy = falling_y ? p.y - q.y : q.y - p.y;
    return by_x ? (dx != 0.0 ? dx > 0.0 : dy > 0.0) : (dy != 0.0 ? dy > 0.0 : dx > 0.0);
  }
};

class Arranger {
 public:
  Arranger(std::span<const Segment> segments, const Box& bound, double step) : step_(step), bound_(bound) {
    inputs_.reserve(segments.size() + 4);
    for (std::size_t i = 0; i < segments.size(); ++i) {
      const Segment& s = segments[i];
      add({snapped(s.from, step), snapped(s.to, step), static_cast<std::int32_t>(i), s.obstructs});
    }
    const Point corners[4] = {bound.low, {bound.high.x, bound.low.y}, bound.high, {bound.low.x, bound.high.y}};
    for (std::size_t i = 0; i < 4; ++i) add({corners[i], corners[(i + 1) % 4], Arrangement::of_bound, true});
  }

  Arrangement run() {
    find_hot();
    lead_through_hot();
    split_where_touched();
    return result();
  }

 private:
  void add(const Input& input) {
    if (input.from != input.to) inputs_.push_back(input);
  }

  /// The ends of all segments and the pixels in which two cross, each once, sorted.
  void find_hot() {
    for (const Input& input : inputs_) hot_.insert(hot_.end(), {input.from, input.to});
    const Bins bins(bound_, inputs_.size());
    std::vector<std::vector<std::int32_t>> cells(bins.count());
    for (std::size_t i = 0; i < inputs_.size(); ++i)
      bins.along(inputs_[i].from, inputs_[i].to, 0.0,
                 [&](std::size_t c) { cells[c].push_back(static_cast<std::int32_t>(i)); });
    for (const auto& cell : cells) {
      for (std::size_t i = 0; i < cell.size(); ++i) {
        for (std::size_t j = i + 1; j < cell.size(); ++j)
          add_crossing(inputs_[static_cast<std::size_t>(cell[i])], inputs_[static_cast<std::size_t>(cell[j])]);
      }
    }
    std::sort(hot_.begin(), hot_.end(), before);
    hot_.erase(std::unique(hot_.begin(), hot_.end()), hot_.end());
  }

  void add_crossing(const Input& a, const Input& b) {
    if (boxes_meet(a, b) && cross_properly(a, b)) hot_.push_back(crossing_pixel(a.from, a.to, b.from, b.to, step_));
  }

  void lead_through_hot() {
    pieces_ = split(whole(), [&](Point a, Point b, Point p) { return passes(a, b, p, step_); });
  }

  /// Rounding may have laid a chain exactly on a vertex beside it. To split it there moves nothing.
  void split_where_touched() {
    pieces_ = split(pieces_, [](Point a, Point b, Point p) {
      return p == a || p == b || (orientation(a, b, p) == 0 && between(a, b, p));
    });
  }

  std::vector<Piece> whole() const {
    std::vector<Piece> pieces;
    for (const Input& input : inputs_)
      pieces.push_back({vertex(input.from), vertex(input.to), input.index, input.obstructs});
    return pieces;
  }

  Vertex vertex(Point p) const {
    return static_cast<Vertex>(std::lower_bound(hot_.begin(), hot_.end(), p, before) - hot_.begin());
  }

  Point at(Vertex v) const { return hot_[static_cast<std::size_t>(v)]; }

  template <typename Belongs>
  std::vector<Piece> split(const std::vector<Piece>& pieces, Belongs belongs) const {
    const Bins bins(bound_, hot_.size());
    std::vector<std::vector<Vertex>> cells(bins.count());
    for (std::size_t v = 0; v < hot_.size(); ++v) cells[bins.cell_of(hot_[v])].push_back(static_cast<Vertex>(v));
    std::vector<Piece> result;
    std::vector<Vertex> chain;
    for (const Piece& piece : pieces) {
      const Point a = at(piece.from), b = at(piece.to);
      chain.clear();
      bins.along(a, b, step_, [&](std::size_t c) {
        for (const Vertex v : cells[c]) {
          if (belongs(a, b, at(v))) chain.push_back(v);
        }
      });
      const AlongSegment along(a, b);
      std::sort(chain.begin(), chain.end(), [&](Vertex u, Vertex v) { return along(at(u), at(v)); });
      for (std::size_t i = 1; i < chain.size(); ++i) {
        if (chain[i - 1] != chain[i]) result.push_back({chain[i - 1], chain[i], piece.input, piece.obstructs});
      }
    }
    return result;
  }

  Arrangement result() {
    for (Piece& piece : pieces_) {
      if (piece.from > piece.to) std::swap(piece.from, piece.to);
    }
    const auto key = [](const Piece& p) { return std::tuple(p.from, p.to, p.input); };
    std::sort(pieces_.begin(), pieces_.end(), [&](const Piece& a, const Piece& b) { return key(a) < key(b); });
    Arrangement arrangement{step_, bound_, std::move(hot_), {}, {}};
    for (const Piece& piece : pieces_) {
      const auto here = static_cast<std::int32_t>(arrangement.inputs.size());
      auto& edges = arrangement.edges;
      if (edges.empty() || edges.back().from != piece.from || edges.back().to != piece.to)
        edges.push_back({piece.from, piece.to, here, 0, false});
      else if (arrangement.inputs.back() == piece.input)
        continue;  // a segment folded onto itself
      arrangement.inputs.push_back(piece.input);
      ++edges.back().input_count;
      edges.back().obstructs = edges.back().obstructs || piece.obstructs;
    }
    return arrangement;
  }

  double step_;
  Box bound_;
  std::vector<Input> inputs_;
  std::vector<Point> hot_;
  std::vector<Piece> pieces_;
};

bool is_power_of_two(double value) {
  int exponent = 0;
  return value > 0.0 && std::isfinite(value) && std::frexp(value, &exponent) == 0.5;
}

void check(std::span<const Segment> segments, const Box& bound, double step) {
  const double most =
      std::max({std::abs(bound.low.x), std::abs(bound.low.y), std::abs(bound.high.x), std::abs(bound.high.y)});
  if (!(most <= 0x1p100)) throw std::invalid_argument("plane::arrange: the bound is beyond 2^100");
  if (step != 0.0 && !is_power_of_two(step)) throw std::invalid_argument("plane::arrange: the step is no power of two");
  if (step != 0.0 && step < finest_step(bound)) throw std::invalid_argument("plane::arrange: the step is too fine");
  const double least = 16.0 * (step != 0.0 ? step : finest_step(bound));
  if (!(bound.high.x - bound.low.x >= least && bound.high.y - bound.low.y >= least && least >= 0x1p-150))
    throw std::invalid_argument("plane::arrange: the bound has no width or height");
  for (const Segment& segment : segments) {
    if (!bound.holds(segment.from) || !bound.holds(segment.to))
      throw std::invalid_argument("plane::arrange: a segment ends outside of the bound");
  }
}

}  // namespace

std::span<const std::int32_t> Arrangement::inputs_of(std::int32_t edge) const {
  const Edge& e = edges[static_cast<std::size_t>(edge)];
  return std::span(inputs).subspan(static_cast<std::size_t>(e.first_input), static_cast<std::size_t>(e.input_count));
}

double finest_step(const Box& bound) {
  int exponent = 0;
  std::frexp(std::max({std::abs(bound.low.x), std::abs(bound.low.y), std::abs(bound.high.x), std::abs(bound.high.y)}),
             &exponent);
  return std::ldexp(1.0, exponent - 48);
}

Arrangement arrange(std::span<const Segment> segments, const Box& bound, double step) {
  check(segments, bound, step);
  if (step == 0.0) step = finest_step(bound);
  const Box widened{{std::floor(bound.low.x / step) * step, std::floor(bound.low.y / step) * step},
                    {std::ceil(bound.high.x / step) * step, std::ceil(bound.high.y / step) * step}};
  return Arranger(segments, widened, step).run();
}

}  // namespace zoneproof::plane
