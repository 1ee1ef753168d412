#include "sight/clear_line.hpp"

#include <algorithm>

#include "plane/predicates.hpp"
#include "site/outline.hpp"

namespace zoneproof::sight {

namespace {

using plane::Point;

Point on_plan(const Vector3& at) { return {at.x, at.y}; }

/// The share of the way from a to b at which it crosses the segment c-d; nothing where it does not, or runs along it.
std::optional<double> crossing(Point a, Point b, Point c, Point d) {
  const double of_a = plane::twice_area(c, d, a), of_b = plane::twice_area(c, d, b);
  if (of_a * of_b > 0.0 || of_a == of_b) return std::nullopt;
  if (plane::orientation(a, b, c) * plane::orientation(a, b, d) > 0) return std::nullopt;
  return of_a / (of_a - of_b);
}

bool crosses_screen(const Prism& prism, const Vector3& from, const Vector3& to) {
  const Point a = on_plan(from), b = on_plan(to);
  for (std::size_t i = 0; i + 1 < prism.outline.size(); ++i) {
    const Point c = prism.outline[i], d = prism.outline[i + 1];
    if (nearer(a, c, d, kTouching_m) || nearer(b, c, d, kTouching_m)) continue;
    const auto share = crossing(a, b, c, d);
    if (!share) continue;
    const double height = from.z + *share * (to.z - from.z);
    if (height > prism.bottom_m && height < prism.top_m) return true;
  }
  return false;
}

/// Between two neighbouring sides that it crosses a line is inside of the outline or outside. Inside, all of its
/// heights are looked at, so one that comes in from above and leaves below is met as well.
bool crosses_body(const Prism& prism, const Vector3& from, const Vector3& to) {
  const Point a = on_plan(from), b = on_plan(to);
  std::vector<double> shares = {0.0, 1.0};
  for (std::size_t i = 0; i < prism.outline.size(); ++i)
    if (const auto share = crossing(a, b, prism.outline[i], prism.outline[(i + 1) % prism.outline.size()]))
      shares.push_back(std::clamp(*share, 0.0, 1.0));
  std::sort(shares.begin(), shares.end());
  const Vector3 way = to - from;
  for (std::size_t i = 0; i + 1 < shares.size(); ++i) {
    const double enters = shares[i], leaves = shares[i + 1];
    if ((leaves - enters) * length(way) <= kTouching_m) continue;
    const double one = from.z + enters * way.z, other = from.z + leaves * way.z;
    if (std::max(one, other) <= prism.bottom_m || std::min(one, other) >= prism.top_m) continue;
    const double middle = (enters + leaves) / 2.0;
    if (site::inside_or_on(prism.outline, {from.x + middle * way.x, from.y + middle * way.y})) return true;
  }
  return false;
}

}  // namespace

bool clear_line(const Building& building, const Vector3& from, const Vector3& to, const Medium& medium) {
  return std::none_of(building.prisms.begin(), building.prisms.end(), [&](const Prism& prism) {
    if (clear_of(prism, medium) >= 1.0) return false;
    return prism.body ? crosses_body(prism, from, to) : crosses_screen(prism, from, to);
  });
}

}  // namespace zoneproof::sight
