#include "drawing/verdict_mark.hpp"

#include <cmath>
#include <numbers>
#include <stdexcept>

#include "drawing/shapes.hpp"

namespace zoneproof::drawing {

namespace {

constexpr double kDegrees = 180.0 / std::numbers::pi;

// A link is drawn by the middle of its wire. Lengths in wire widths of a link of ordinary strength.
constexpr double kRadius = 2.5;    ///< of its ends
constexpr double kStraight = 4.4;  ///< between its ends
constexpr double kApart = 1.35;    ///< of the middles of two ends that are closed into each other, in radii
constexpr double kBreak = 2.0;     ///< clear between links that came apart
constexpr double kClear = 0.3;     ///< on either side of a wire that lies above another
constexpr double kHair = 0.28;     ///< the wire of a link that is thin
constexpr double kDots = 2.0;      ///< from dot to dot of a dotted link
constexpr double kHeight = 2 * kRadius + 1;
constexpr double kOfEm = 0.84;  ///< a link's height in ems of its word

/// A link by the middles of its ends. From `gap_from` to `gap_to` (degrees about the right middle where they point
/// right, else about the left one) it is left out, because the other link's wire lies above it there; equal: it is
/// whole.
Subpath link(Point left, Point right, double radius, double gap_from, double gap_to) {
  Subpath path;
  if (gap_from == gap_to) {
    return slot({left.x - radius, left.y - radius, right.x + radius, right.y + radius});
  }
  // Begin behind the gap and go all the way round to before it.
  const bool at_right = gap_from < 90.0 && gap_to > -90.0 && std::abs((gap_from + gap_to) / 2) < 90.0;
  const Point first = at_right ? right : left, second = at_right ? left : right;
  const double end_of_first = at_right ? 90.0 : 270.0, begin_of_first = end_of_first - 180.0;
  path.start = at_angle(first, radius, gap_to);
  add_arc(path, first, radius, gap_to, end_of_first - gap_to);
  add_arc(path, second, radius, end_of_first, 180.0);
  add_arc(path, first, radius, begin_of_first, gap_from - begin_of_first);
  return path;
}

/// Two links, by the middles of the ends of their wires.
struct Links {
  Point a, b, c, d;
  double radius = 0.0, wire = 0.0;
  double width(Point at) const { return d.x + radius + wire / 2 - at.x; }
};

Links links_at(Point at, double wire, bool closed) {
  const double radius = kRadius * wire, straight = kStraight * wire;
  const Point a{at.x + wire / 2 + radius, at.y}, b{a.x + straight, at.y};
  const Point c{b.x + (closed ? kApart * radius : 2 * radius + (1 + kBreak) * wire), at.y};
  return {a, b, c, {c.x + straight, at.y}, radius, wire};
}

/// Half the angle, about the middle of an end, that a wire of this width takes where it crosses, with what is left
/// clear.
double half_gap_deg(const Links& links, double width) {
  return 2 * std::asin((width / 2 + kClear * links.wire) / 2 / links.radius) * kDegrees;
}

/// Closed into each other: the first goes under the second below, the second under the first above.
void add_closed(Group& group, const Links& links, Ink ink, double second_width) {
  const double crossing = std::acos(kApart / 2) * kDegrees;
  const double half = half_gap_deg(links, second_width), other = half_gap_deg(links, links.wire);
  const Subpath first = link(links.a, links.b, links.radius, crossing - half, crossing + half);
  const Subpath second = link(links.c, links.d, links.radius, 180 + crossing - other, 180 + crossing + other);
  group.items.push_back({stroked({}, {first}, {ink, links.wire, {}, Cap::butt, Join::round})});
  group.items.push_back({stroked({}, {second}, {ink, second_width, {}, Cap::butt, Join::round})});
}

/// A place of the outline of a slot, `along` its length from the right end, clockwise.
Point on_slot(Point left, Point right, double radius, double along) {
  const double straight = right.x - left.x, quarter = radius * std::numbers::pi / 2;
  const auto turned = [&](Point middle, double from_deg, double way) {
    return at_angle(middle, radius, from_deg + way / radius * kDegrees);
  };
  if (along < quarter) return turned(right, 0, along);
  along -= quarter;
  if (along < straight) return {right.x - along, right.y + radius};
  along -= straight;
  if (along < 2 * quarter) return turned(left, 90, along);
  along -= 2 * quarter;
  if (along < straight) return {left.x + along, left.y - radius};
  return turned(right, 270, along - straight);
}

/// The second link as dots; where the first lies there are none.
void add_dotted(Group& group, const Links& links, Ink ink) {
  group.items.push_back({stroked({}, {link(links.a, links.b, links.radius, 0, 0)}, {ink, links.wire})});
  const double around = 2 * (links.d.x - links.c.x) + 2 * std::numbers::pi * links.radius;
  const int count = static_cast<int>(std::lround(around / (kDots * links.wire)));
  std::vector<Subpath> dots;
  for (int i = 0; i < count; ++i) {
    const Point dot = on_slot(links.c, links.d, links.radius, around * i / count);
    const Box spine{links.a.x, links.a.y, links.b.x, links.b.y};
    if (std::abs(length(nearest(spine, dot) - dot) - links.radius) < 1.2 * links.wire) continue;
    dots.push_back(circle(dot, links.wire / 2));
  }
  group.items.push_back({filled({}, std::move(dots), ink)});
}

void add_apart(Group& group, const Links& links, Ink ink) {
  const Subpath first = link(links.a, links.b, links.radius, 0, 0), second = link(links.c, links.d, links.radius, 0, 0);
  group.items.push_back({stroked({}, {first, second}, {ink, links.wire})});
}

}  // namespace

Ink ink_of(VerdictMark mark) {
  switch (mark) {
    case VerdictMark::proven: return Ink::proven;
    case VerdictMark::thin: return Ink::thin;
    case VerdictMark::broken: return Ink::broken;
    case VerdictMark::unanswered: return Ink::unanswered;
  }
  throw std::logic_error("a verdict without ink");
}

VerdictMarkDrawn verdict_mark(const Ruler& ruler, const std::string& id, VerdictMark mark, std::string_view word,
                              Point at, double size_mm) {
  const Ink ink = ink_of(mark);
  const double wire = kOfEm * size_mm / kHeight;
  const Point middle{at.x, at.y - 0.36 * size_mm};  // half a capital above the baseline
  const Links links = links_at(middle, wire, mark != VerdictMark::broken);
  VerdictMarkDrawn drawn;
  drawn.group.name = {id, std::string(word), {}};
  switch (mark) {
    case VerdictMark::proven: add_closed(drawn.group, links, ink, wire); break;
    case VerdictMark::thin: add_closed(drawn.group, links, ink, kHair * wire); break;
    case VerdictMark::broken: add_apart(drawn.group, links, ink); break;
    case VerdictMark::unanswered: add_dotted(drawn.group, links, ink); break;
  }
  TextLine text = text_line(ruler, id.empty() ? id : id + "-word", word, {Role::reading, true}, size_mm, ink,
                            {at.x + links.width(at) + 0.5 * size_mm, at.y});
  const double half = kHeight * wire / 2;
  drawn.box = united({at.x, middle.y - half, at.x + links.width(at), middle.y + half}, text.box());
  drawn.group.items.push_back({std::move(text)});
  return drawn;
}

}  // namespace zoneproof::drawing
