#include "sight/picture_curve.hpp"

#include <array>
#include <cmath>
#include <cstddef>

namespace zoneproof::sight {

namespace {

using plane::Point;

using ToPicture = std::function<std::optional<PicturePlace>(Point)>;

constexpr int kDeepestPiece = 10;

double off_chord(PicturePlace p, PicturePlace a, PicturePlace b) {
  const double dx = b.across_px - a.across_px, dy = b.down_px - a.down_px;
  const double size = std::hypot(dx, dy);
  const double px = p.across_px - a.across_px, py = p.down_px - a.down_px;
  return size > 0.0 ? std::abs(dx * py - dy * px) / size : std::hypot(px, py);
}

void halve(Point a, PicturePlace at_a, Point b, PicturePlace at_b, int depth, const ToPicture& to_picture,
           std::vector<PicturePlace>& line) {
  const auto part = [&](double share) { return Point{a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)}; };
  bool straight = depth >= kDeepestPiece;
  if (!straight) {
    straight = true;
    for (const double share : std::array<double, 3>{0.25, 0.5, 0.75}) {
      const auto at = to_picture(part(share));
      if (at && off_chord(*at, at_a, at_b) > kCurve_px / 2.0) straight = false;
    }
  }
  if (straight) return;
  const Point middle = part(0.5);
  const auto at = to_picture(middle);
  if (!at) return;
  halve(a, at_a, middle, *at, depth + 1, to_picture, line);
  line.push_back(*at);
  halve(middle, *at, b, at_b, depth + 1, to_picture, line);
}

}  // namespace

std::vector<PicturePlace> curved(const std::vector<Point>& line, bool closed, const ToPicture& to_picture) {
  std::vector<PicturePlace> curve;
  const std::size_t pieces = closed ? line.size() : line.size() - 1;
  for (std::size_t i = 0; i < pieces; ++i) {
    const Point a = line[i], b = line[(i + 1) % line.size()];
    const auto at_a = to_picture(a), at_b = to_picture(b);
    if (at_a) curve.push_back(*at_a);
    if (at_a && at_b) halve(a, *at_a, b, *at_b, 0, to_picture, curve);
  }
  if (!closed && !line.empty())
    if (const auto last = to_picture(line.back())) curve.push_back(*last);
  return curve;
}

}  // namespace zoneproof::sight
