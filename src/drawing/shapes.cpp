#include "drawing/shapes.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

#include "base/utf8.hpp"

namespace zoneproof::drawing {

namespace {

constexpr double kRightAngle = 90.0, kHalfTurn = 180.0, kFullTurn = 360.0;

void include(Box& box, Point point) { box = united(box, {point.x, point.y, point.x, point.y}); }

/// An arc reaches furthest at its ends and where it runs along an axis.
void include_arc(Box& box, const Piece& piece) {
  const double low = std::min(piece.from_deg, piece.from_deg + piece.sweep_deg);
  const double high = std::max(piece.from_deg, piece.from_deg + piece.sweep_deg);
  const auto first = static_cast<long long>(std::ceil(low / kRightAngle));
  const auto last = static_cast<long long>(std::floor(high / kRightAngle));
  for (long long axis = first; axis <= last; ++axis) {
    include(box, at_angle(piece.centre, piece.radius, static_cast<double>(axis) * kRightAngle));
  }
}

/// The chord of an arc of angle a leaves it by radius (1 - cos(a / 2)).
std::size_t chords(const Piece& piece, double tolerance_mm) {
  const double share = std::clamp(1.0 - tolerance_mm / piece.radius, -1.0, 1.0);
  const double step = std::max(2.0 * std::acos(share), 1e-3);
  const double sweep = std::abs(piece.sweep_deg) * std::numbers::pi / kHalfTurn;
  return static_cast<std::size_t>(std::max(1.0, std::ceil(sweep / step)));
}

}  // namespace

Subpath line_through(const Points& points) {
  if (points.empty()) throw std::logic_error("a line needs a point");
  Subpath path{points.front(), {}, false};
  for (std::size_t i = 1; i < points.size(); ++i) path.pieces.push_back({points[i]});
  return path;
}

Subpath ring(const Points& points) {
  Subpath path = line_through(points);
  path.closed = true;
  return path;
}

Subpath ring(const Box& box) {
  return ring(Points{{box.left, box.top}, {box.right, box.top}, {box.right, box.bottom}, {box.left, box.bottom}});
}

Subpath circle(Point centre, double radius) {
  Subpath path = arc(centre, radius, 0.0, kFullTurn);
  path.pieces.back().to = path.start;
  path.closed = true;
  return path;
}

Subpath arc(Point centre, double radius, double from_deg, double sweep_deg) {
  Subpath path{at_angle(centre, radius, from_deg), {}, false};
  path.pieces.push_back({at_angle(centre, radius, from_deg + sweep_deg), radius, centre, from_deg, sweep_deg});
  return path;
}

Subpath slot(const Box& box) {
  const double radius = box.height() / 2, middle = box.top + radius;
  if (box.width() < box.height()) throw std::logic_error("a slot is wider than high");
  Subpath path{{box.left + radius, box.top}, {}, false};
  add_arc(path, {box.right - radius, middle}, radius, -kRightAngle, kHalfTurn);
  add_arc(path, {box.left + radius, middle}, radius, kRightAngle, kHalfTurn);
  path.closed = true;
  return path;
}

void add_arc(Subpath& path, Point centre, double radius, double from_deg, double sweep_deg) {
  const Point begin = at_angle(centre, radius, from_deg);
  const Point end = path.pieces.empty() ? path.start : path.pieces.back().to;
  if (length(begin - end) > 1e-9) path.pieces.push_back({begin});
  path.pieces.push_back({at_angle(centre, radius, from_deg + sweep_deg), radius, centre, from_deg, sweep_deg});
}

Shape stroked(std::string id, std::vector<Subpath> path, Stroke stroke) {
  return {{std::move(id), {}, {}}, std::move(path), std::nullopt, std::move(stroke)};
}

Shape filled(std::string id, std::vector<Subpath> path, Ink ink) {
  return {{std::move(id), {}, {}}, std::move(path), ink, std::nullopt};
}

TextLine text_line(const Ruler& ruler, std::string id, std::string_view content, Face face, double size_mm, Ink ink,
                   Point at, Align align) {
  TextLine line{{std::move(id), {}, {}}, printable(content, content.size()), face, size_mm, ink, at, align, {}};
  line.extent = ruler.measure(line.content, face, size_mm);
  return line;
}

Shape backing(const TextLine& text) {
  constexpr double around = 0.12;  // of an em
  return filled({}, {ring(grown(text.box(), around * text.size_mm))}, Ink::paper);
}

Box bounds(const std::vector<Subpath>& path) {
  constexpr double far = std::numeric_limits<double>::infinity();
  Box box{far, far, -far, -far};
  for (const Subpath& subpath : path) {
    include(box, subpath.start);
    for (const Piece& piece : subpath.pieces) {
      include(box, piece.to);
      if (piece.radius > 0) include_arc(box, piece);
    }
  }
  return box;
}

Points flattened(const Subpath& path, double tolerance_mm) {
  Points points{path.start};
  for (const Piece& piece : path.pieces) {
    if (piece.radius > 0) {
      const std::size_t count = chords(piece, tolerance_mm);
      for (std::size_t i = 1; i < count; ++i) {
        const double share = static_cast<double>(i) / static_cast<double>(count);
        points.push_back(at_angle(piece.centre, piece.radius, piece.from_deg + share * piece.sweep_deg));
      }
    }
    points.push_back(piece.to);
  }
  return points;
}

}  // namespace zoneproof::drawing
