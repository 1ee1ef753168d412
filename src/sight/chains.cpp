#include "sight/chains.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <map>

namespace zoneproof::sight {

using plane::Point;
using plane::Vertex;

std::vector<std::vector<Vertex>> chains_of(const std::vector<std::pair<Vertex, Vertex>>& pieces) {
  std::map<Vertex, std::vector<std::size_t>> at;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    at[pieces[i].first].push_back(i);
    at[pieces[i].second].push_back(i);
  }
  std::vector<bool> used(pieces.size(), false);
  std::vector<std::vector<Vertex>> chains;
  const auto follow = [&](Vertex from, std::size_t piece) {
    std::vector<Vertex> chain = {from};
    for (;;) {
      used[piece] = true;
      const Vertex to = pieces[piece].first == chain.back() ? pieces[piece].second : pieces[piece].first;
      chain.push_back(to);
      const auto& ways = at[to];
      if (ways.size() != 2) break;
      const std::size_t next = ways[0] == piece ? ways[1] : ways[0];
      if (used[next]) break;
      piece = next;
    }
    chains.push_back(std::move(chain));
  };
  for (const auto& [vertex, ways] : at) {
    if (ways.size() == 2) continue;
    for (const std::size_t piece : ways)
      if (!used[piece]) follow(vertex, piece);
  }
  for (std::size_t i = 0; i < pieces.size(); ++i)
    if (!used[i]) follow(pieces[i].first, i);
  return chains;
}

std::vector<Point> straightened(const std::vector<Point>& line, double tolerance) {
  if (line.size() < 3) return line;
  std::vector<Point> kept = {line.front()};
  std::size_t from = 0;
  for (std::size_t to = 2; to < line.size(); ++to) {
    const Point a = line[from], d = {line[to].x - a.x, line[to].y - a.y};
    const double size = std::hypot(d.x, d.y);
    const bool straight =
        size > 0.0 && std::all_of(line.begin() + static_cast<std::ptrdiff_t>(from) + 1,
                                  line.begin() + static_cast<std::ptrdiff_t>(to), [&](Point p) {
                                    return std::abs(d.x * (p.y - a.y) - d.y * (p.x - a.x)) <= tolerance * size;
                                  });
    if (straight) continue;
    from = to - 1;
    kept.push_back(line[from]);
  }
  kept.push_back(line.back());
  return kept;
}

}  // namespace zoneproof::sight
