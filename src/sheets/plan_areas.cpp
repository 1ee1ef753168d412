#include "sheets/plan_areas.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "base/message.hpp"
#include "drawing/hatch.hpp"
#include "drawing/shapes.hpp"
#include "drawing/type.hpp"
#include "messages/plan.hpp"
#include "sheets/plan_lines.hpp"
#include "sheets/plan_words.hpp"
#include "sight/area.hpp"
#include "site/outline.hpp"
#include "site/relations.hpp"

namespace zoneproof::sheets {

using drawing::Cap;
using drawing::Group;
using drawing::Ink;
using drawing::Item;
using drawing::Join;
using drawing::Point;
using drawing::Shape;
using drawing::Stroke;
using drawing::Subpath;

namespace {

const drawing::Hatch kBlind = {45.0, 1.4, false, {Ink::broken, drawing::kFine_mm}};
const Stroke kBlindEdge = {Ink::broken, drawing::kThin_mm, {}, Cap::butt, Join::round};
const Stroke kDetection = {Ink::quiet, drawing::kFine_mm, {2.4, 0.9}, Cap::butt, Join::round};
const Stroke kOwnDetection = {Ink::line, drawing::kThick_mm, {2.4, 0.9}, Cap::butt, Join::round};
const Stroke kProtected = {Ink::line, drawing::kMedium_mm, {0.01, 1.0}, Cap::round, Join::round};
const Stroke kPrivacy = {Ink::line, drawing::kFine_mm, {}, Cap::butt, Join::miter};
/// Of the frame about a protected opening, from the wall.
constexpr double kAboutOpening_mm = 1.6;

/// A name, tried in the middle of what it names.
void add_name(PlanCanvas& canvas, const std::string& id, const std::string& says, const std::vector<Subpath>& area,
              bool must) {
  const drawing::Box box = drawing::bounds(area);
  PlanLabel label =
      plan_label(canvas.ruler, id, name_lines(canvas.ruler, says, box.width() - 2 * kNameGap_mm), Ink::quiet);
  label.anchor = box.centre();
  constexpr double high = 0.25, low = 0.75;
  for (const double share : {0.5, high, low}) label.spots.push_back({label.anchor.x, box.top + share * box.height()});
  label.within = area;
  label.symbol = false;
  label.must = must;
  canvas.labels.push_back(std::move(label));
}

std::optional<std::vector<plane::Point>> outline_of(PlanCanvas& canvas, const std::string& pointer,
                                                    const std::vector<site::PlanPoint>& outline) {
  auto points = site::points_of(outline);
  if (points && points->size() >= 3) return points;
  canvas.unknown.push_back(pointer);
  return std::nullopt;
}

/// Whether some detector of the zone stands on the level: its symbol has the zone's number then.
bool has_detector_here(const PlanCanvas& canvas, const std::string& zone) {
  const std::vector<std::string> detectors = site::detectors_of_zone(canvas.site(), zone);
  return std::any_of(detectors.begin(), detectors.end(), [&](const std::string& id) {
    const site::Mount& mount = canvas.site().detectors.at(id).mount;
    return mount.level.id == canvas.level && mount.x_m.known() && mount.y_m.known();
  });
}

void add_zone_name(PlanCanvas& canvas, const std::string& id, const std::string& zone,
                   const std::vector<Subpath>& area) {
  PlanLabel label = plan_label(canvas.ruler, id, {zone_words(canvas.site(), zone)});
  label.anchor = area.front().start;
  label.must = true;
  canvas.labels.push_back(std::move(label));
}

std::vector<Subpath> about(const drawing::Line& gap) {
  const drawing::Line left = beside(gap, kAboutOpening_mm), right = beside(gap, -kAboutOpening_mm);
  return {drawing::ring(drawing::Points{left.from, left.to, right.to, right.from})};
}

Group privacy_drawn(const std::string& id, const std::vector<Subpath>& area) {
  Group group;
  group.name.id = id;
  group.items.push_back({drawing::stroked({}, area, kPrivacy)});
  group.items.push_back({drawing::stroked({}, diagonals(area, true), {Ink::line, drawing::kHairline_mm})});
  return group;
}

/// Where the lines of a hatching are cut in two, the longest first: places well within its area.
drawing::Points middles_of(const Shape& hatching, std::size_t most) {
  std::vector<drawing::Line> lines;
  add_lines(lines, hatching.path);
  std::stable_sort(lines.begin(), lines.end(),
                   [](const auto& a, const auto& b) { return length(a.to - a.from) > length(b.to - b.from); });
  drawing::Points middles;
  for (std::size_t i = 0; i < lines.size() && i < most; ++i) middles.push_back((lines[i].from + lines[i].to) * 0.5);
  return middles;
}

/// The number of a patch, well within it where it has room there. Names keep off the hatching: every other line of it
/// is enough to tell.
void add_number(PlanCanvas& canvas, const NumberedPatch& one, const std::string& id, const Group& drawn) {
  constexpr std::size_t most = 16;
  const Shape &hatching = std::get<Shape>(drawn.items[0].what), &edge = std::get<Shape>(drawn.items[1].what);
  for (std::size_t i = 0; i < hatching.path.size(); i += 2) add_lines(canvas.lines, {hatching.path[i]});
  add_lines(canvas.lines, edge.path);
  PlanLabel number = patch_label(canvas.ruler, id + "-number", one.number);
  number.anchor = canvas.place.at(one.patch.inside);
  number.or_at = middles_of(hatching, most);
  number.spots = number.or_at;
  number.spots.insert(number.spots.begin(), number.anchor);
  number.radius_mm = 0.3;
  number.symbol = false;
  canvas.labels.push_back(std::move(number));
}

Group patch_drawn(const std::string& id, const std::vector<Subpath>& area) {
  Group group;
  group.name.id = id;
  group.items.push_back({drawing::hatched(id.empty() ? id : id + "-hatch", area, kBlind)});
  group.items.push_back({drawing::stroked(id.empty() ? id : id + "-edge", area, kBlindEdge)});
  return group;
}

}  // namespace

Group plan_patches(PlanCanvas& canvas, const std::vector<NumberedPatch>& patches) {
  Group layer;
  layer.name = {"patches", text(say::plan_patches()), {}};
  for (const NumberedPatch& one : patches) {
    const std::vector<Subpath> area = canvas.place.rings(one.patch.outlines);
    const std::string id = fmt::format("patch-{}", one.number);
    Group drawn = patch_drawn(id, area);
    drawn.name.title = text(
        say::plan_patch_titled(one.number, zone_words(canvas.site(), one.view->zone), blind_words(canvas.site(), one)));
    canvas.signs.insert(PlanSign::patch);
    add_number(canvas, one, id, drawn);
    layer.items.push_back({std::move(drawn)});
  }
  return layer;
}

Group plan_detection(PlanCanvas& canvas, const std::vector<sight::ZoneView>& views) {
  Group layer;
  layer.name = {"areas", text(say::plan_detection_areas()), {}};
  for (const sight::ZoneView& view : views) {
    int part = 0;
    for (std::size_t i = 0; i < view.coverage.areas.size(); ++i) {
      if (view.coverage.area_levels[i] != canvas.level) continue;
      const std::vector<Subpath> area = canvas.place.rings(view.coverage.areas[i]);
      if (area.empty()) continue;
      const std::string id = fmt::format("area-{}-{}", view.zone, ++part);
      Shape shape = drawing::stroked(id, area, canvas.only ? kOwnDetection : kDetection);
      shape.name.title = text(say::plan_area_titled(zone_heading(canvas.site(), view.zone)));
      add_lines(canvas.lines, area);
      canvas.signs.insert(PlanSign::area);
      if (part == 1 && !has_detector_here(canvas, view.zone)) add_zone_name(canvas, id + "-zone", view.zone, area);
      layer.items.push_back({std::move(shape)});
    }
  }
  return layer;
}

Group plan_protected(PlanCanvas& canvas) {
  const site::Site& site = canvas.site();
  Group layer;
  layer.name = {"protected-places", text(say::plan_protected_places()), {}};
  for (const auto& [id, place] : site.protected_places) {
    std::vector<Subpath> area;
    if (place.opening.known()) {
      const auto opening = site.openings.find(place.opening.id);
      if (opening == site.openings.end()) continue;
      const auto wall = site.walls.find(opening->second.wall.id);
      if (wall == site.walls.end() || wall->second.level.id != canvas.level) continue;
      const auto ends = sight::ends_of_opening(site, place.opening.id);
      if (!ends) continue;  // the opening's own layer tells it
      area = about({canvas.place.at(ends->first), canvas.place.at(ends->second)});
    } else {
      if (place.level.id != canvas.level) continue;
      const auto outline = outline_of(canvas, "/protected_places/" + id + "/outline", place.outline);
      if (!outline) continue;
      area = canvas.place.rings({*outline});
    }
    Shape shape = drawing::stroked("protected-" + id, area, kProtected);
    shape.name.title = site::name_or_id(place.name, id);
    add_lines(canvas.lines, area);
    canvas.signs.insert(PlanSign::protected_place);
    // An opening that a cause speaks of has its name already.
    if (!place.opening.known() || !canvas.told.contains(place.opening.id))
      add_name(canvas, "protected-" + id + "-name", shape.name.title, area, false);
    layer.items.push_back({std::move(shape)});
  }
  return layer;
}

Group plan_privacy(PlanCanvas& canvas) {
  Group layer;
  layer.name = {"privacy-areas", text(say::plan_privacy_areas()), {}};
  for (const auto& [id, place] : canvas.site().privacy_areas) {
    if (place.level.id != canvas.level) continue;
    const auto outline = outline_of(canvas, "/privacy_areas/" + id + "/outline", place.outline);
    if (!outline) continue;
    const std::vector<Subpath> area = canvas.place.rings({*outline});
    Group drawn = privacy_drawn("privacy-" + id, area);
    drawn.name.title = text(say::plan_privacy_named(site::name_or_id(place.name, id)));
    add_lines(canvas.lines, area);
    canvas.signs.insert(PlanSign::privacy);
    add_name(canvas, "privacy-" + id + "-name", drawn.name.title, area, true);
    layer.items.push_back({std::move(drawn)});
  }
  return layer;
}

std::vector<Item> area_sample(PlanSign sign) {
  const std::vector<Subpath> area = {
      drawing::ring(drawing::Box{0.5, 0.4, drawing::kSampleWidth_mm - 0.5, drawing::kSampleHeight_mm - 0.4})};
  switch (sign) {
    case PlanSign::area: return {{drawing::stroked({}, area, kDetection)}};
    case PlanSign::patch: return {{patch_drawn({}, area)}};
    case PlanSign::protected_place: return {{drawing::stroked({}, area, kProtected)}};
    case PlanSign::privacy: return {{privacy_drawn({}, area)}};
    default: return {};
  }
}

}  // namespace zoneproof::sheets
