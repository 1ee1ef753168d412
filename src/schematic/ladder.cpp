#include "schematic/ladder.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "drawing/shapes.hpp"
#include "drawing/type.hpp"

namespace zoneproof::schematic {

using drawing::Box;
using drawing::Ink;
using drawing::Line;
using drawing::Point;

namespace {

constexpr drawing::Face kFace{drawing::Role::label, false};
constexpr double kBeside_mm = 0.7;        ///< between a symbol or a wire and a text
constexpr double kBetweenTexts_mm = 1.6;  ///< between two texts
constexpr double kLeast_mm = 4 * kGrid_mm;

struct Size {
  double width = 0.0, above = 0.0, below = 0.0;
};

class Drafter {
 public:
  Drafter(const drawing::Ruler& ruler, const std::string& id) : ruler_(ruler), id_(id) {}

  Size size(const Branch& branch) const {
    switch (branch.kind) {
      case Branch::Kind::element: return size_of_element(branch);
      case Branch::Kind::series: return size_of_series(branch.parts);
      default: return size_of_parallel(branch);
    }
  }

  Size size_of_series(const std::vector<Branch>& parts) const {
    Size all;
    for (const Branch& part : parts) {
      const Size one = size(part);
      all = {all.width + one.width, std::max(all.above, one.above), std::max(all.below, one.below)};
    }
    return all;
  }

  int node() {
    nodes_.emplace_back();
    return static_cast<int>(nodes_.size()) - 1;
  }
  void join(int node, Point a, Point b) {
    if (drawing::length(a - b) > 1e-9) nodes_[static_cast<std::size_t>(node)].push_back({a, b});
  }
  void dot(Point at) { dots_.push_back(at); }

  /// Draws a branch from `left` on, its two ends being nodes.
  void draw(const Branch& branch, Point left, double width, int from, int to) {
    switch (branch.kind) {
      case Branch::Kind::element: draw_element(branch, left, width, from, to); break;
      case Branch::Kind::series: draw_series(branch.parts, left, width, from, to); break;
      case Branch::Kind::parallel: draw_parallel(branch, left, width, from, to); break;
    }
  }

  /// Parts side by side from `left`; what is left of `width` is wire at the right.
  void draw_series(const std::vector<Branch>& parts, Point left, double width, int from, int to) {
    double x = left.x;
    int at = from;
    for (std::size_t i = 0; i < parts.size(); ++i) {
      const int next = i + 1 == parts.size() ? to : node();
      const double own = size(parts[i]).width;
      draw(parts[i], {x, left.y}, own, at, next);
      x += own;
      at = next;
    }
    join(at, {x, left.y}, {left.x + width, left.y});
  }

  drawing::Group finished() {
    drawing::Group group;
    for (std::size_t i = 0; i < nodes_.size(); ++i)
      if (!nodes_[i].empty()) group.items.push_back({wire(fmt::format("wire-{}-{}", id_, i + 1), nodes_[i])});
    for (const Point at : dots_) group.items.push_back({junction(at)});
    for (drawing::Item& item : items_) group.items.push_back(std::move(item));
    return group;
  }

 private:
  drawing::Extent measured(const std::string& text) const { return ruler_.measure(text, kFace, drawing::kCaption_mm); }

  Size size_of_element(const Branch& branch) const {
    Size own{kLeast_mm, above(branch.symbol), below(branch.symbol)};
    for (const std::string* text : {&branch.above, &branch.below})
      if (!text->empty()) own.width = std::max(own.width, on_grid(measured(*text).width + kBetweenTexts_mm));
    if (!branch.above.empty()) own.above += kBeside_mm + measured(branch.above).box.height();
    if (!branch.below.empty()) own.below += kBeside_mm + measured(branch.below).box.height();
    return own;
  }

  Size size_of_parallel(const Branch& branch) const {
    Size all;
    for (std::size_t i = 0; i < branch.parts.size(); ++i) {
      const Size own = size(branch.parts[i]);
      all.width = std::max(all.width, own.width);
      if (i == 0) all.below = own.below;
      all.above = rise(branch, i) + own.above;
    }
    all.width += 2 * kGrid_mm;
    return all;
  }

  /// How far above the line part `number` of a parallel lies.
  double rise(const Branch& branch, std::size_t number) const {
    double up = 0.0;
    for (std::size_t i = 1; i <= number; ++i)
      up = on_grid(up + size(branch.parts[i - 1]).above + kBeside_mm + size(branch.parts[i]).below);
    return up;
  }

  void draw_element(const Branch& branch, Point left, double width, int from, int to) {
    const double begin = left.x + (width - kSymbol_mm) / 2, end = begin + kSymbol_mm, middle = left.x + width / 2;
    join(from, left, {begin, left.y});
    join(to, {end, left.y}, {left.x + width, left.y});
    drawing::Group made = symbol(branch.id, branch.symbol, {begin, left.y}, {end, left.y});
    made.name.title = branch.title;
    items_.push_back({std::move(made)});
    if (!branch.above.empty()) {
      const double baseline = left.y - above(branch.symbol) - kBeside_mm - measured(branch.above).box.bottom;
      add_text(branch.id + "-says", branch.above, {middle, baseline});
    }
    if (!branch.below.empty()) {
      const double baseline = left.y + below(branch.symbol) + kBeside_mm - measured(branch.below).box.top;
      add_text(branch.id + "-name", branch.below, {middle, baseline});
    }
  }

  void add_text(std::string id, const std::string& text, Point at) {
    items_.push_back({drawing::text_line(ruler_, std::move(id), text, kFace, drawing::kCaption_mm, Ink::text, at,
                                         drawing::Align::middle)});
  }

  void draw_parallel(const Branch& branch, Point left, double width, int from, int to) {
    const double inner = left.x + kGrid_mm, inner_width = width - 2 * kGrid_mm, right = inner + inner_width;
    join(from, left, {inner, left.y});
    join(to, {right, left.y}, {left.x + width, left.y});
    for (std::size_t i = 0; i < branch.parts.size(); ++i) {
      const double y = left.y - rise(branch, i);
      const double own = size(branch.parts[i]).width, at = inner + (inner_width - own) / 2;
      join(from, {inner, y}, {at, y});
      join(to, {at + own, y}, {right, y});
      draw(branch.parts[i], {at, y}, own, from, to);
      if (i == 0) continue;
      const double lower = left.y - rise(branch, i - 1);
      join(from, {inner, lower}, {inner, y});
      join(to, {right, lower}, {right, y});
      dot({inner, lower});
      dot({right, lower});
    }
  }

  const drawing::Ruler& ruler_;
  const std::string& id_;
  std::vector<std::vector<Line>> nodes_;
  std::vector<Point> dots_;
  std::vector<drawing::Item> items_;
};

/// Parts of a series shared out to lines, in order, none wider than `most` but where one part alone is.
std::vector<std::vector<Branch>> lines_of(const Drafter& drafter, const std::vector<Branch>& parts, double most) {
  std::vector<std::vector<Branch>> lines(1);
  double width = 0.0;
  for (const Branch& part : parts) {
    const double own = drafter.size(part).width;
    if (!lines.back().empty() && width + own > most) {
      lines.emplace_back();
      width = 0.0;
    }
    lines.back().push_back(part);
    width += own;
  }
  return lines;
}

/// Read from the other side: what stands in series within them turns round, too.
std::vector<Branch> mirrored(std::vector<Branch> parts) {
  std::reverse(parts.begin(), parts.end());
  for (Branch& part : parts)
    for (Branch& beside : part.parts)
      if (beside.kind == Branch::Kind::series) beside.parts = mirrored(std::move(beside.parts));
  return parts;
}

/// As few lines as do, as even as they can be: the least width that does not need more.
std::vector<std::vector<Branch>> folded(const Drafter& drafter, const std::vector<Branch>& parts, double most) {
  if (drafter.size_of_series(parts).width <= most) return {parts};
  std::vector<std::vector<Branch>> best = lines_of(drafter, parts, most);
  for (double width = most - kGrid_mm; width > 0; width -= kGrid_mm) {
    std::vector<std::vector<Branch>> lines = lines_of(drafter, parts, width);
    if (lines.size() > best.size()) break;
    best = std::move(lines);
  }
  if (best.size() % 2 != 0) best.emplace_back();  // the way back is one of the lines
  return best;
}

}  // namespace

Branch element(Symbol symbol, std::string id, std::string title, std::string above, std::string below) {
  return {Branch::Kind::element, symbol, std::move(id), std::move(title), std::move(above), std::move(below), {}};
}

Branch in_series(std::vector<Branch> parts) {
  Branch made;
  made.parts = std::move(parts);
  return made;
}

Branch in_parallel(std::vector<Branch> parts) {
  if (parts.size() == 1) return std::move(parts.front());
  Branch made;
  made.kind = Branch::Kind::parallel;
  made.parts = std::move(parts);
  return made;
}

Ladder ladder(const drawing::Ruler& ruler, const std::string& id, const Branch& network, double first_mm,
              double most_mm) {
  Drafter drafter(ruler, id);
  const std::vector<Branch> parts = network.kind == Branch::Kind::series ? network.parts : std::vector<Branch>{network};
  std::vector<std::vector<Branch>> lines = folded(drafter, parts, most_mm - 2 * kGrid_mm);
  const bool with_return = lines.size() == 1;
  if (with_return) lines.emplace_back();
  double inner = 0.0;
  for (const auto& line : lines) inner = std::max(inner, drafter.size_of_series(line).width);
  const double left = kGrid_mm, right = left + inner, width = right + (lines.size() > 2 ? kGrid_mm : 0.0);
  Ladder made;
  made.width_mm = width;
  double y = 0.0, below = 0.0;
  int at = drafter.node();
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const Size size = drafter.size_of_series(lines[i]);
    const double before = y;
    y = i == 0 ? on_grid(std::max(first_mm, size.above))
               : on_grid(y + below + kBeside_mm + std::max(size.above, kGrid_mm));
    below = size.below;
    const bool leftward = i % 2 == 0;
    if (i == 0) {
      made.first_mm = y;
      drafter.join(at, {right, y}, {width, y});
    } else {
      const double turn = leftward ? width : 0.0, edge = leftward ? right : left;
      drafter.join(at, {edge, before}, {turn, before});
      drafter.join(at, {turn, before}, {turn, y});
      drafter.join(at, {turn, y}, {edge, y});
    }
    const int next = lines[i].empty() ? at : drafter.node();
    std::vector<Branch> in_order = lines[i];
    if (leftward) in_order = mirrored(std::move(in_order));
    drafter.draw_series(in_order, {left, y}, inner, leftward ? next : at, leftward ? at : next);
    at = next;
  }
  drafter.join(at, {right, y}, {width, y});
  made.second_mm = y;
  made.height_mm = on_grid(y + std::max(below, kGrid_mm));
  made.group = drafter.finished();
  return made;
}

}  // namespace zoneproof::schematic
