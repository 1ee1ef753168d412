#include "sight/area.hpp"

#include <algorithm>
#include <cmath>

#include "chain/channels.hpp"
#include "chain/limit.hpp"
#include "plane/ring_area.hpp"
#include "sight/clear_line.hpp"
#include "sight/witness.hpp"
#include "site/outline.hpp"
#include "site/relations.hpp"

namespace zoneproof::sight {

namespace {

using plane::Point;
using site::PatternShape;
using site::Technology;

/// What stops a technology. For the largest area what may let it through does; for the guaranteed one it does not.
/// Microwaves pass glass and thin partitions (common practice, no source): the largest area of a detector that needs
/// nothing else ends at no wall. A dual detector needs both, so heat ends it.
Medium medium_of(Technology technology, Extent extent) {
  const bool largest = extent == Extent::largest, waves = technology == Technology::microwave;
  return {waves && largest, waves && largest, largest};
}

/// A beam is cut by all that it meets; a mesh is no wall to the sound of breaking glass (common practice, no source).
constexpr Medium kBeam = {false, false, false}, kSound = {false, false, true};

/// What is only typical or assumed is used, and told.
bool known(const site::Value& value, std::vector<chain::Gap>& gaps) {
  if (value.unknown()) chain::add_gap(gaps, {value.pointer, "unknown"});
  if (!value.known()) return false;
  chain::add_if_weak(gaps, value);
  // Of a place: areas are computed with nominal numbers. Of a sheet the end that proves less is taken.
  if (value.low < value.high && value.pointer.rfind("/parts/", 0) != 0)
    chain::add_gap(gaps, {value.pointer, "has_range"});
  return true;
}

const Floor* floor_of(const Building& building, const site::Mount& mount, std::vector<chain::Gap>& gaps) {
  const Floor* floor = building.floor(mount.level.id);
  if (floor == nullptr) chain::add_gap(gaps, {mount.level.pointer, "unknown"});
  return floor;
}

class AreaOfZone {
 public:
  AreaOfZone(const site::Site& site, const Building& building, const People& people, Extent extent, ZoneArea& area)
      : site_(site), building_(building), people_(people), extent_(extent), area_(area) {}

  void add_detector(const std::string& id) {
    const site::Detector& detector = site_.detectors.at(id);
    const std::string pointer = "/detectors/" + id;
    if (!detector.watched.empty()) return add_drawn(id, pointer + "/watched", detector.mount.level, detector.watched);
    const site::DetectorSpec* spec = site::spec_of(site_, detector.part, &site::Part::detector);
    if (spec == nullptr) return gap(detector.part.pointer);
    if (!spec->pattern || !spec->pattern->shape.known()) return gap("/parts/" + detector.part.id + "/detector/pattern");
    switch (*spec->pattern->shape.value) {
      case PatternShape::fan:
      case PatternShape::curtain:
      case PatternShape::ceiling: return add_pattern(id, detector, *spec);
      case PatternShape::beam: return add_beam(id, detector);
      case PatternShape::opening: return add_opening(id, detector.opening);
      case PatternShape::panes: return add_panes(id, detector);
      case PatternShape::mat: return gap(pointer + "/watched");
    }
  }

  void add_drawn(const std::string& id, const std::string& pointer, const site::Ref& level,
                 const std::vector<site::PlanPoint>& outline) {
    const auto ring = site::points_of(outline);
    if (!ring || ring->size() < 3) return gap(pointer);
    if (building_.floor(level.id) == nullptr) return gap(level.pointer);
    for (const site::PlanPoint& corner : outline) known(corner.x_m), known(corner.y_m);
    area_.sources.push_back({id, pointer, level.id, {plane::counter_clockwise(*ring)}, {}, "", 0, {}});
  }

  void gap(const std::string& pointer) { chain::add_gap(area_.gaps, {pointer, "unknown"}); }

 private:
  bool known(const site::Value& value) { return sight::known(value, area_.gaps); }

  bool sizes_known(const site::PatternSpec& pattern) {
    const site::Reach& reach = extent_ == Extent::guaranteed ? pattern.guaranteed : pattern.largest;
    bool all = known(reach.range_m);
    if (pattern.shape.is(PatternShape::fan)) all = known(reach.angle_deg) && all;
    if (pattern.shape.is(PatternShape::curtain)) all = known(reach.width_m) && all;
    if (extent_ == Extent::guaranteed && !pattern.near_m.none()) all = known(pattern.near_m) && all;
    // Around a row that is not known the careful answer is given; it is asked for all the same.
    for (const site::PatternRow& row : pattern.profile)
      known(row.distance_m), known(row.lowest_m), known(row.highest_m);
    return all;
  }

  void add_pattern(const std::string& id, const site::Detector& detector, const site::DetectorSpec& spec) {
    const site::PatternSpec& pattern = *spec.pattern;
    const site::Mount& mount = detector.mount;
    const Floor* floor = floor_of(building_, mount, area_.gaps);
    if (floor == nullptr) return;
    const bool round = pattern.shape.is(PatternShape::ceiling);
    bool all = known(mount.x_m) && known(mount.y_m) && known(mount.z_m);
    // One that looks straight down has neither bearing nor tilt.
    all = (round || known(mount.bearing_deg)) && (round || known(mount.tilt_deg)) && sizes_known(pattern) && all;
    const bool largest = extent_ == Extent::largest;
    if (!people_.tall_m || !people_.sensed_from_m || !people_.sensed_to_m || !spec.technology.known()) all = false;
    if (!spec.technology.known()) gap(spec.technology.pointer);
    for (const chain::Gap& one : people_.gaps) chain::add_gap(area_.gaps, one);
    // The sheet gives the pattern of a detector that hangs as the sheet says.
    if (mount.tilt_deg.known() && mount.tilt_deg.nominal != 0.0 && !round)
      chain::add_gap(area_.gaps, {mount.tilt_deg.pointer, "undecided"});
    if (!all) return;
    const double bearing = round ? 0.0 : mount.bearing_deg.nominal;
    const Body body = largest ? Body{0.0, *people_.tall_m} : Body{*people_.sensed_from_m, *people_.sensed_to_m};
    const Point at = {mount.x_m.nominal, mount.y_m.nominal};
    Looking looks;
    looks.eye = {at, floor->height_m + mount.z_m.nominal};
    looks.heading = round ? Point{} : direction_of(bearing);
    looks.medium = medium_of(*spec.technology.value, extent_);
    looks.hides = largest ? Hides::all : Hides::some;
    looks.band = {floor->height_m + body.from_m, floor->height_m + body.to_m};
    area_.sources.push_back({id,
                             "/detectors/" + id,
                             mount.level.id,
                             pattern_outlines(pattern, extent_, body, at, bearing),
                             looks,
                             "",
                             0,
                             {}});
  }

  void add_beam(const std::string& id, const site::Detector& detector) {
    const site::Mount &from = detector.mount, &to = detector.beam_to;
    const Floor* floor = floor_of(building_, from, area_.gaps);
    const Floor* other = floor_of(building_, to, area_.gaps);
    if (floor == nullptr || other == nullptr) return;
    bool all = known(from.x_m) && known(from.y_m) && known(from.z_m);
    all = known(to.x_m) && known(to.y_m) && known(to.z_m) && all;
    for (const chain::Gap& one : people_.gaps) chain::add_gap(area_.gaps, one);
    if (!all || !people_.body_m || !people_.tall_m) return;
    if (extent_ == Extent::guaranteed && !beam_works(detector, *floor, *other)) return;
    area_.sources.push_back(
        {id,
         "/detectors/" + id,
         from.level.id,
         {strip({from.x_m.nominal, from.y_m.nominal}, {to.x_m.nominal, to.y_m.nominal}, *people_.body_m)},
         {},
         "",
         0,
         {}});
  }

  /// Within the range of its sheet, at the height of a body, and nothing in its way.
  bool beam_works(const site::Detector& detector, const Floor& floor, const Floor& other) {
    const site::DetectorSpec* spec = site::spec_of(site_, detector.part, &site::Part::detector);
    const site::Value& range = spec->pattern->guaranteed.range_m;
    if (!known(range)) return false;
    const Vector3 from = place_of(detector.mount, floor), to = place_of(detector.beam_to, other);
    const auto at_a_body = [&](const Vector3& end) {
      return end.z > floor.height_m && end.z < floor.height_m + *people_.tall_m;
    };
    return length(to - from) <= range.low && at_a_body(from) && at_a_body(to) && clear_line(building_, from, to, kBeam);
  }

  static Vector3 place_of(const site::Mount& mount, const Floor& floor) {
    return {mount.x_m.nominal, mount.y_m.nominal, floor.height_m + mount.z_m.nominal};
  }

  void add_opening(const std::string& id, const site::Ref& opening) {
    if (!opening.known()) return gap(opening.pointer);
    for (AreaSource& source : approaches(site_, building_, people_, opening.id, area_.gaps)) {
      source.id = id;
      source.pointer = "/detectors/" + id;
      area_.sources.push_back(std::move(source));
    }
  }

  void add_panes(const std::string& id, const site::Detector& detector) {
    if (detector.panes.empty()) return gap("/detectors/" + id + "/panes");
    for (const site::Ref& pane : detector.panes)
      if (extent_ == Extent::largest || hears(site_, building_, id, pane.id, area_.gaps)) add_opening(id, pane);
  }

  const site::Site& site_;
  const Building& building_;
  const People& people_;
  Extent extent_;
  ZoneArea& area_;
};

}  // namespace

bool hears(const site::Site& site, const Building& building, const std::string& id, const std::string& pane,
           std::vector<chain::Gap>& gaps) {
  const site::Detector& detector = site.detectors.at(id);
  const site::Mount& mount = detector.mount;
  const site::DetectorSpec* spec = site::spec_of(site, detector.part, &site::Part::detector);
  const Floor* floor = floor_of(building, mount, gaps);
  const auto ends = ends_of_opening(site, pane);
  if (!ends) chain::add_gap(gaps, {"/openings/" + pane, "unknown"});
  if (floor == nullptr || !ends || spec == nullptr || !spec->pattern) return false;
  const site::Opening& opening = site.openings.at(pane);
  const site::Value& range = spec->pattern->guaranteed.range_m;
  bool all = true;
  for (const site::Value* value : {&range, &mount.x_m, &mount.y_m, &mount.z_m, &opening.sill_m, &opening.head_m})
    all = known(*value, gaps) && all;
  const Floor* of_pane = building.floor(site.walls.at(opening.wall.id).level.id);
  if (!all || of_pane == nullptr) return false;
  const Vector3 ear = {mount.x_m.nominal, mount.y_m.nominal, floor->height_m + mount.z_m.nominal};
  const double height = of_pane->height_m + (opening.sill_m.nominal + opening.head_m.nominal) / 2.0;
  const auto [a, b] = *ends;
  const auto within = [&](Point end) { return length(Vector3{end.x, end.y, height} - ear) <= range.low; };
  const bool same_storey = height > floor->height_m && height < floor->ceiling_m;
  return same_storey && within(a) && within(b) &&
         clear_line(building, ear, {(a.x + b.x) / 2.0, (a.y + b.y) / 2.0, height}, kSound);
}

People people_of(const site::Site& site) {
  People people;
  const auto read = [&](const char* rule) {
    const chain::Limit limit = chain::limit_of(site, rule);
    if (!limit.value) chain::add_gap(people.gaps, {limit.pointer, "no_rule"});
    return limit.value;
  };
  people.tall_m = read("person_m");
  people.sensed_from_m = read("sense_from_m");
  people.sensed_to_m = read("sense_to_m");
  people.approach_m = read("approach_m");
  people.body_m = read("body_width_m");
  return people;
}

std::optional<std::pair<Point, Point>> ends_of_opening(const site::Site& site, const std::string& id) {
  const auto opening = site.openings.find(id);
  if (opening == site.openings.end()) return std::nullopt;
  const auto wall = site.walls.find(opening->second.wall.id);
  if (wall == site.walls.end() || !opening->second.stretch.known()) return std::nullopt;
  const auto corners = site::points_of(wall->second.path);
  const auto stretch = static_cast<std::size_t>(*opening->second.stretch.value);
  if (!corners || stretch < 1 || stretch >= corners->size()) return std::nullopt;
  if (!opening->second.along_m.known() || !opening->second.width_m.known()) return std::nullopt;
  const Point a = (*corners)[stretch - 1], b = (*corners)[stretch];
  const double length = std::hypot(b.x - a.x, b.y - a.y), from = opening->second.along_m.nominal;
  if (!(length > 0.0)) return std::nullopt;
  const Point ahead = {(b.x - a.x) / length, (b.y - a.y) / length};
  const double to = from + opening->second.width_m.nominal;
  return std::pair{Point{a.x + from * ahead.x, a.y + from * ahead.y}, Point{a.x + to * ahead.x, a.y + to * ahead.y}};
}

std::vector<AreaSource> approaches(const site::Site& site, const Building& building, const People& people,
                                   const std::string& opening, std::vector<chain::Gap>& gaps) {
  const auto ends = ends_of_opening(site, opening);
  if (!ends) {
    chain::add_gap(gaps, {"/openings/" + opening, "unknown"});
    return {};
  }
  const site::Ref& level = site.walls.at(site.openings.at(opening).wall.id).level;
  const Floor* floor = building.floor(level.id);
  if (floor == nullptr) chain::add_gap(gaps, {level.pointer, "unknown"});
  for (const chain::Gap& one : people.gaps) chain::add_gap(gaps, one);
  if (floor == nullptr || !people.approach_m || !people.tall_m) return {};
  const auto [a, b] = *ends;
  const double width = std::hypot(b.x - a.x, b.y - a.y);
  const Point left = {-(b.y - a.y) / width, (b.x - a.x) / width};
  const Point middle = {(a.x + b.x) / 2.0, (a.y + b.y) / 2.0};
  std::vector<AreaSource> sides;
  for (const int side : {1, 2}) {
    const double deep = side == 1 ? *people.approach_m : -*people.approach_m;
    std::vector<Point> ring = {
        a, b, {b.x + deep * left.x, b.y + deep * left.y}, {a.x + deep * left.x, a.y + deep * left.y}};
    if (side == 2) std::reverse(ring.begin(), ring.end());
    Looking looks;
    looks.eye = {middle, floor->height_m + *people.tall_m / 2.0};
    looks.heading = side == 1 ? left : Point{-left.x, -left.y};
    looks.hides = Hides::all;
    looks.band = {floor->height_m, floor->height_m + *people.tall_m};
    sides.push_back({opening, "/openings/" + opening, level.id, {std::move(ring)}, looks, opening, side, {opening}});
  }
  return sides;
}

ZoneArea area_of_zone(const site::Site& site, const Building& building, const People& people, const std::string& zone,
                      Extent extent) {
  ZoneArea area;
  AreaOfZone adder(site, building, people, extent, area);
  bool alarms = false;
  for (const std::string& detector : site::alarming_detectors_of_zone(site, zone)) {
    if (site.detectors.count(detector) == 0) continue;
    alarms = true;
    adder.add_detector(detector);
  }
  for (const auto& [id, trigger] : site.triggers) {
    if (trigger.zone.id != zone || !trigger.source.is(site::TriggerSource::camera_analytics)) continue;
    alarms = true;
    const std::string pointer = "/triggers/" + id + "/region";
    const std::vector<std::string> seen_by = chain::cameras_of_trigger(site, id, area.gaps);
    const auto camera = seen_by.empty() ? site.cameras.end() : site.cameras.find(seen_by.front());
    if (camera != site.cameras.end()) adder.add_drawn(id, pointer, camera->second.mount.level, trigger.region);
  }
  // One that is there and reaches nothing is no gap: then nothing is reached.
  if (!alarms && area.gaps.empty()) adder.gap("/zones/" + zone + "/loop/contacts");
  return area;
}

}  // namespace zoneproof::sight
