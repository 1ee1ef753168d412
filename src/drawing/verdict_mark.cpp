#include "drawing/verdict_mark.hpp"

#include <cmath>
#include <numbers>
#include <stdexcept>

#include "drawing/shapes.hpp"

namespace zoneproof::drawing {

namespace {

// A link is drawn by the middle of its wire. Lengths in wire widths of a link of ordinary strength.
constexpr double kRadius = 2.1;    ///< of its ends
constexpr double kStraight = 4.2;  ///< between its ends
constexpr double kApart = 1.15;    ///< of the middles of two ends that are closed into each other, in radii
constexpr double kBreak = 1.7;     ///< clear between links that came apart
constexpr double kClear = 0.55;    ///< on either side of a wire that lies above another
constexpr double kHair = 0.28;     ///< the wire of a link that is thin
constexpr double kHeight = 2 * kRadius + 1;

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

struct Links {
  Subpath first, second;
  double width = 0.0;
};

Links closed_links(Point at, double wire, bool solid) {
  const double radius = kRadius * wire, straight = kStraight * wire, apart = kApart * radius;
  const Point a{at.x + wire / 2 + radius, at.y}, b{a.x + straight, at.y};
  const Point c{b.x + apart, at.y}, d{c.x + straight, at.y};
  // The ends about b and c cross above and below, seen from b at this angle from the level.
  const double crossing = std::acos(apart / 2 / radius) * 180.0 / std::numbers::pi;
  const double half = std::asin((0.5 + kClear) * wire / 2 / radius) * 2 * 180.0 / std::numbers::pi;
  Links links;
  links.width = d.x + radius + wire / 2 - at.x;
  // The first goes under the second below; the second goes under the first above, where it is solid.
  links.first = link(a, b, radius, crossing - half, crossing + half);
  links.second =
      solid ? link(c, d, radius, 180.0 + crossing - half, 180.0 + crossing + half) : link(c, d, radius, 0, 0);
  return links;
}

Links links_apart(Point at, double wire) {
  const double radius = kRadius * wire, straight = kStraight * wire;
  const Point a{at.x + wire / 2 + radius, at.y}, b{a.x + straight, at.y};
  const Point c{b.x + 2 * radius + wire + kBreak * wire, at.y}, d{c.x + straight, at.y};
  return {link(a, b, radius, 0, 0), link(c, d, radius, 0, 0), d.x + radius + wire / 2 - at.x};
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

VerdictMarkDrawn verdict_mark(const Ruler& ruler, std::string id, VerdictMark mark, std::string_view word, Point at,
                              double size_mm) {
  const Ink ink = ink_of(mark);
  const double wire = 0.8 * size_mm / kHeight;
  const Point middle{at.x, at.y - 0.36 * size_mm};  // half a capital above the baseline
  const bool whole = mark == VerdictMark::proven;
  const Links links = mark == VerdictMark::broken ? links_apart(middle, wire) : closed_links(middle, wire, whole);
  Stroke strong{ink, wire, {}, Cap::butt, Join::round}, second = strong;
  if (mark == VerdictMark::thin) second.width_mm = kHair * wire;
  if (mark == VerdictMark::unanswered) second = {ink, wire, {0.0, 1.9 * wire}, Cap::round, Join::round};

  VerdictMarkDrawn drawn;
  drawn.group.name = {id, std::string(word), {}};
  drawn.group.items.push_back({stroked({}, {links.first}, strong)});
  drawn.group.items.push_back({stroked({}, {links.second}, second)});
  TextLine text = text_line(ruler, id.empty() ? id : id + "-word", word, {Role::reading, true}, size_mm, ink,
                            {at.x + links.width + 0.5 * size_mm, at.y});
  const double half = kHeight * wire / 2;
  drawn.box = united({at.x, middle.y - half, at.x + links.width, middle.y + half}, text.box());
  drawn.group.items.push_back({std::move(text)});
  return drawn;
}

}  // namespace zoneproof::drawing
