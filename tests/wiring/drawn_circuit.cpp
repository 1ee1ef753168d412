#include "wiring/drawn_circuit.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

#include "drawing/faults.hpp"
#include "drawing/shapes.hpp"

namespace zoneproof::wiring {

using drawing::Box;
using drawing::Group;
using drawing::Line;
using drawing::Point;
using drawing::Shape;

namespace {

constexpr double kHair = 1e-4, kTerminalRadius = 0.9;

bool same(Point a, Point b) { return std::abs(a.x - b.x) < kHair && std::abs(a.y - b.y) < kHair; }
bool level(const Line& line) { return std::abs(line.from.y - line.to.y) < kHair; }

Line ordered(Point a, Point b) {
  if (a.x > b.x + kHair || a.y > b.y + kHair) std::swap(a, b);
  return {a, b};
}

bool on(Point point, const Line& line) {
  return point.x > line.from.x - kHair && point.x < line.to.x + kHair && point.y > line.from.y - kHair &&
         point.y < line.to.y + kHair;
}
bool at_end(Point point, const Line& line) { return same(point, line.from) || same(point, line.to); }

const Shape* shape_in(const Group& group, std::size_t number) {
  for (const drawing::Item& item : group.items)
    if (const auto* shape = std::get_if<Shape>(&item.what))
      if (number-- == 0) return shape;
  return nullptr;
}

std::string text_in(const Group& group) {
  std::string says;
  drawing::each(
      group, [](const Shape&) {}, [&](const drawing::TextLine& text) { says += text.content; });
  return says;
}

Point end_of(const drawing::Subpath& path) { return path.pieces.empty() ? path.start : path.pieces.back().to; }

class Reader {
 public:
  DrawnSheet sheet;

  void group(const Group& group) {
    const std::string& id = group.name.id;
    if (id.starts_with("terminal-")) {
      terminal(group);
    } else if (id.starts_with("tag-") || id.starts_with("pole-")) {
      tag(group);
    } else if (two_ended(group)) {
      const Shape& shape = *shape_in(group, 0);
      sheet.pins.push_back({id, shape.path[0].start, false, {}});
      const std::size_t last = id.starts_with("cell-") ? 2 : 1;
      sheet.pins.push_back({id, end_of(shape.path[last]), false, {}});
      return;
    }
    for (const drawing::Item& item : group.items) {
      if (const auto* inner = std::get_if<Group>(&item.what)) this->group(*inner);
      if (const auto* shape = std::get_if<Shape>(&item.what)) this->shape(*shape);
    }
  }

 private:
  /// A symbol's group holds nothing but lines; a device of the same name holds groups.
  static bool two_ended(const Group& group) {
    for (const char* kind : {"resistor-", "contact-", "fuse-", "cell-"})
      if (group.name.id.starts_with(kind))
        return !group.items.empty() && std::holds_alternative<Shape>(group.items.front().what) &&
               shape_in(group, 0)->path.size() >= 2 && shape_in(group, 0)->name.id.empty();
    return false;
  }

  void terminal(const Group& group) {
    for (const drawing::Item& item : group.items) {
      const auto* shape = std::get_if<Shape>(&item.what);
      if (shape == nullptr || !shape->fill) continue;
      const Box box = drawing::bounds(shape->path);
      if (std::abs(box.width() - 2 * kTerminalRadius) < kHair)
        sheet.pins.push_back({group.name.id.substr(9), box.centre(), false, {}});
    }
  }

  void tag(const Group& group) {
    const drawing::Subpath& path = shape_in(group, 0)->path[0];
    const Point other = path.closed ? path.pieces.back().to : end_of(path);
    sheet.pins.push_back(
        {group.name.id, {(path.start.x + other.x) / 2, (path.start.y + other.y) / 2}, true, text_in(group)});
  }

  void shape(const Shape& shape) {
    if (shape.name.id.starts_with("wire-")) {
      for (const drawing::Subpath& path : shape.path)
        sheet.wires.push_back({shape.name.id, ordered(path.start, end_of(path))});
    } else if (shape.fill == drawing::Ink::line && !shape.stroke && shape.path.size() == 1 &&
               shape.path[0].pieces.size() == 1) {
      sheet.dots.push_back(drawing::bounds(shape.path).centre());  // a filled circle
    }
  }
};

class Sets {
 public:
  explicit Sets(std::size_t count) : parent_(count) { std::iota(parent_.begin(), parent_.end(), std::size_t{0}); }
  std::size_t find(std::size_t i) { return parent_[i] == i ? i : parent_[i] = find(parent_[i]); }
  void join(std::size_t a, std::size_t b) { parent_[find(a)] = find(b); }

 private:
  std::vector<std::size_t> parent_;
};

/// Ways that lead on from a place along wires.
int ways(Point at, const std::vector<DrawnWire>& wires) {
  bool left = false, right = false, up = false, down = false;
  for (const DrawnWire& wire : wires) {
    if (!on(at, wire.line)) continue;
    if (level(wire.line)) {
      left = left || wire.line.from.x < at.x - kHair;
      right = right || wire.line.to.x > at.x + kHair;
    } else {
      up = up || wire.line.from.y < at.y - kHair;
      down = down || wire.line.to.y > at.y + kHair;
    }
  }
  return int{left} + int{right} + int{up} + int{down};
}

bool any_dot(Point at, const DrawnSheet& sheet) {
  return std::any_of(sheet.dots.begin(), sheet.dots.end(), [&](Point dot) { return same(dot, at); });
}
bool any_pin(Point at, const DrawnSheet& sheet) {
  return std::any_of(sheet.pins.begin(), sheet.pins.end(), [&](const DrawnPin& pin) { return same(pin.at, at); });
}

bool overlap_along(const Line& a, const Line& b) {
  if (level(a) != level(b)) return false;
  if (level(a)) return std::abs(a.from.y - b.from.y) < kHair && a.from.x < b.to.x - kHair && b.from.x < a.to.x - kHair;
  return std::abs(a.from.x - b.from.x) < kHair && a.from.y < b.to.y - kHair && b.from.y < a.to.y - kHair;
}

/// Where a level and an upright line have a place in common.
bool meet(const Line& a, const Line& b, Point& at) {
  if (level(a) == level(b)) {
    for (const Point end : {a.from, a.to})
      if (at_end(end, b)) {
        at = end;
        return true;
      }
    return false;
  }
  const Line& across = level(a) ? a : b;
  const Line& down = level(a) ? b : a;
  at = {down.from.x, across.from.y};
  return on(at, across) && on(at, down);
}

std::vector<std::size_t> sets_of(const DrawnSheet& sheet, std::vector<std::string>& faults) {
  Sets sets(sheet.wires.size());
  for (std::size_t i = 0; i < sheet.wires.size(); ++i)
    for (std::size_t j = i + 1; j < sheet.wires.size(); ++j) {
      const DrawnWire &a = sheet.wires[i], &b = sheet.wires[j];
      if (overlap_along(a.line, b.line)) faults.push_back(a.id + " lies on " + b.id);
      Point at;
      if (!meet(a.line, b.line, at)) continue;
      const bool corner = at_end(at, a.line) && at_end(at, b.line);
      if (any_dot(at, sheet) || (corner && ways(at, sheet.wires) == 2))
        sets.join(i, j);
      else if (at_end(at, a.line) || at_end(at, b.line))
        faults.push_back(a.id + " meets " + b.id + " without a dot");
    }
  std::vector<std::size_t> found;
  for (std::size_t i = 0; i < sheet.wires.size(); ++i) found.push_back(sets.find(i));
  return found;
}

}  // namespace

DrawnSheet read(const drawing::Sheet& sheet) {
  Reader reader;
  reader.group(sheet.content);
  return std::move(reader.sheet);
}

DrawnNets nets_of(const DrawnSheet& sheet) {
  DrawnNets drawn;
  const std::vector<std::size_t> sets = sets_of(sheet, drawn.faults);
  std::map<std::size_t, std::vector<DrawnPin>> nets;
  std::vector<std::vector<DrawnPin>> touching;  // without a wire: a pole's bar at the end of a resistor
  for (const DrawnPin& pin : sheet.pins) {
    std::set<std::size_t> own;
    for (std::size_t i = 0; i < sheet.wires.size(); ++i)
      if (at_end(pin.at, sheet.wires[i].line)) own.insert(sets[i]);
    if (own.size() > 1) drawn.faults.push_back(pin.name + ": two conductors end at one place");
    if (!own.empty()) {
      nets[*own.begin()].push_back(pin);
      continue;
    }
    const auto there = std::find_if(touching.begin(), touching.end(), [&](const std::vector<DrawnPin>& others) {
      return same(others.front().at, pin.at);
    });
    if (there == touching.end())
      touching.push_back({pin});
    else
      there->push_back(pin);
  }
  for (const Point dot : sheet.dots)
    if (ways(dot, sheet.wires) < 3)
      drawn.faults.push_back(fmt::format("a dot at {:.2f}, {:.2f} joins nothing", dot.x, dot.y));
  for (const DrawnWire& wire : sheet.wires)
    for (const Point end : {wire.line.from, wire.line.to})
      if (ways(end, sheet.wires) == 1 && !any_pin(end, sheet))
        drawn.faults.push_back(fmt::format("{} ends nowhere at {:.2f}, {:.2f}", wire.id, end.x, end.y));
  for (auto& [set, pins] : nets) drawn.nets.push_back(std::move(pins));
  for (std::vector<DrawnPin>& pins : touching) drawn.nets.push_back(std::move(pins));
  return drawn;
}

namespace {

struct Inked {
  std::vector<std::pair<std::string, Line>> strokes;
  std::vector<std::pair<std::string, Box>> boxes, symbols;
  std::vector<const drawing::TextLine*> texts;
  std::vector<std::string> outside;
};

void look(const Group& group, const Box& frame, Inked& inked) {
  for (const drawing::Item& item : group.items) {
    if (const auto* inner = std::get_if<Group>(&item.what)) look(*inner, frame, inked);
    if (const auto* text = std::get_if<drawing::TextLine>(&item.what)) inked.texts.push_back(text);
    const auto* shape = std::get_if<Shape>(&item.what);
    if (shape == nullptr || shape->path.empty()) continue;
    const Box box = drawing::bounds(shape->path);
    if (shape->stroke)
      for (const drawing::Subpath& path : shape->path) {
        drawing::Points points = drawing::flattened(path, 0.05);
        if (path.closed) points.push_back(path.start);
        for (std::size_t i = 0; i + 1 < points.size(); ++i)
          inked.strokes.push_back(
              {shape->name.id.empty() ? group.name.id : shape->name.id, {points[i], points[i + 1]}});
      }
    if (!inside(box, grown(frame, kHair)))
      inked.outside.push_back(shape->name.id.empty() ? group.name.id : shape->name.id);
    if (shape->name.id.ends_with("-outline")) inked.boxes.push_back({shape->name.id, box});
    for (const char* kind : {"resistor-", "contact-", "fuse-", "cell-"})
      if (group.name.id.starts_with(kind) && shape->name.id.empty() && shape->path.size() >= 2)
        inked.symbols.push_back({group.name.id, box});
  }
}

bool enters(const Line& line, const Box& box, double by) {
  const Box inner = grown(box, -by);
  return inner.left < inner.right && inner.top < inner.bottom && line.from.x < inner.right && line.to.x > inner.left &&
         line.from.y < inner.bottom && line.to.y > inner.top;
}

/// Symbols are as flat as their line; they are looked at a little thicker.
bool runs_over(const Line& line, Box symbol) {
  if (symbol.height() < 1.0) symbol = {symbol.left, symbol.top - 0.5, symbol.right, symbol.bottom + 0.5};
  if (symbol.width() < 1.0) symbol = {symbol.left - 0.5, symbol.top, symbol.right + 0.5, symbol.bottom};
  return enters(line, symbol, 0.3);
}

}  // namespace

std::vector<std::string> hard_to_read(const drawing::Sheet& sheet, double apart_mm) {
  std::vector<std::string> faults = drawing::layout_faults(sheet);
  Inked inked;
  look(sheet.content, sheet.frame(), inked);
  for (const std::string& id : inked.outside) faults.push_back(id + " leaves the frame");
  for (const auto& [id, line] : inked.strokes)
    for (const drawing::TextLine* text : inked.texts)
      if (drawing::cross(line, grown(text->box(), -0.02))) faults.push_back(id + " crosses \"" + text->content + "\"");
  const DrawnSheet drawn = read(sheet);
  for (const DrawnWire& wire : drawn.wires) {
    for (const auto& [id, box] : inked.boxes)
      if (!wire.id.ends_with("-inside") && enters(wire.line, box, 0.1))
        faults.push_back(wire.id + " runs through " + id);
    for (const auto& [id, box] : inked.symbols)
      if (runs_over(wire.line, box)) faults.push_back(wire.id + " runs over " + id);
  }
  std::vector<std::string> unused;
  const std::vector<std::size_t> sets = sets_of(drawn, unused);
  for (std::size_t i = 0; i < drawn.wires.size(); ++i)
    for (std::size_t j = i + 1; j < drawn.wires.size(); ++j) {
      const Line &a = drawn.wires[i].line, &b = drawn.wires[j].line;
      if (sets[i] == sets[j] || level(a) != level(b)) continue;
      const bool beside = level(a) ? a.from.x < b.to.x - kHair && b.from.x < a.to.x - kHair
                                   : a.from.y < b.to.y - kHair && b.from.y < a.to.y - kHair;
      const double between = level(a) ? std::abs(a.from.y - b.from.y) : std::abs(a.from.x - b.from.x);
      if (beside && between < apart_mm - kHair)
        faults.push_back(fmt::format("{} and {} are {:.2f} mm apart", drawn.wires[i].id, drawn.wires[j].id, between));
    }
  return faults;
}

std::size_t crossings_on(const drawing::Sheet& sheet) {
  const DrawnSheet drawn = read(sheet);
  std::vector<std::string> unused;
  const std::vector<std::size_t> sets = sets_of(drawn, unused);
  std::size_t count = 0;
  for (std::size_t i = 0; i < drawn.wires.size(); ++i)
    for (std::size_t j = i + 1; j < drawn.wires.size(); ++j) {
      Point at;
      const bool crossed = level(drawn.wires[i].line) != level(drawn.wires[j].line) &&
                           meet(drawn.wires[i].line, drawn.wires[j].line, at) && sets[i] != sets[j];
      count += crossed ? 1 : 0;
    }
  return count;
}

}  // namespace zoneproof::wiring
