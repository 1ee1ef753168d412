#include "sheets/plan_building.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/message.hpp"
#include "drawing/hatch.hpp"
#include "drawing/shapes.hpp"
#include "drawing/type.hpp"
#include "messages/plan.hpp"
#include "sheets/plan_lines.hpp"
#include "sheets/plan_openings.hpp"
#include "site/outline.hpp"
#include "site/relations.hpp"

namespace zoneproof::sheets {

using drawing::Cap;
using drawing::Group;
using drawing::Ink;
using drawing::Item;
using drawing::Join;
using drawing::Point;
using drawing::Points;
using drawing::Shape;
using drawing::Stroke;
using drawing::Subpath;

namespace {

constexpr double kGlassHalf_mm = 0.45;
constexpr double kLeastTread_mm = 0.9;
constexpr double kArrow_mm = 2.0;
constexpr double kMachine_mm = 0.7;

Stroke stroke_of(PlanSign sign) {
  switch (sign) {
    case PlanSign::wall_full: return {Ink::line, drawing::kThick_mm, {}, Cap::butt, Join::miter};
    case PlanSign::wall_low: return {Ink::line, drawing::kThin_mm, {}, Cap::butt, Join::miter};
    case PlanSign::wall_hanging: return {Ink::line, drawing::kThin_mm, {2.0, 0.7, 0.4, 0.7}, Cap::butt, Join::miter};
    case PlanSign::wall_mesh: return {Ink::line, drawing::kMedium_mm, {1.2, 0.7}, Cap::butt, Join::miter};
    case PlanSign::wall_glass: return {Ink::line, drawing::kFine_mm, {}, Cap::butt, Join::miter};
    case PlanSign::hanging: return {Ink::line, drawing::kFine_mm, {1.0, 0.5}, Cap::butt, Join::miter};
    case PlanSign::racking_open: return {Ink::line, drawing::kFine_mm, {0.8, 0.6}, Cap::butt, Join::miter};
    case PlanSign::racking_either: return {Ink::line, drawing::kFine_mm, {2.4, 0.6, 0.4, 0.6}, Cap::butt, Join::miter};
    case PlanSign::wall_unknown: return {Ink::quiet, drawing::kFine_mm, {0.01, 0.7}, Cap::round, Join::round};
    default: return {Ink::line, drawing::kFine_mm, {}, Cap::butt, Join::miter};
  }
}

// --- walls ----------------------------------------------------------------------------------------------------------

PlanSign sign_of(const site::Wall& wall, const site::FloorLevel* level) {
  if (!wall.surface.known() || !wall.bottom_m.known() || wall.top_m.unknown()) return PlanSign::wall_unknown;
  if (wall.surface.is(site::Surface::glass)) return PlanSign::wall_glass;
  if (wall.surface.is(site::Surface::mesh)) return PlanSign::wall_mesh;
  if (wall.bottom_m.nominal > 0.0) return PlanSign::wall_hanging;
  const bool ceiling = level != nullptr && level->ceiling_m.known();
  const bool full = wall.top_m.none() || (ceiling && wall.top_m.nominal >= level->ceiling_m.nominal);
  return full ? PlanSign::wall_full : PlanSign::wall_low;
}

std::vector<Subpath> wall_paths(PlanSign sign, const std::vector<Subpath>& pieces) {
  if (sign != PlanSign::wall_glass) return pieces;
  std::vector<Subpath> double_lines;
  for (const Subpath& piece : pieces) {
    const Points points = drawing::flattened(piece, 1.0);
    for (const double by : {-kGlassHalf_mm, kGlassHalf_mm}) {
      const Points moved = parallel(points, piece.closed, by);
      double_lines.push_back(piece.closed ? drawing::ring(moved) : drawing::line_through(moved));
    }
  }
  return double_lines;
}

/// The stretches of a wall between its openings, joined over corners.
std::vector<Subpath> pieces_of(const PlanCanvas& canvas, const std::string& id, const std::vector<plane::Point>& path) {
  std::vector<Points> pieces(1);
  const auto add = [&](Point p) {
    if (pieces.back().empty() || length(pieces.back().back() - p) > 0.0) pieces.back().push_back(p);
  };
  for (std::size_t i = 0; i + 1 < path.size(); ++i) {
    const Point a = canvas.place.at(path[i]), b = canvas.place.at(path[i + 1]);
    const double size = length(b - a);
    add(a);
    for (const PlanHole& hole : holes_of_stretch(canvas.site(), id, i + 1)) {
      if (size == 0.0) continue;
      const Point along = (b - a) * (1.0 / size);
      if (hole.from_m > 0.0) add(a + along * canvas.place.mm(hole.from_m));
      if (pieces.back().size() < 2) pieces.pop_back();
      pieces.emplace_back();
      add(a + along * canvas.place.mm(hole.to_m));
    }
    add(b);
  }
  if (pieces.back().size() < 2) pieces.pop_back();
  if (pieces.empty()) return {};
  const bool round = length(pieces.back().back() - pieces.front().front()) == 0.0;
  if (round && pieces.size() == 1) {
    pieces[0].pop_back();
    return {pieces[0].size() >= 3 ? drawing::ring(pieces[0]) : drawing::line_through(pieces[0])};
  }
  if (round) {
    pieces.back().insert(pieces.back().end(), pieces.front().begin() + 1, pieces.front().end());
    pieces.erase(pieces.begin());
  }
  std::vector<Subpath> paths;
  for (const Points& piece : pieces) paths.push_back(drawing::line_through(piece));
  return paths;
}

/// The name of a wall that a cause speaks of, beside the middle of its longest piece.
void add_wall_name(PlanCanvas& canvas, const std::string& id, const std::vector<Subpath>& pieces) {
  if (!canvas.told.contains(id)) return;
  std::vector<drawing::Line> lines;
  add_lines(lines, pieces);
  const auto longest = std::max_element(lines.begin(), lines.end(), [](const auto& a, const auto& b) {
    return length(a.to - a.from) < length(b.to - b.from);
  });
  if (longest == lines.end()) return;
  PlanLabel label =
      plan_label(canvas.ruler, "wall-" + id + "-name", {site::called(canvas.site().walls, id)}, Ink::quiet);
  label.anchor = (longest->from + longest->to) * 0.5;
  label.must = true;
  canvas.labels.push_back(std::move(label));
}

// --- blocks ---------------------------------------------------------------------------------------------------------

PlanSign sign_of(const site::Block& block) {
  using site::BlockKind;
  if (block.kind.is(BlockKind::racking)) {
    if (block.fill.is(site::Fill::open)) return PlanSign::racking_open;
    return block.fill.is(site::Fill::either) ? PlanSign::racking_either : PlanSign::racking;
  }
  if (block.kind.is(BlockKind::column)) return PlanSign::column;
  if (block.kind.is(BlockKind::shelf)) return PlanSign::shelf;
  if (block.kind.is(BlockKind::counter)) return PlanSign::counter;
  return block.kind.is(BlockKind::machine) ? PlanSign::machine : PlanSign::body;
}

/// What tells the kind, within the outline.
std::vector<Subpath> marks_of(PlanSign sign, const Points& corners) {
  const Subpath outline = drawing::ring(corners);
  switch (sign) {
    case PlanSign::racking:
    case PlanSign::racking_open:
    case PlanSign::racking_either: return diagonals({outline}, false);
    case PlanSign::machine:
    case PlanSign::shelf: {
      // A second line within; of a shelf along its longest side only.
      double twice = 0.0;
      for (std::size_t i = 0; i < corners.size(); ++i) {
        const Point a = corners[i], b = corners[(i + 1) % corners.size()];
        twice += a.x * b.y - b.x * a.y;
      }
      const double inward = twice > 0.0 ? -kMachine_mm : kMachine_mm;
      if (sign == PlanSign::machine) return {drawing::ring(parallel(corners, true, inward))};
      drawing::Line longest = {corners.back(), corners.front()};
      for (std::size_t i = 0; i + 1 < corners.size(); ++i)
        if (length(corners[i + 1] - corners[i]) > length(longest.to - longest.from))
          longest = {corners[i], corners[i + 1]};
      const drawing::Line line = beside(longest, inward);
      return {drawing::line_through({line.from, line.to})};
    }
    default: return {};
  }
}

Group block_drawn(const std::string& id, PlanSign sign, bool hanging, const Points& corners) {
  Group group;
  group.name.id = id;
  Shape outline =
      drawing::stroked({}, {drawing::ring(corners)}, stroke_of(hanging ? PlanSign::hanging : PlanSign::body));
  if (sign == PlanSign::column) outline.fill = Ink::line;
  group.items.push_back({std::move(outline)});
  std::vector<Subpath> marks = marks_of(sign, corners);
  if (!marks.empty()) group.items.push_back({drawing::stroked({}, std::move(marks), stroke_of(sign))});
  return group;
}

/// A name within a body reads as the body's own: lines across it, which are not drawn, keep those of others out.
void keep_others_out(PlanCanvas& canvas, const Points& corners) {
  constexpr double apart_mm = 1.5;
  const drawing::Hatch across = {0.0, apart_mm, false, {}};
  add_lines(canvas.lines, drawing::hatched({}, {drawing::ring(corners)}, across).path);
}

void add_block_name(PlanCanvas& canvas, const std::string& id, const Points& corners) {
  const Subpath outline = drawing::ring(corners);
  const drawing::Box box = drawing::bounds({outline});
  PlanLabel label = plan_label(
      canvas.ruler, "block-" + id + "-name",
      name_lines(canvas.ruler, site::called(canvas.site().blocks, id), box.width() - 2 * kNameGap_mm), Ink::quiet);
  label.anchor = box.centre();
  label.radius_mm = 0.4;
  label.spots = {label.anchor};
  label.within = {outline};
  label.symbol = false;
  label.must = canvas.told.contains(id);
  canvas.labels.push_back(std::move(label));
}

// --- stairs ---------------------------------------------------------------------------------------------------------

Group stair_drawn(const std::string& id, Point foot, Point head, double width_mm, long long steps) {
  const Point along = head - foot;
  const drawing::Line right = beside({foot, head}, width_mm / 2), left = beside({foot, head}, -width_mm / 2);
  const double tread_mm = length(along) / static_cast<double>(steps);
  const auto each = static_cast<long long>(std::max(1.0, std::ceil(kLeastTread_mm / tread_mm)));
  std::vector<Subpath> treads = {drawing::ring(Points{right.from, right.to, left.to, left.from})};
  for (long long step = each; step < steps; step += each) {
    const Point by = along * (static_cast<double>(step) / static_cast<double>(steps));
    treads.push_back(drawing::line_through({right.from + by, left.from + by}));
  }
  const double size = length(along), arrow = std::min(kArrow_mm, size / 3);
  const Point back = along * (-arrow / size), side = Point{along.y, -along.x} * (arrow / size * 0.35);
  Group group;
  group.name.id = id;
  group.items.push_back({drawing::stroked({}, std::move(treads), stroke_of(PlanSign::stair))});
  group.items.push_back({drawing::stroked({},
                                          {drawing::line_through({foot, head}), drawing::circle(foot, 0.5),
                                           drawing::line_through({head + back + side, head, head + back - side})},
                                          stroke_of(PlanSign::wall_low))});
  return group;
}

}  // namespace

Group plan_walls(PlanCanvas& canvas) {
  Group layer;
  layer.name = {"walls", text(say::plan_walls()), {}};
  for (const auto& [id, wall] : canvas.site().walls) {
    if (wall.level.id != canvas.level) continue;
    const auto path = site::points_of(wall.path);
    if (!path || path->size() < 2) {
      canvas.unknown.push_back("/walls/" + id + "/path");
      continue;
    }
    const auto level = canvas.site().levels.find(canvas.level);
    const PlanSign sign = sign_of(wall, level == canvas.site().levels.end() ? nullptr : &level->second);
    const std::vector<Subpath> pieces = pieces_of(canvas, id, *path);
    Shape shape = drawing::stroked("wall-" + id, wall_paths(sign, pieces), stroke_of(sign));
    shape.name.title = site::name_or_id(wall.name, id);
    add_lines(canvas.lines, pieces);
    canvas.signs.insert(sign);
    add_wall_name(canvas, id, pieces);
    layer.items.push_back({std::move(shape)});
  }
  return layer;
}

Group plan_blocks(PlanCanvas& canvas) {
  Group layer;
  layer.name = {"blocks", text(say::plan_blocks()), {}};
  for (const auto& [id, block] : canvas.site().blocks) {
    if (block.level.id != canvas.level) continue;
    const auto outline = site::points_of(block.outline);
    if (!outline || outline->size() < 3) {
      canvas.unknown.push_back("/blocks/" + id + "/outline");
      continue;
    }
    const PlanSign sign = sign_of(block);
    const bool hanging = block.bottom_m.known() && block.bottom_m.nominal > 0.0;
    const Points corners = canvas.place.at(*outline);
    Group drawn = block_drawn("block-" + id, sign, hanging, corners);
    drawn.name.title = site::name_or_id(block.name, id);
    add_lines(canvas.lines, {drawing::ring(corners)});
    keep_others_out(canvas, corners);
    canvas.signs.insert(sign);
    if (hanging) canvas.signs.insert(PlanSign::hanging);
    add_block_name(canvas, id, corners);
    layer.items.push_back({std::move(drawn)});
  }
  return layer;
}

Group plan_stairs(PlanCanvas& canvas) {
  Group layer;
  layer.name = {"stairs", text(say::plan_stairs()), {}};
  for (const auto& [id, stair] : canvas.site().stairs) {
    if (stair.level.id != canvas.level) continue;
    const auto ends = site::points_of({stair.foot, stair.head});
    const bool known = ends && stair.width_m.known() && stair.steps.known() && *stair.steps.value > 0;
    if (!known || (*ends)[0] == (*ends)[1]) {
      canvas.unknown.push_back("/stairs/" + id);
      continue;
    }
    const Point foot = canvas.place.at((*ends)[0]), head = canvas.place.at((*ends)[1]);
    Group drawn = stair_drawn("stair-" + id, foot, head, canvas.place.mm(stair.width_m.nominal), *stair.steps.value);
    drawn.name.title = site::name_or_id(stair.name, id);
    const drawing::Line right = beside({foot, head}, canvas.place.mm(stair.width_m.nominal) / 2);
    add_lines(canvas.lines, {drawing::line_through({foot, head}), drawing::line_through({right.from, right.to})});
    canvas.signs.insert(PlanSign::stair);
    std::vector<std::string> says = {text(say::plan_up())};
    if (canvas.told.contains(id)) says.insert(says.begin(), site::name_or_id(stair.name, id));
    PlanLabel label = plan_label(canvas.ruler, "stair-" + id + "-up", says, Ink::quiet);
    label.anchor = foot;
    label.radius_mm = 0.6;
    label.must = true;
    canvas.labels.push_back(std::move(label));
    layer.items.push_back({std::move(drawn)});
  }
  return layer;
}

std::vector<Item> building_sample(PlanSign sign) {
  constexpr double middle = drawing::kSampleHeight_mm / 2, right = drawing::kSampleWidth_mm;
  const Points line = {{0.0, middle}, {right, middle}};
  const Points corners = {{1.0, 0.4},
                          {right - 1.0, 0.4},
                          {right - 1.0, drawing::kSampleHeight_mm - 0.4},
                          {1.0, drawing::kSampleHeight_mm - 0.4}};
  switch (sign) {
    case PlanSign::wall_full:
    case PlanSign::wall_low:
    case PlanSign::wall_hanging:
    case PlanSign::wall_glass:
    case PlanSign::wall_mesh:
    case PlanSign::wall_unknown:
      return {{drawing::stroked({}, wall_paths(sign, {drawing::line_through(line)}), stroke_of(sign))}};
    case PlanSign::column: return {{block_drawn({}, sign, false, {{3.6, 0.6}, {6.4, 0.6}, {6.4, 3.4}, {3.6, 3.4}})}};
    case PlanSign::racking:
    case PlanSign::racking_open:
    case PlanSign::racking_either:
    case PlanSign::shelf:
    case PlanSign::counter:
    case PlanSign::machine:
    case PlanSign::body: return {{block_drawn({}, sign, false, corners)}};
    case PlanSign::hanging: return {{block_drawn({}, PlanSign::body, true, corners)}};
    case PlanSign::stair:
      return {{stair_drawn({}, {0.8, middle}, {right, middle}, drawing::kSampleHeight_mm - 0.6, 8)}};
    default: return {};
  }
}

}  // namespace zoneproof::sheets
