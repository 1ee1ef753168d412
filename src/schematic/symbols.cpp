#include "schematic/symbols.hpp"

#include <algorithm>
#include <cmath>

#include "drawing/shapes.hpp"
#include "drawing/type.hpp"

namespace zoneproof::schematic {

using drawing::Cap;
using drawing::Group;
using drawing::Ink;
using drawing::Line;
using drawing::Point;
using drawing::Shape;
using drawing::Stroke;
using drawing::Subpath;

namespace {

constexpr double kBody_mm = 5.0, kHalfBody_mm = 1.0;  // resistor and fuse
constexpr double kBlade_mm = 4.2, kLift_mm = 1.7;     // contacts
constexpr double kDot_mm = 0.55;
const Stroke kLine{Ink::line, drawing::kThin_mm, {}, Cap::round, drawing::Join::round};

/// Places along and across a line from one point to another: (0, 0) is the first, y to the left of the way.
class Along {
 public:
  Along(Point from, Point to) : from_(from) {
    const Point way = to - from;
    length_ = drawing::length(way);
    way_ = way * (1.0 / length_);
  }
  double length() const { return length_; }
  Point at(double along, double across = 0.0) const {
    return {from_.x + along * way_.x + across * way_.y, from_.y + along * way_.y - across * way_.x};
  }

 private:
  Point from_, way_;
  double length_ = 0.0;
};

Subpath line(Point a, Point b) { return drawing::line_through({a, b}); }

std::vector<Subpath> box_in(const Along& way) {
  const double begin = (way.length() - kBody_mm) / 2, end = begin + kBody_mm;
  return {line(way.at(0), way.at(begin)), line(way.at(end), way.at(way.length())),
          drawing::ring(drawing::Points{way.at(begin, kHalfBody_mm), way.at(end, kHalfBody_mm),
                                        way.at(end, -kHalfBody_mm), way.at(begin, -kHalfBody_mm)})};
}

/// Fixed side first, then the blade that turns about the end of the other lead.
std::vector<Subpath> contact_in(const Along& way, bool closed) {
  const double begin = (way.length() - kBlade_mm) / 2, end = begin + kBlade_mm;
  std::vector<Subpath> path = {line(way.at(0), way.at(begin)), line(way.at(end), way.at(way.length()))};
  constexpr double past = 0.5;  // the blade of a break contact reaches over the fixed side's hook
  if (closed) {
    path.push_back(line(way.at(begin), way.at(begin, kLift_mm)));
    path.push_back(line(way.at(end), way.at(begin - past, kLift_mm)));
  } else {
    path.push_back(line(way.at(end), way.at(begin + past, kLift_mm)));
  }
  return path;
}

std::vector<Subpath> gap_in(const Along& way) {
  const double begin = (way.length() - kBlade_mm) / 2, end = begin + kBlade_mm;
  constexpr double radius = 0.45;
  return {line(way.at(0), way.at(begin)), line(way.at(end), way.at(way.length())),
          drawing::circle(way.at(begin + radius), radius), drawing::circle(way.at(end - radius), radius)};
}

bool is_box(Symbol symbol) {
  return symbol == Symbol::resistor || symbol == Symbol::fuse || symbol == Symbol::fuse_not_known;
}

}  // namespace

Shape wire(std::string id, const std::vector<Line>& lines) {
  std::vector<Subpath> path;
  for (const Line& piece : lines) path.push_back(line(piece.from, piece.to));
  return drawing::stroked(std::move(id), std::move(path), kLine);
}

Shape junction(Point at) { return drawing::filled({}, {drawing::circle(at, kDot_mm)}, Ink::line); }

Shape terminal(std::string id, Point centre) {
  Shape shape = drawing::stroked(std::move(id), {drawing::circle(centre, kTerminal_mm)}, kLine);
  shape.fill = Ink::paper;
  return shape;
}

double above(Symbol symbol) { return is_box(symbol) ? kHalfBody_mm : kLift_mm; }

double below(Symbol symbol) { return is_box(symbol) ? kHalfBody_mm : 0.0; }

Group symbol(std::string id, Symbol kind, Point from, Point to) {
  const Along way(from, to);
  std::vector<Subpath> path;
  switch (kind) {
    case Symbol::resistor: path = box_in(way); break;
    case Symbol::fuse:
      path = box_in(way);
      path.push_back(line(way.at(0), way.at(way.length())));
      break;
    case Symbol::fuse_not_known:
      path = box_in(way);
      path.back() = line(way.at(0), way.at(way.length()));  // the box comes on its own, broken
      break;
    case Symbol::make_contact: path = contact_in(way, false); break;
    case Symbol::break_contact: path = contact_in(way, true); break;
    case Symbol::contact: path = gap_in(way); break;
  }
  Group group;
  group.name.id = std::move(id);
  group.items.push_back({drawing::stroked({}, std::move(path), kLine)});
  if (kind == Symbol::fuse_not_known) {
    Stroke broken = kLine;
    broken.dashes_mm = {0.8, 0.6};
    broken.cap = Cap::butt;
    group.items.push_back({drawing::stroked({}, {box_in(way).back()}, broken)});
  }
  return group;
}

Group battery(std::string id, Point plus, Point minus) {
  constexpr double long_half = 2.2, short_half = 1.1, between = 1.2;
  const double middle = (plus.y + minus.y) / 2, x = plus.x;
  const double upper = middle - between / 2, lower = middle + between / 2;
  Group group;
  group.name.id = std::move(id);
  group.items.push_back({drawing::stroked(
      {}, {line(plus, {x, upper}), line({x - long_half, upper}, {x + long_half, upper}), line({x, lower}, minus)},
      kLine)});
  Stroke thick = kLine;
  thick.width_mm = drawing::kThick_mm;
  group.items.push_back({drawing::stroked({}, {line({x - short_half, lower}, {x + short_half, lower})}, thick)});
  return group;
}

Group transistor(Point out, Point other, bool switches_negative) {
  const double middle = (out.y + other.y) / 2, x = out.x, bar = x - 1.6;
  const double sign = out.y < other.y ? 1.0 : -1.0;  // the emitter's side is that of `other`
  const Point collector{bar, middle - sign * 0.7}, emitter{bar, middle + sign * 0.7};
  const Point up{x, middle - sign * 2.0}, down{x, middle + sign * 2.0};
  Group group;
  group.items.push_back(
      {drawing::stroked({},
                        {line(out, up), line(up, collector), line(emitter, down), line(down, other),
                         line({bar, middle - 1.6}, {bar, middle + 1.6}), line({bar - 1.6, middle}, {bar, middle})},
                        kLine)});
  const Along way(switches_negative ? emitter : down, switches_negative ? down : emitter);
  const double tip = way.length() * 0.85;
  group.items.push_back({drawing::filled(
      {}, {drawing::ring(drawing::Points{way.at(tip), way.at(tip - 1.1, 0.5), way.at(tip - 1.1, -0.5)})}, Ink::line)});
  return group;
}

Group earth(std::string id, Point at) {
  constexpr double down = 1.6, step = 0.8;
  Group group;
  group.name.id = std::move(id);
  std::vector<Subpath> path = {line(at, {at.x, at.y + down})};
  double half = 2.0;
  for (int i = 0; i < 3; ++i, half -= 0.6)
    path.push_back(line({at.x - half, at.y + down + i * step}, {at.x + half, at.y + down + i * step}));
  group.items.push_back({drawing::stroked({}, std::move(path), kLine)});
  return group;
}

namespace {
constexpr double kTagPoint_mm = 1.5, kInTag_mm = 1.0;
}

double tag_width(const drawing::Ruler& ruler, const std::string& says) {
  return ruler.measure(says, {drawing::Role::label, false}, drawing::kCaption_mm).width + kTagPoint_mm + 2 * kInTag_mm;
}

Group tag(const drawing::Ruler& ruler, const drawing::Name& name, const std::string& says, Point at, Side side) {
  const double width = tag_width(ruler, says), sign = side == Side::right ? 1.0 : -1.0, half = kTag_mm / 2;
  const double end = at.x + sign * width, shoulder = end - sign * kTagPoint_mm;
  Group group;
  group.name = name;
  group.items.push_back({drawing::stroked(
      {},
      {drawing::ring(drawing::Points{
          {at.x, at.y - half}, {shoulder, at.y - half}, {end, at.y}, {shoulder, at.y + half}, {at.x, at.y + half}})},
      {Ink::line, drawing::kFine_mm, {}, Cap::butt, drawing::Join::miter})});
  drawing::TextLine text = drawing::text_line(ruler, {}, says, {drawing::Role::label, false}, drawing::kCaption_mm,
                                              Ink::text, {at.x + sign * kInTag_mm, 0.0},
                                              side == Side::right ? drawing::Align::left : drawing::Align::right);
  text.at.y = at.y - (text.extent.box.top + text.extent.box.bottom) / 2;
  group.items.push_back({std::move(text)});
  return group;
}

}  // namespace zoneproof::schematic
