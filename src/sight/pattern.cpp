#include "sight/pattern.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

namespace zoneproof::sight {

namespace {

using plane::Point;

constexpr double kChord_m = 0.005;
constexpr double kTurn = 2.0 * std::numbers::pi;

double radians(double degrees) { return degrees * std::numbers::pi / 180.0; }

/// How far a value reaches on the side that proves less.
double careful(const site::Value& value, Extent extent) {
  return extent == Extent::guaranteed ? value.low : value.high;
}

const site::Reach& reach_of(const site::PatternSpec& pattern, Extent extent) {
  return extent == Extent::guaranteed ? pattern.guaranteed : pattern.largest;
}

struct Row {
  double distance, lowest, highest;
  bool joined;  ///< to the row before: nothing between them is untold
};

/// Rows that are wholly told, each height at the end that proves less.
std::vector<Row> rows_of(const site::PatternSpec& pattern, Extent extent) {
  const bool sure = extent == Extent::guaranteed;
  std::vector<Row> rows;
  bool joined = true;
  for (const site::PatternRow& row : pattern.profile) {
    const bool told = row.distance_m.known() && row.lowest_m.known() && row.highest_m.known();
    if (told)
      rows.push_back({row.distance_m.nominal, sure ? row.lowest_m.high : row.lowest_m.low,
                      careful(row.highest_m, extent), joined});
    joined = told;
  }
  return rows;
}

/// Where between two rows the pattern covers some of the body: both conditions are linear in the distance.
std::optional<Distances> between_rows(const Row& a, const Row& b, const Body& body) {
  double from = 0.0, to = 1.0;
  const auto narrow = [&](double at_a, double at_b) {
    if (at_a < 0.0 && at_b < 0.0) return false;
    if (at_a >= 0.0 && at_b >= 0.0) return true;
    const double root = at_a / (at_a - at_b);
    (at_a < 0.0 ? from : to) = at_a < 0.0 ? std::max(from, root) : std::min(to, root);
    return from <= to;
  };
  if (!narrow(a.highest - body.from_m, b.highest - body.from_m) || !narrow(body.to_m - a.lowest, body.to_m - b.lowest))
    return std::nullopt;
  const double width = b.distance - a.distance;
  return Distances{a.distance + from * width, a.distance + to * width};
}

int chords(double radius, double angle, bool inside) {
  if (radius <= kChord_m) return 4;
  const double half = inside ? std::acos(1.0 - kChord_m / radius) : std::acos(radius / (radius + kChord_m));
  return std::max(4, static_cast<int>(std::ceil(angle / (2.0 * half))));
}

/// Points of an arc from `first` through `angle`, counter-clockwise.
void add_arc(std::vector<Point>& ring, Point middle, double radius, double first, double angle, bool inside) {
  const int count = chords(radius, angle, inside);
  const double step = angle / count, out = inside ? radius : radius / std::cos(step / 2.0);
  const auto at = [&](double distance, double turn) {
    return Point{middle.x + distance * std::cos(turn), middle.y + distance * std::sin(turn)};
  };
  if (inside) {
    for (int i = 0; i <= count; ++i) ring.push_back(at(out, first + i * step));
    return;
  }
  ring.push_back(at(radius, first));
  for (int i = 0; i < count; ++i) ring.push_back(at(out, first + (i + 0.5) * step));
  ring.push_back(at(radius, first + angle));
}

/// A sector of a ring, or the whole ring.
void add_sector(Outlines& outlines, Point middle, const Distances& distances, double facing, double angle,
                Extent extent) {
  const bool inside = extent == Extent::guaranteed;
  if (angle >= kTurn) {
    outlines.push_back(circle(middle, distances.to_m, inside));
    if (distances.from_m <= 0.0) return;
    std::vector<Point> hole = circle(middle, distances.from_m, !inside);
    std::reverse(hole.begin(), hole.end());
    outlines.push_back(std::move(hole));
    return;
  }
  std::vector<Point> ring;
  add_arc(ring, middle, distances.to_m, facing - angle / 2.0, angle, inside);
  if (distances.from_m > 0.0) {
    std::vector<Point> back;
    add_arc(back, middle, distances.from_m, facing - angle / 2.0, angle, !inside);
    ring.insert(ring.end(), back.rbegin(), back.rend());
  } else {
    ring.push_back(middle);
  }
  outlines.push_back(std::move(ring));
}

/// A curtain widens evenly to its width at the far end.
std::vector<Point> curtain(Point at, double bearing_deg, const Distances& distances, double range, double width) {
  const Point ahead = direction_of(bearing_deg);
  const auto corner = [&](double distance, double side) {
    const double across = range > 0.0 ? side * 0.5 * width * distance / range : 0.0;
    return Point{at.x + distance * ahead.x + across * ahead.y, at.y + distance * ahead.y - across * ahead.x};
  };
  return {corner(distances.from_m, 1), corner(distances.to_m, 1), corner(distances.to_m, -1),
          corner(distances.from_m, -1)};
}

}  // namespace

Point direction_of(double bearing_deg) { return {std::sin(radians(bearing_deg)), std::cos(radians(bearing_deg))}; }

std::vector<Point> circle(Point middle, double radius_m, bool inside) {
  const int count = chords(radius_m, kTurn, inside);
  const double out = inside ? radius_m : radius_m / std::cos(kTurn / count / 2.0);
  std::vector<Point> ring;
  for (int i = 0; i < count; ++i)
    ring.push_back({middle.x + out * std::cos(i * kTurn / count), middle.y + out * std::sin(i * kTurn / count)});
  return ring;
}

std::vector<Distances> distances_covered(const site::PatternSpec& pattern, Extent extent, const Body& body,
                                         double range_m) {
  const double near = extent == Extent::guaranteed && pattern.near_m.known() ? pattern.near_m.high : 0.0;
  const std::vector<Row> rows = rows_of(pattern, extent);
  std::vector<Distances> found;
  const auto add = [&](double from, double to) {
    from = std::max(from, near), to = std::min(to, range_m);
    if (from >= to) return;
    if (!found.empty() && from <= found.back().to_m)
      found.back().to_m = std::max(found.back().to_m, to);
    else
      found.push_back({from, to});
  };
  const bool untold = extent == Extent::largest;
  if (rows.empty()) {
    if (untold) add(0.0, range_m);
    return found;
  }
  if (untold) add(0.0, rows.front().distance);
  for (std::size_t i = 0; i + 1 < rows.size(); ++i) {
    if (!rows[i + 1].joined) {
      if (untold) add(rows[i].distance, rows[i + 1].distance);
    } else if (const auto covered = between_rows(rows[i], rows[i + 1], body)) {
      add(covered->from_m, covered->to_m);
    }
  }
  if (untold) add(rows.back().distance, range_m);
  return found;
}

Outlines pattern_outlines(const site::PatternSpec& pattern, Extent extent, const Body& body, Point at,
                          double bearing_deg) {
  const site::Reach& reach = reach_of(pattern, extent);
  const double range = careful(reach.range_m, extent);
  Outlines outlines;
  for (const Distances& distances : distances_covered(pattern, extent, body, range)) {
    const double facing = std::numbers::pi / 2.0 - radians(bearing_deg);
    if (pattern.shape.is(site::PatternShape::fan))
      add_sector(outlines, at, distances, facing, radians(careful(reach.angle_deg, extent)), extent);
    else if (pattern.shape.is(site::PatternShape::ceiling))
      add_sector(outlines, at, distances, facing, kTurn, extent);
    else if (pattern.shape.is(site::PatternShape::curtain))
      outlines.push_back(curtain(at, bearing_deg, distances, range, careful(reach.width_m, extent)));
  }
  return outlines;
}

std::vector<Point> strip(Point from, Point to, double width_m) {
  const double length = std::hypot(to.x - from.x, to.y - from.y), half = width_m / 2.0;
  if (length == 0.0)
    return {{from.x - half, from.y - half},
            {from.x + half, from.y - half},
            {from.x + half, from.y + half},
            {from.x - half, from.y + half}};
  const Point side = {(to.y - from.y) / length * half, -(to.x - from.x) / length * half};
  return {{from.x + side.x, from.y + side.y},
          {to.x + side.x, to.y + side.y},
          {to.x - side.x, to.y - side.y},
          {from.x - side.x, from.y - side.y}};
}

}  // namespace zoneproof::sight
