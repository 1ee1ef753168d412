#include "sight/building.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "plane/ring_area.hpp"
#include "site/outline.hpp"

namespace zoneproof::sight {

namespace {

using plane::Point;
using site::Value;

constexpr double kOpenEnd = std::numeric_limits<double>::infinity();
constexpr double kOfPercent = 0.01;

Point along(Point a, Point b, double distance) {
  const double length = std::hypot(b.x - a.x, b.y - a.y);
  const double share = length > 0.0 ? distance / length : 0.0;
  return {a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)};
}

/// Reads a site's scene once, part by part.
class BuildingReader {
 public:
  BuildingReader(const site::Site& site, Building& building) : site_(site), building_(building) {}

  void read() {
    for (const auto& [id, level] : site_.levels) add_level(id, level);
    for (const auto& [id, wall] : site_.walls) add_wall(id, wall);
    for (const auto& [id, opening] : site_.openings) told(opening.wall.known(), opening.wall.pointer);
    for (const auto& [id, block] : site_.blocks) add_block(id, block);
    for (const auto& [id, stair] : site_.stairs) add_stair(id, stair);
  }

 private:
  /// The number, or nothing and a gap.
  std::optional<double> number(const Value& value) {
    chain::add_if_weak(building_.gaps, value);
    if (!value.known()) return std::nullopt;
    // Views are computed with nominal sizes: what one that may be another does to them is open.
    if (value.low < value.high) chain::add_gap(building_.gaps, {value.pointer, "has_range"});
    return value.nominal;
  }
  bool told(bool known, const std::string& pointer) {
    if (!known) chain::add_gap(building_.gaps, {pointer, "unknown"});
    return known;
  }
  std::optional<double> share(const Value& percent) {
    const std::optional<double> known = number(percent);
    return known ? std::optional(*known * kOfPercent) : std::nullopt;
  }
  std::optional<double> share_through(site::Surface surface, const Value& transmission) {
    if (surface == site::Surface::solid) return 0.0;
    return surface == site::Surface::glass ? std::optional(1.0) : share(transmission);
  }
  const Floor* floor_of(const site::Ref& level) {
    const Floor* floor = building_.floor(level.id);
    if (floor == nullptr) chain::add_gap(building_.gaps, {level.pointer, "unknown"});
    return floor;
  }
  std::optional<std::vector<Point>> path(const std::vector<site::PlanPoint>& points) {
    for (const site::PlanPoint& point : points)
      if (!number(point.x_m) || !number(point.y_m)) return std::nullopt;
    return site::points_of(points);
  }
  /// Of a wall or block; none: the ceiling.
  std::optional<double> top(const Value& value, const Floor& floor) {
    if (value.none()) return floor.ceiling_m;
    const std::optional<double> known = number(value);
    return known ? std::optional(floor.height_m + *known) : std::nullopt;
  }
  std::size_t thing(ThingKind kind, const std::string& id) {
    building_.things.push_back({kind, id});
    return building_.things.size() - 1;
  }
  void add(Prism prism) {
    if (prism.top_m > prism.bottom_m) building_.prisms.push_back(std::move(prism));
  }

  void add_level(const std::string& id, const site::FloorLevel& level) {
    const std::optional<double> height = number(level.elevation_m);
    if (!height || (!level.ceiling_m.none() && !number(level.ceiling_m))) return;
    const double ceiling = level.ceiling_m.none() ? kOpenEnd : *height + level.ceiling_m.nominal;
    building_.levels.push_back(id);
    building_.floors.push_back({id, *height, ceiling});
  }

  void add_wall(const std::string& id, const site::Wall& wall);
  void add_opening(const std::string& id, const site::Opening& opening, Point from, Point to, const Floor& floor,
                   const Prism& around);
  void add_block(const std::string& id, const site::Block& block);
  void add_stair(const std::string& id, const site::Stair& stair);

  const site::Site& site_;
  Building& building_;
};

struct Hole {
  const std::string* id;
  const site::Opening* opening;
  double from, to;  ///< along the stretch
};

void BuildingReader::add_wall(const std::string& id, const site::Wall& wall) {
  const Floor* floor = floor_of(wall.level);
  const auto corners = path(wall.path);
  const std::optional<double> bottom = number(wall.bottom_m);
  if (floor == nullptr || !corners || !bottom || !told(wall.surface.known(), wall.surface.pointer)) return;
  const std::optional<double> upper = top(wall.top_m, *floor);
  const std::optional<double> clear = share_through(*wall.surface.value, wall.transmission_pct);
  if (!upper || !clear) return;
  const std::size_t own = thing(ThingKind::wall, id);
  const Prism screen = {own, false, {}, floor->height_m + *bottom, *upper, *wall.surface.value, *clear, false, 1.0};
  for (std::size_t i = 0; i + 1 < corners->size(); ++i) {
    std::vector<Hole> holes;
    for (const auto& [opening_id, opening] : site_.openings) {
      if (opening.wall.id != id || !told(opening.stretch.known(), opening.stretch.pointer)) continue;
      if (*opening.stretch.value != static_cast<long long>(i) + 1) continue;
      if (!number(opening.along_m) || !number(opening.width_m)) continue;
      holes.push_back(
          {&opening_id, &opening, opening.along_m.nominal, opening.along_m.nominal + opening.width_m.nominal});
    }
    std::sort(holes.begin(), holes.end(), [](const Hole& a, const Hole& b) { return a.from < b.from; });
    const Point a = (*corners)[i], b = (*corners)[i + 1];
    double done = 0.0;
    const auto piece = [&](Point from, Point to) {
      Prism prism = screen;
      prism.outline = {from, to};
      add(std::move(prism));
    };
    for (const Hole& hole : holes) {
      if (hole.from > done) piece(along(a, b, done), along(a, b, hole.from));
      add_opening(*hole.id, *hole.opening, along(a, b, hole.from), along(a, b, hole.to), *floor, screen);
      done = std::max(done, hole.to);
    }
    if (std::hypot(b.x - a.x, b.y - a.y) > done) piece(done > 0.0 ? along(a, b, done) : a, b);
  }
}

void BuildingReader::add_opening(const std::string& id, const site::Opening& opening, Point from, Point to,
                                 const Floor& floor, const Prism& around) {
  const std::optional<double> sill = number(opening.sill_m), head = number(opening.head_m);
  if (!sill || !head || !told(opening.state.known(), opening.state.pointer)) return;
  const double low = floor.height_m + *sill, high = floor.height_m + *head;
  Prism piece = around;
  piece.outline = {from, to};
  piece.top_m = low;
  add(piece);
  piece.top_m = around.top_m;
  piece.bottom_m = high;
  add(piece);
  if (opening.state.is(site::OpeningState::open)) return;
  if (!told(opening.leaf.known(), opening.leaf.pointer)) return;
  const std::optional<double> clear = share_through(*opening.leaf.value, opening.transmission_pct);
  if (!clear) return;
  add({thing(ThingKind::opening, id),
       false,
       {from, to},
       low,
       high,
       *opening.leaf.value,
       *clear,
       opening.state.is(site::OpeningState::either),
       1.0});
}

void BuildingReader::add_block(const std::string& id, const site::Block& block) {
  const Floor* floor = floor_of(block.level);
  auto corners = path(block.outline);
  const std::optional<double> bottom = number(block.bottom_m);
  if (floor == nullptr || !corners || corners->size() < 3 || !bottom || !told(block.fill.known(), block.fill.pointer))
    return;
  const std::optional<double> upper = top(block.top_m, *floor);
  const std::optional<double> open_share =
      block.fill.is(site::Fill::solid) ? std::optional(0.0) : share(block.transmission_pct);
  if (!upper || !open_share) return;
  const bool either = block.fill.is(site::Fill::either), open = block.fill.is(site::Fill::open);
  add({thing(ThingKind::block, id), true, plane::counter_clockwise(std::move(*corners)), floor->height_m + *bottom,
       *upper, open ? site::Surface::mesh : site::Surface::solid, open ? *open_share : 0.0, either,
       either ? *open_share : 1.0});
}

/// Each step is a body: from the floor where the stair is solid, else from the height of the step before. What is under
/// the treads of an open stair counts as one riser thick: the file knows no thickness, and this hides a little more.
void BuildingReader::add_stair(const std::string& id, const site::Stair& stair) {
  const Floor* floor = floor_of(stair.level);
  const auto ends = path({stair.foot, stair.head});
  const std::optional<double> width = number(stair.width_m), rise = number(stair.rise_m);
  if (floor == nullptr || !ends || !width || !rise || !told(stair.steps.known(), stair.steps.pointer) ||
      !told(stair.below.known(), stair.below.pointer))
    return;
  const Point a = (*ends)[0], b = (*ends)[1];
  const double length = std::hypot(b.x - a.x, b.y - a.y);
  if (!(length > 0.0)) return;
  const Point side = {-(b.y - a.y) / length * *width / 2, (b.x - a.x) / length * *width / 2};
  const std::size_t own = thing(ThingKind::stair, id);
  const auto steps = static_cast<double>(*stair.steps.value);
  for (long long count = 0; count < *stair.steps.value; ++count) {
    const auto step = static_cast<double>(count);
    const Point p = along(a, b, length * step / steps), q = along(a, b, length * (step + 1.0) / steps);
    const double under = stair.below.is(site::Fill::solid) ? 0.0 : *rise * step / steps;
    add({own,
         true,
         {{p.x - side.x, p.y - side.y},
          {q.x - side.x, q.y - side.y},
          {q.x + side.x, q.y + side.y},
          {p.x + side.x, p.y + side.y}},
         floor->height_m + under,
         floor->height_m + *rise * (step + 1.0) / steps,
         site::Surface::solid,
         0.0,
         false,
         1.0});
  }
}

}  // namespace

const Floor* Building::floor(const std::string& level) const {
  const auto at = std::find_if(floors.begin(), floors.end(), [&](const Floor& one) { return one.level == level; });
  return at == floors.end() ? nullptr : &*at;
}

Building building_of(const site::Site& site) {
  Building building;
  BuildingReader(site, building).read();
  return building;
}

}  // namespace zoneproof::sight
