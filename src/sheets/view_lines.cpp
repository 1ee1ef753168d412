#include "sheets/view_lines.hpp"

#include <algorithm>
#include <functional>
#include <string>
#include <utility>

#include "base/message.hpp"
#include "drawing/hatch.hpp"
#include "drawing/shapes.hpp"
#include "drawing/type.hpp"
#include "messages/sheets.hpp"
#include "sheets/view_masks.hpp"

namespace zoneproof::sheets {

using drawing::Box;
using drawing::Cap;
using drawing::Group;
using drawing::Ink;
using drawing::Join;
using drawing::Point;
using drawing::Shape;
using drawing::Stroke;
using drawing::Subpath;
using sight::SeenEdge;
using sight::Surface;
using sight::SurfaceRole;

namespace {

const Stroke kWall{Ink::line, drawing::kMedium_mm, {}, Cap::round, Join::round};
const Stroke kThing{Ink::line, drawing::kFine_mm, {}, Cap::round, Join::round};
const Stroke kClear{Ink::quiet, drawing::kHairline_mm, {}, Cap::round, Join::round};
const Stroke kEither{Ink::line, drawing::kFine_mm, {1.4, 0.8}, Cap::butt, Join::round};
const Stroke kArea{Ink::text, drawing::kThin_mm, {2.4, 0.9}, Cap::butt, Join::round};
const Stroke kPatch{Ink::broken, drawing::kThin_mm, {}, Cap::round, Join::round};
const Stroke kPerson{Ink::text, drawing::kThick_mm, {}, Cap::round, Join::round};
const Stroke kHorizon{Ink::quiet, drawing::kFine_mm, {6.0, 1.0, 0.8, 1.0}, Cap::butt, Join::round};
const Stroke kFrame{Ink::line, drawing::kThick_mm, {}, Cap::butt, Join::miter};
const drawing::Hatch kBlind{45.0, 1.4, false, {Ink::broken, drawing::kFine_mm}};

/// The lines of a view fall into these; each is drawn over those before it.
enum class Layer { clear, thing, either, wall, area, patch, person };

Layer layer_of(const Surface& surface) {
  if (surface.role == SurfaceRole::person) return Layer::person;
  if (surface.role == SurfaceRole::area) return Layer::area;
  if (surface.role == SurfaceRole::patch) return Layer::patch;
  if (surface.either) return Layer::either;
  if (!surface.hides) return Layer::clear;
  return surface.role == SurfaceRole::wall ? Layer::wall : Layer::thing;
}

struct LayerLook {
  Layer layer;
  const char* id;
  const Stroke* stroke;
  Message (*says)();
};
const std::vector<LayerLook>& looks() {
  static const std::vector<LayerLook> all = {{Layer::clear, "view-clear", &kClear, say::sheets_legend_clear},
                                             {Layer::thing, "view-things", &kThing, say::sheets_legend_thing},
                                             {Layer::either, "view-either", &kEither, say::sheets_legend_either},
                                             {Layer::wall, "view-walls", &kWall, say::sheets_legend_wall},
                                             {Layer::area, "view-areas", &kArea, say::sheets_legend_area},
                                             {Layer::patch, "view-patches", &kPatch, say::sheets_legend_patch},
                                             {Layer::person, "view-persons", &kPerson, say::sheets_legend_person}};
  return all;
}

/// Legend first the building, then what is proven in it.
const std::vector<Layer>& legend_order() {
  static const std::vector<Layer> order = {Layer::wall, Layer::thing,  Layer::clear, Layer::either,
                                           Layer::area, Layer::person, Layer::patch};
  return order;
}

Group named(std::string id) {
  Group group;
  group.name.id = std::move(id);
  return group;
}

bool occurs(const sight::ExpectedView& view, Layer layer) {
  return std::any_of(view.edges.begin(), view.edges.end(),
                     [&](const SeenEdge& edge) { return layer_of(view.surfaces[edge.surface]) == layer; });
}

}  // namespace

std::vector<Point> PictureFrame::points(const std::vector<sight::PicturePlace>& places) const {
  std::vector<Point> all;
  for (const sight::PicturePlace& place : places) all.push_back(at(place));
  return all;
}

Rings rings_of(const sight::SeenArea& area, const PictureFrame& frame) {
  Rings rings;
  for (const auto& ring : area.rings) rings.push_back(frame.points(ring));
  return rings;
}

Group view_lines(const sight::ExpectedView& view, const PictureFrame& frame) {
  Group all = named("view");
  Group hatching = named("view-blind");
  for (const sight::SeenArea& area : view.areas) {
    if (view.surfaces[area.surface].role != SurfaceRole::patch) continue;
    std::vector<Subpath> path;
    for (const auto& ring : rings_of(area, frame)) path.push_back(drawing::ring(ring));
    hatching.items.push_back({drawing::hatched({}, path, kBlind)});
  }
  all.items.push_back({std::move(hatching)});
  for (const LayerLook& look : looks()) {
    std::vector<Subpath> path;
    for (const SeenEdge& edge : view.edges)
      if (layer_of(view.surfaces[edge.surface]) == look.layer)
        path.push_back(drawing::line_through(frame.points(edge.points)));
    if (!path.empty()) all.items.push_back({drawing::stroked(look.id, std::move(path), *look.stroke)});
  }
  std::vector<Subpath> horizon;
  for (const auto& line : view.horizon) horizon.push_back(drawing::line_through(frame.points(line)));
  if (!horizon.empty()) all.items.push_back({drawing::stroked("view-horizon", std::move(horizon), kHorizon)});
  if (!view.masks.empty()) all.items.push_back({view_masks(view, frame)});
  all.items.push_back({drawing::stroked("view-border", {drawing::ring(frame.points(view.border))}, kFrame)});
  // The circle of a fisheye ends before the corners: the clip's own edge is drawn too.
  all.items.push_back({drawing::stroked("view-clip", {drawing::ring(frame.box)}, {Ink::line, drawing::kFine_mm})});
  return all;
}

std::vector<drawing::LegendEntry> view_legend(const sight::ExpectedView& view) {
  const Box box = {0.0, 0.0, drawing::kSampleWidth_mm, drawing::kSampleHeight_mm};
  const auto line = [&](const Stroke& stroke) {
    return Shape(drawing::stroked(
        {}, {drawing::line_through({{box.left, box.centre().y}, {box.right, box.centre().y}})}, stroke));
  };
  std::vector<drawing::LegendEntry> entries;
  for (const Layer layer : legend_order()) {
    if (!occurs(view, layer)) continue;
    const auto look =
        std::find_if(looks().begin(), looks().end(), [&](const LayerLook& one) { return one.layer == layer; });
    drawing::LegendEntry entry = {{}, text(look->says())};
    if (layer == Layer::patch) {
      entry.sample.push_back({drawing::hatched({}, {drawing::ring(box)}, kBlind)});
      entry.sample.push_back({drawing::stroked({}, {drawing::ring(box)}, kPatch)});
    } else {
      entry.sample.push_back({line(*look->stroke)});
    }
    entries.push_back(std::move(entry));
  }
  if (!view.masks.empty()) entries.push_back(mask_legend());
  if (!view.horizon.empty()) entries.push_back({{{line(kHorizon)}}, text(say::sheets_legend_horizon())});
  return entries;
}

}  // namespace zoneproof::sheets
