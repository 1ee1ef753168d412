#include "site/scene_rules.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "base/json_pointer.hpp"
#include "messages/site.hpp"
#include "site/contradiction.hpp"
#include "site/inside_part.hpp"
#include "site/outline.hpp"
#include "site/shelf.hpp"

namespace zoneproof::site {

using std::string;

namespace {

Measure metres(double value) { return {value, "m", kShownDigits}; }

string corner_at(const string& list, std::size_t corner) { return pointer_child(list, std::to_string(corner)); }

/// People count corners from 1.
long long counted(std::size_t corner) { return static_cast<long long>(corner) + 1; }

template <class P>
void check_outline(const std::vector<P>& outline, const string& pointer, Findings& findings) {
  if (outline.empty()) return;
  const auto ring = points_of(outline);
  if (!ring) return;
  const auto fault = outline_fault(*ring);
  if (!fault) return;
  using Kind = OutlineFault::Kind;
  const string at = corner_at(pointer, fault->corner);
  switch (fault->kind) {
    case Kind::too_few: return findings.add(say::site_outline_short(counted(ring->size()) - 1), pointer);
    case Kind::repeated: return findings.add(say::site_corner_twice(counted(fault->other)), at);
    case Kind::no_area: return findings.add(say::site_outline_flat(), pointer);
    case Kind::crossing:
      return findings.add(say::site_outline_crosses(counted(fault->corner), counted(fault->other)), at);
  }
}

/// A lower and an upper edge: nothing stands between equal ones.
void check_height(const Value& bottom, const Value& top, Findings& findings) {
  if (bottom.known() && top.known() && !(bottom.nominal < top.nominal))
    findings.add(say::site_no_height(metres(bottom.nominal), metres(top.nominal)), top.pointer);
}

double length_of(plane::Point a, plane::Point b) { return std::hypot(b.x - a.x, b.y - a.y); }

void check_wall(const string& id, const Wall& wall, Findings& findings) {
  const string path = pointer_child(pointer_child("/walls", id), "path");
  check_height(wall.bottom_m, wall.top_m, findings);
  if (wall.surface.known())
    unless(wall.surface.is(Surface::mesh), wall.transmission_pct, "surface", *wall.surface.value, findings);
  if (wall.path.size() == 1) findings.add(say::site_path_short(), path);
  const auto points = points_of(wall.path);
  if (!points) return;
  for (std::size_t i = 1; i < points->size(); ++i) {
    if (length_of((*points)[i - 1], (*points)[i]) == 0.0)
      findings.add(say::site_corner_twice(counted(i - 1)), corner_at(path, i));
  }
}

/// The opening has to lie within its stretch of the wall, and between the wall's edges.
void check_opening_in(const Opening& opening, const Wall& wall, Findings& findings) {
  const auto path = points_of(wall.path);
  if (path && path->size() > 1 && opening.stretch.known()) {
    const auto stretches = static_cast<long long>(path->size()) - 1;
    const long long stretch = *opening.stretch.value;
    if (stretch > stretches)
      return findings.add(say::site_no_stretch(opening.wall.id, stretches), opening.stretch.pointer);
    const auto at = static_cast<std::size_t>(stretch);
    const double length = length_of((*path)[at - 1], (*path)[at]);
    // A door drawn to the wall's very end may lie past it by the last digits of both.
    const double room = length * (1.0 + 1e-9);
    if (opening.along_m.known() && opening.width_m.known() && opening.along_m.nominal + opening.width_m.nominal > room)
      findings.add(
          say::site_opening_past_wall(metres(opening.along_m.nominal + opening.width_m.nominal), metres(length)),
          opening.width_m.pointer);
  }
  if (opening.head_m.known() && wall.top_m.known() && opening.head_m.nominal > wall.top_m.nominal)
    findings.add(say::site_opening_above_wall(metres(opening.head_m.nominal), metres(wall.top_m.nominal)),
                 opening.head_m.pointer);
  if (opening.sill_m.known() && wall.bottom_m.known() && opening.sill_m.nominal < wall.bottom_m.nominal)
    findings.add(say::site_opening_below_wall(metres(opening.sill_m.nominal), metres(wall.bottom_m.nominal)),
                 opening.sill_m.pointer);
}

void check_opening(const Site& site, const Opening& opening, Findings& findings) {
  check_height(opening.sill_m, opening.head_m, findings);
  if (opening.leaf.known())
    unless(opening.leaf.is(Surface::mesh), opening.transmission_pct, "leaf", *opening.leaf.value, findings);
  if (opening.kind.known())
    unless(!opening.kind.is(OpeningKind::doorway), opening.leaf, "kind", *opening.kind.value, findings);
  if (const Wall* wall = find(site.walls, opening.wall)) check_opening_in(opening, *wall, findings);
}

void check_block(const string& id, const Block& block, Findings& findings) {
  check_height(block.bottom_m, block.top_m, findings);
  check_outline(block.outline, pointer_child(pointer_child("/blocks", id), "outline"), findings);
  if (block.fill.known())
    unless(!block.fill.is(Fill::solid), block.transmission_pct, "fill", *block.fill.value, findings);
}

void check_stair(const string& id, const Stair& stair, Findings& findings) {
  const auto ends = points_of(std::vector<PlanPoint>{stair.foot, stair.head});
  if (ends && length_of((*ends)[0], (*ends)[1]) == 0.0)
    findings.add(say::site_stair_no_length(), pointer_child(pointer_child("/stairs", id), "head"));
}

/// A body that is certainly solid and has this place inside, between its edges.
bool holds(const Site& site, const Block& block, const Mount& mount) {
  if (!block.fill.is(Fill::solid) || !block.level.known() || block.level.id != mount.level.id) return false;
  const auto outline = points_of(block.outline);
  if (!outline || outline_fault(*outline) || !block.bottom_m.known()) return false;
  const FloorLevel* level = find(site.levels, mount.level);
  const Value& top = block.top_m.none() && level != nullptr ? level->ceiling_m : block.top_m;
  if (top.unknown() || block.bottom_m.nominal >= mount.z_m.nominal) return false;
  if (top.known() && mount.z_m.nominal >= top.nominal) return false;
  return inside_or_on(*outline, {mount.x_m.nominal, mount.y_m.nominal});
}

/// Nothing hangs above the ceiling of its own level, nor inside of a solid body.
void check_mount(const Site& site, const Mount& mount, Findings& findings) {
  const FloorLevel* level = mount.level.known() ? find(site.levels, mount.level) : nullptr;
  if (level != nullptr && level->ceiling_m.known() && mount.z_m.known() && mount.z_m.nominal > level->ceiling_m.nominal)
    findings.add(say::site_mount_above_ceiling(metres(mount.z_m.nominal), metres(level->ceiling_m.nominal)),
                 mount.z_m.pointer);
  if (!mount.level.known() || !mount.x_m.known() || !mount.y_m.known() || !mount.z_m.known()) return;
  for (const auto& [id, block] : site.blocks) {
    if (!holds(site, block, mount)) continue;
    return findings.add(say::site_mounted_inside(called(site.blocks, id)), mount.x_m.pointer);
  }
}

void check_camera(const Site& site, const string& id, const Camera& camera, Findings& findings) {
  const CameraSpec* spec = spec_of(site, camera.part, &Part::camera);
  if (spec != nullptr && spec->lens && camera.lens.known())
    findings.add(say::site_lens_twice(camera.part.id), camera.lens.pointer);
  if (const LensSpec* lens = lens_of(site, camera); lens != nullptr && camera.focal_mm.known()) {
    const Value &least = lens->focal_min_mm, &most = lens->focal_max_mm;
    const bool short_of = least.known() && camera.focal_mm.nominal < least.low;
    const bool beyond = most.known() && camera.focal_mm.nominal > most.high;
    if (least.known() && most.known() && (short_of || beyond))
      findings.add(say::site_focal_outside({camera.focal_mm.nominal, "mm", kShownDigits},
                                           {least.low, "mm", kShownDigits}, {most.high, "mm", kShownDigits}),
                   camera.focal_mm.pointer);
  }
  check_mount(site, camera.mount, findings);
  const string masks = pointer_child(pointer_child("/cameras", id), "masks");
  for (const auto& [mask, entry] : camera.masks)
    check_outline(entry.outline, pointer_child(pointer_child(masks, mask), "outline"), findings);
}

/// One camera is on one channel of a unit: two entries for one would leave open which of them counts.
void check_channels(const Site& site, Findings& findings) {
  std::map<std::pair<string, long long>, string> seen;
  for (const auto& [id, channel] : site.channels) {
    if (!channel.unit.known() || !channel.number.known()) continue;
    const auto [first, fresh] = seen.emplace(std::pair(channel.unit.id, *channel.number.value), id);
    if (!fresh) findings.add(say::site_channel_twice(*channel.number.value, first->second), channel.number.pointer);
    if (channel.recorder.none() && channel.recorder_channel.known())
      findings.add(say::site_contradiction("recorder_channel", "recorder", "none"), channel.recorder_channel.pointer);
  }
}

/// Whether a line on the plan crosses a stretch of a wall that nothing closes but itself. Where it has openings there,
/// it may be seen through them, so nothing is said.
bool crosses_solid(const Site& site, const string& id, const Wall& wall, plane::Point from, plane::Point to) {
  const auto path = points_of(wall.path);
  if (!path || !wall.surface.is(Surface::solid)) return false;
  const auto side = [](plane::Point a, plane::Point b, plane::Point p) {
    return (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
  };
  for (std::size_t i = 1; i < path->size(); ++i) {
    const plane::Point a = (*path)[i - 1], b = (*path)[i];
    const bool apart = side(a, b, from) * side(a, b, to) < 0.0 && side(from, to, a) * side(from, to, b) < 0.0;
    const auto stretch = static_cast<long long>(i);
    const bool open = std::any_of(site.openings.begin(), site.openings.end(), [&](const auto& entry) {
      const Opening& opening = entry.second;
      return opening.wall.id == id && (!opening.stretch.known() || *opening.stretch.value == stretch);
    });
    if (apart && !open) return true;
  }
  return false;
}

bool reaches_over_the_plan(const Site& site, const Detector& detector) {
  const DetectorSpec* spec = spec_of(site, detector.part, &Part::detector);
  if (spec == nullptr || !spec->pattern || !spec->pattern->shape.known() || !detector.watched.empty()) return false;
  const PatternShape shape = *spec->pattern->shape.value;
  return shape == PatternShape::fan || shape == PatternShape::curtain || shape == PatternShape::ceiling;
}

/// The wall behind which all of a place lies, as the detector sees it; empty: some of it is before every wall.
string wall_before(const Site& site, const Mount& mount, const std::vector<plane::Point>& corners) {
  const plane::Point from = {mount.x_m.nominal, mount.y_m.nominal};
  for (const auto& [id, wall] : site.walls) {
    if (!wall.level.known() || wall.level.id != mount.level.id) continue;
    const bool behind =
        std::all_of(corners.begin(), corners.end(), [&, &wall_id = id, &its = wall](plane::Point corner) {
          return crosses_solid(site, wall_id, its, from, corner);
        });
    if (behind) return id;
  }
  return "";
}

/// Every pattern ends at a wall somewhere. It is wrong where a wall stands between each detector of a zone and the
/// whole of what the zone is there for. Nominal places; a note, not an error: the building may be drawn before the rest
/// is.
void check_pattern_reaches(const Site& site, const string& id, const ProtectedPlace& place, Findings& findings) {
  const auto corners = points_of(place.outline);
  if (!corners || corners->empty() || site.zones.count(place.zone.id) == 0 || !place.level.known()) return;
  std::vector<std::pair<const Mount*, string>> behind;
  for (const string& one : alarming_detectors_of_zone(site, place.zone.id)) {
    const auto found = site.detectors.find(one);  // a loop may name one that is not there
    if (found == site.detectors.end() || !reaches_over_the_plan(site, found->second)) continue;
    const Mount& mount = found->second.mount;
    if (!mount.x_m.known() || !mount.y_m.known() || !mount.level.known() || mount.level.id != place.level.id) return;
    const string wall = wall_before(site, mount, *corners);
    if (wall.empty()) return;
    behind.emplace_back(&mount, wall);
  }
  if (behind.empty()) return;
  const auto& [mount, wall] = behind.front();
  findings.add(say::site_pattern_behind_wall(called(site.walls, wall), called(site.protected_places, id)),
               mount->x_m.pointer);
}

/// Entries of a rulebook that say how large a person has to be in the picture: by their ids, as other entries are in
/// percent too and say something else.
bool of_a_person_in_the_picture(const string& id) {
  const auto ends_with = [&](std::string_view end) {
    return id.size() > end.size() && id.compare(id.size() - end.size(), end.size(), end) == 0;
  };
  return ends_with("_px_per_m") || ends_with("_height_pct");
}

void check_view_rule(const Site& site, Findings& findings) {
  const string& wanted = site.rulebook.view_rule;
  const Rulebook* book = rulebook_of(site);
  if (wanted.empty() || book == nullptr || (of_a_person_in_the_picture(wanted) && rule(site, wanted) != nullptr))
    return;
  std::vector<string> known;
  for (const auto& entry : book->entries) {
    if (of_a_person_in_the_picture(entry.first)) known.push_back(entry.first);
  }
  const string& name = name_or_id(book->name, site.rulebook.book.id);
  findings.add(
      known.empty() ? say::site_view_rule_none(name, wanted) : say::site_view_rule_unknown(name, wanted, known),
      "/rulebook/view_rule");
}

}  // namespace

void check_lens(const LensSpec& lens, Findings& findings) {
  if (lens.projection.known()) {
    const bool pinhole = lens.projection.is(Projection::pinhole);
    unless(pinhole, lens.p1_coefficient, "projection", *lens.projection.value, findings);
    unless(pinhole, lens.p2_coefficient, "projection", *lens.projection.value, findings);
  }
}

void check_pattern(const PatternSpec& pattern, Findings& findings) {
  const auto within = [&](const Value& guaranteed, const Value& largest) {
    if (guaranteed.known() && largest.known() && guaranteed.nominal > largest.nominal)
      findings.add(
          say::site_reach_reversed({guaranteed.nominal, "", kShownDigits}, {largest.nominal, "", kShownDigits}),
          guaranteed.pointer);
  };
  within(pattern.guaranteed.range_m, pattern.largest.range_m);
  within(pattern.guaranteed.angle_deg, pattern.largest.angle_deg);
  within(pattern.guaranteed.width_m, pattern.largest.width_m);
  for (std::size_t i = 0; i < pattern.profile.size(); ++i) {
    const PatternRow& row = pattern.profile[i];
    check_height(row.lowest_m, row.highest_m, findings);
    if (i == 0 || !row.distance_m.known() || !pattern.profile[i - 1].distance_m.known()) continue;
    const double before = pattern.profile[i - 1].distance_m.nominal;
    if (row.distance_m.nominal <= before)
      findings.add(say::site_rule_points_order(metres(row.distance_m.nominal), metres(before)), row.distance_m.pointer);
  }
}

void check_scene(const Site& site, Findings& findings) {
  for (const auto& [id, wall] : site.walls) check_wall(id, wall, findings);
  for (const auto& entry : site.openings) check_opening(site, entry.second, findings);
  for (const auto& [id, block] : site.blocks) check_block(id, block, findings);
  for (const auto& [id, stair] : site.stairs) check_stair(id, stair, findings);
  for (const auto& [id, place] : site.protected_places)
    check_outline(place.outline, pointer_child(pointer_child("/protected_places", id), "outline"), findings);
  for (const auto& [id, place] : site.protected_places) check_pattern_reaches(site, id, place, findings);
  for (const auto& [id, area] : site.privacy_areas)
    check_outline(area.outline, pointer_child(pointer_child("/privacy_areas", id), "outline"), findings);
  for (const auto& [id, detector] : site.detectors) {
    check_outline(detector.watched, pointer_child(pointer_child("/detectors", id), "watched"), findings);
    check_mount(site, detector.mount, findings);
    check_mount(site, detector.beam_to, findings);
  }
  for (const auto& [id, trigger] : site.triggers)
    check_outline(trigger.region, pointer_child(pointer_child("/triggers", id), "region"), findings);
  for (const auto& [id, camera] : site.cameras) check_camera(site, id, camera, findings);
  check_channels(site, findings);
  check_view_rule(site, findings);
}

}  // namespace zoneproof::site
