#include "sheets/plan_openings.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/message.hpp"
#include "drawing/shapes.hpp"
#include "drawing/type.hpp"
#include "messages/plan.hpp"
#include "sheets/plan_lines.hpp"
#include "sight/area.hpp"
#include "site/relations.hpp"

namespace zoneproof::sheets {

using drawing::Cap;
using drawing::Group;
using drawing::Ink;
using drawing::Item;
using drawing::Line;
using drawing::Point;
using drawing::Stroke;
using drawing::Subpath;
using site::OpeningKind;
using site::OpeningState;

namespace {

constexpr double kJamb_mm = 0.8, kPane_mm = 0.55, kSlat_mm = 1.5;
constexpr double kDegree = std::numbers::pi / 180.0;
/// A door that is wider has two leaves (common practice, no source).
constexpr double kWidestLeaf_m = 1.3;

const Stroke kLight = {Ink::line, drawing::kFine_mm}, kSwing = {Ink::line, drawing::kHairline_mm};
const Stroke kLeaf = {Ink::line, drawing::kMedium_mm};
const Stroke kLeafSometimes = {Ink::line, drawing::kMedium_mm, {0.9, 0.7}};

Subpath between(const Line& line) { return drawing::line_through({line.from, line.to}); }

/// A leaf as it stands open, and the way of its edge from there.
void add_leaf(Group& group, Point hinge, Point edge, bool to_left, bool stands_open) {
  const double size = length(edge - hinge);
  const double toward = std::atan2(edge.y - hinge.y, edge.x - hinge.x) / kDegree;
  const double sweep = to_left ? -90.0 : 90.0;
  group.items.push_back({drawing::stroked({}, {drawing::arc(hinge, size, toward, sweep)}, kSwing)});
  const Point open = drawing::at_angle(hinge, size, toward + sweep);
  group.items.push_back({drawing::stroked({}, {drawing::line_through({hinge, open})}, stands_open ? kLeaf : kSwing)});
}

/// What tells the kind of an opening: everything but its leaf across.
void add_kind(Group& group, const Line& gap, OpeningKind kind, bool two_leaves, bool stands_open) {
  const Point along = gap.to - gap.from;
  const double size = length(along);
  switch (kind) {
    case OpeningKind::doorway: return;
    case OpeningKind::door: {
      const Point middle = gap.from + along * 0.5;
      add_leaf(group, gap.from, two_leaves ? middle : gap.to, true, stands_open);
      if (two_leaves) add_leaf(group, gap.to, middle, false, stands_open);
      return;
    }
    case OpeningKind::window:
      group.items.push_back(
          {drawing::stroked({}, {between(beside(gap, kPane_mm)), between(beside(gap, -kPane_mm))}, kLight)});
      return;
    case OpeningKind::shutter: {
      std::vector<Subpath> slats;
      const Point across = Point{along.y, -along.x} * (kPane_mm / size);
      for (int i = 1; i * kSlat_mm < size; ++i) {
        const double at = i * kSlat_mm;
        const Point place = gap.from + along * (at / size);
        slats.push_back(drawing::line_through({place + across, place - across}));
      }
      if (!slats.empty()) group.items.push_back({drawing::stroked({}, std::move(slats), kLight)});
      return;
    }
  }
}

/// The leaf across: whole where it is closed, broken where it is so sometimes, none where it is open.
void add_state(Group& group, const Line& gap, OpeningState state) {
  if (state == OpeningState::open) return;
  const Stroke& stroke = state == OpeningState::closed ? kLeaf : kLeafSometimes;
  group.items.push_back({drawing::stroked({}, {between(gap)}, stroke)});
}

Group opening_drawn(const std::string& id, const Line& gap, OpeningKind kind, std::optional<OpeningState> state,
                    bool two_leaves) {
  Group group;
  group.name.id = id;
  const Point along = gap.to - gap.from, across = Point{along.y, -along.x} * (kJamb_mm / length(along));
  group.items.push_back({drawing::stroked({},
                                          {drawing::line_through({gap.from + across, gap.from - across}),
                                           drawing::line_through({gap.to + across, gap.to - across})},
                                          kLight)});
  add_kind(group, gap, kind, two_leaves, state && *state != OpeningState::closed);
  if (state) add_state(group, gap, *state);
  return group;
}

PlanSign sign_of(OpeningKind kind) {
  switch (kind) {
    case OpeningKind::doorway: break;
    case OpeningKind::door: return PlanSign::door;
    case OpeningKind::window: return PlanSign::window;
    case OpeningKind::shutter: return PlanSign::shutter;
  }
  return PlanSign::doorway;
}

PlanSign sign_of(OpeningState state) {
  if (state == OpeningState::closed) return PlanSign::closed;
  return state == OpeningState::open ? PlanSign::open : PlanSign::either;
}

void note(PlanCanvas& canvas, const std::string& id, const site::Opening& opening, const Line& gap) {
  canvas.signs.insert(sign_of(*opening.kind.value));
  if (opening.state.known() && !opening.kind.is(OpeningKind::doorway))
    canvas.signs.insert(sign_of(*opening.state.value));
  if (!opening.state.known()) canvas.unknown.push_back(opening.state.pointer);
  canvas.lines.push_back(gap);
  canvas.walls.push_back(gap);
  if (!canvas.told.contains(id)) return;
  PlanLabel label =
      plan_label(canvas.ruler, "opening-" + id + "-name", {site::name_or_id(opening.name, id)}, Ink::quiet);
  label.anchor = (gap.from + gap.to) * 0.5;
  label.radius_mm = kJamb_mm;
  label.must = true;
  canvas.labels.push_back(std::move(label));
}

}  // namespace

std::vector<PlanHole> holes_of_stretch(const site::Site& site, const std::string& wall, std::size_t stretch) {
  std::vector<PlanHole> holes;
  for (const auto& [id, opening] : site.openings) {
    if (opening.wall.id != wall || opening.stretch.value != static_cast<long long>(stretch)) continue;
    if (!opening.along_m.known() || !opening.width_m.known()) continue;
    holes.push_back({id, opening.along_m.nominal, opening.along_m.nominal + opening.width_m.nominal});
  }
  std::stable_sort(holes.begin(), holes.end(), [](const auto& a, const auto& b) { return a.from_m < b.from_m; });
  return holes;
}

Group plan_openings(PlanCanvas& canvas) {
  const site::Site& site = canvas.site();
  Group layer;
  layer.name = {"openings", text(say::plan_openings()), {}};
  for (const auto& [id, opening] : site.openings) {
    const auto wall = site.walls.find(opening.wall.id);
    if (wall == site.walls.end() || wall->second.level.id != canvas.level) continue;
    const auto ends = sight::ends_of_opening(site, id);
    if (!ends || !opening.kind.known() || ends->first == ends->second) {
      canvas.unknown.push_back("/openings/" + id);
      continue;
    }
    const Line gap = {canvas.place.at(ends->first), canvas.place.at(ends->second)};
    const bool two = opening.width_m.nominal > kWidestLeaf_m;
    Group drawn = opening_drawn("opening-" + id, gap, *opening.kind.value, opening.state.value, two);
    drawn.name.title = site::name_or_id(opening.name, id);
    note(canvas, id, opening, gap);
    layer.items.push_back({std::move(drawn)});
  }
  return layer;
}

std::vector<Item> opening_sample(PlanSign sign) {
  const double low = drawing::kSampleHeight_mm - 0.4, middle = drawing::kSampleHeight_mm / 2;
  const Line wide = {{1.5, middle}, {8.5, middle}};
  switch (sign) {
    case PlanSign::doorway: return {{opening_drawn({}, wide, OpeningKind::doorway, std::nullopt, false)}};
    case PlanSign::door: return {{opening_drawn({}, {{3.2, low}, {6.6, low}}, OpeningKind::door, std::nullopt, false)}};
    case PlanSign::window: return {{opening_drawn({}, wide, OpeningKind::window, std::nullopt, false)}};
    case PlanSign::shutter: return {{opening_drawn({}, wide, OpeningKind::shutter, std::nullopt, false)}};
    case PlanSign::closed: return {{opening_drawn({}, wide, OpeningKind::doorway, OpeningState::closed, false)}};
    case PlanSign::open: return {{opening_drawn({}, wide, OpeningKind::doorway, OpeningState::open, false)}};
    case PlanSign::either: return {{opening_drawn({}, wide, OpeningKind::doorway, OpeningState::either, false)}};
    default: return {};
  }
}

}  // namespace zoneproof::sheets
