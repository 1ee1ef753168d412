#include "plane/exact_view.hpp"

#include <gmpxx.h>

#include <algorithm>
#include <vector>

namespace zoneproof::plane {
namespace {

using Number = mpq_class;

struct Vector {
  Number x, y;
};

Vector operator-(const Vector& a, const Vector& b) { return {a.x - b.x, a.y - b.y}; }
Number cross(const Vector& a, const Vector& b) { return a.x * b.y - a.y * b.x; }

struct Wall {
  Vector from, to;
};

int half(const Vector& v) { return sgn(v.y) > 0 || (sgn(v.y) == 0 && sgn(v.x) > 0) ? 0 : 1; }

bool earlier(const Vector& a, const Vector& b) {
  if (half(a) != half(b)) return half(a) < half(b);
  return sgn(cross(a, b)) > 0;
}

/// Walls that obstruct, relative to the eye, and the sides of the bound.
std::vector<Wall> walls_around(std::span<const Segment> walls, const Box& bound, Point eye) {
  const auto seen = [&](double x, double y) { return Vector{Number(x) - Number(eye.x), Number(y) - Number(eye.y)}; };
  std::vector<Wall> result;
  for (const Segment& wall : walls) {
    if (wall.obstructs && wall.from != wall.to)
      result.push_back({seen(wall.from.x, wall.from.y), seen(wall.to.x, wall.to.y)});
  }
  const Vector corners[4] = {seen(bound.low.x, bound.low.y), seen(bound.high.x, bound.low.y),
                             seen(bound.high.x, bound.high.y), seen(bound.low.x, bound.high.y)};
  for (int i = 0; i < 4; ++i) result.push_back({corners[i], corners[(i + 1) % 4]});
  return result;
}

std::vector<Vector> directions(const std::vector<Wall>& walls) {
  std::vector<Vector> result;
  for (std::size_t i = 0; i < walls.size(); ++i) {
    const Wall& a = walls[i];
    result.push_back(a.from);
    result.push_back(a.to);
    for (std::size_t j = i + 1; j < walls.size(); ++j) {
      const Vector u = a.to - a.from, v = walls[j].to - walls[j].from;
      const Number turn = cross(u, v);
      if (turn == 0) continue;
      const Number s = cross(walls[j].from - a.from, v) / turn, t = cross(walls[j].from - a.from, u) / turn;
      if (s >= 0 && s <= 1 && t >= 0 && t <= 1) result.push_back({a.from.x + s * u.x, a.from.y + s * u.y});
    }
  }
  std::erase_if(result, [](const Vector& v) { return v.x == 0 && v.y == 0; });
  std::sort(result.begin(), result.end(), earlier);
  const auto same = [](const Vector& a, const Vector& b) { return !earlier(a, b) && !earlier(b, a); };
  result.erase(std::unique(result.begin(), result.end(), same), result.end());
  return result;
}

/// How often `ray` goes into the distance to the wall's line; below 0 where the ray misses the wall.
Number distance(const Vector& ray, const Wall& wall) {
  const Vector along = wall.to - wall.from;
  const Number turn = cross(ray, along);
  if (turn == 0) return -1;
  const Number share = cross(wall.from, ray) / turn;
  if (share < 0 || share > 1) return -1;
  return cross(wall.from, along) / turn;
}

Vector on_line(const Vector& ray, const Wall& wall) {
  const Vector along = wall.to - wall.from;
  const Number times = cross(wall.from, along) / cross(ray, along);
  return {times * ray.x, times * ray.y};
}

}  // namespace

double exact_seen_area(std::span<const Segment> walls, const Box& bound, Point eye) {
  const std::vector<Wall> around = walls_around(walls, bound, eye);
  const std::vector<Vector> rays = directions(around);
  Number twice = 0;
  for (std::size_t i = 0; i < rays.size(); ++i) {
    const Vector &right = rays[i], &left = rays[(i + 1) % rays.size()];
    if (sgn(cross(right, left)) <= 0) continue;  // out of the bound, from its border
    const Vector middle{right.x + left.x, right.y + left.y};
    const Wall* nearest = nullptr;
    Number least = 0;
    for (const Wall& wall : around) {
      const Number here = distance(middle, wall);
      if (here > 0 && (nearest == nullptr || here < least)) nearest = &wall, least = here;
    }
    if (nearest != nullptr) twice += cross(on_line(right, *nearest), on_line(left, *nearest));
  }
  const Number area = twice / 2;
  return area.get_d();
}

}  // namespace zoneproof::plane
