#include "sight/ray_outline.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace zoneproof::sight {

using plane::Point;

namespace {

/// A piece longer than this is halved however flat it looks: three samples know a short arc only.
constexpr double kLongestPiece = std::numbers::pi / 6.0;
/// Halvings of a side; 2^30 points to a side are none that anybody asked for.
constexpr int kDeepestRay = 30;

class Follower {
 public:
  Follower(double reach, double tolerance, const std::function<Vector3(Point)>& ray_at)
      : reach_(reach), tolerance_(tolerance), ray_at_(ray_at) {}

  /// Adds all points between a and b, without both.
  void between(Point a, Vector3 ray_a, Point b, Vector3 ray_b, int depth, RayOutline& result) const {
    if (depth >= kDeepestRay || flat(a, ray_a, b, ray_b)) return;
    const Point middle = part(a, b, 0.5);
    const Vector3 ray = at(middle);
    between(a, ray_a, middle, ray, depth + 1, result);
    result.rays.push_back(ray);
    result.corner.push_back(false);
    between(middle, ray, b, ray_b, depth + 1, result);
  }

  Vector3 at(Point p) const {
    const double far = std::hypot(p.x, p.y);
    return ray_at_(far > reach_ ? Point{p.x * (reach_ / far), p.y * (reach_ / far)} : p);
  }

  static Point part(Point a, Point b, double share) { return {a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)}; }

  /// Where the side crosses the circle, in order, as shares of its length.
  std::vector<double> crossings(Point a, Point b) const {
    if (std::isinf(reach_)) return {};
    const Point d = {b.x - a.x, b.y - a.y};
    const double dd = d.x * d.x + d.y * d.y, ad = a.x * d.x + a.y * d.y;
    const double root = ad * ad - dd * (a.x * a.x + a.y * a.y - reach_ * reach_);
    std::vector<double> found;
    if (!(root > 0.0)) return found;
    for (const double sign : {-1.0, 1.0}) {
      const double share = (-ad + sign * std::sqrt(root)) / dd;
      if (share > 0.0 && share < 1.0) found.push_back(share);
    }
    return found;
  }

 private:
  bool flat(Point a, Vector3 ray_a, Point b, Vector3 ray_b) const {
    if (angle_between(ray_a, ray_b) > kLongestPiece) return false;
    const Vector3 across = cross(ray_a, ray_b);
    const double size = length(across);
    return std::all_of(kQuarters.begin(), kQuarters.end(), [&](double share) {
      const Vector3 ray = at(part(a, b, share));
      // Ends on one ray: the piece may still go out and come back.
      const double off = size > 0.0 ? std::abs(dot(across, ray)) / size : angle_between(ray, ray_a);
      return off <= tolerance_ / 2.0;
    });
  }

  static constexpr std::array<double, 3> kQuarters = {0.25, 0.5, 0.75};
  double reach_, tolerance_;
  const std::function<Vector3(Point)>& ray_at_;
};

}  // namespace

RayOutline follow_ring(const std::vector<Point>& ring, double reach, bool straight, double tolerance,
                       const std::function<Vector3(Point)>& ray_at) {
  if (!(tolerance > 0.0)) throw std::invalid_argument("an outline without tolerance");
  const Follower follower(reach, tolerance, ray_at);
  RayOutline result;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Point a = ring[i], b = ring[(i + 1) % ring.size()];
    std::vector<double> stops = follower.crossings(a, b);
    stops.insert(stops.begin(), 0.0);
    stops.push_back(1.0);
    for (std::size_t k = 0; k + 1 < stops.size(); ++k) {
      const Point from = Follower::part(a, b, stops[k]), to = Follower::part(a, b, stops[k + 1]);
      const Vector3 ray_from = follower.at(from);
      // A corner beyond the circle is none of the outline.
      result.rays.push_back(ray_from);
      result.corner.push_back(k > 0 || !(std::hypot(from.x, from.y) > reach));
      if (!straight) follower.between(from, ray_from, to, follower.at(to), 0, result);
    }
  }
  return result;
}

}  // namespace zoneproof::sight
