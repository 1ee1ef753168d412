#include "sheets/plan_density.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/message.hpp"
#include "drawing/shapes.hpp"
#include "drawing/type.hpp"
#include "messages/plan.hpp"
#include "plane/overlay.hpp"
#include "sheets/plan_lines.hpp"
#include "sight/witness.hpp"
#include "site/relations.hpp"
#include "site/shelf.hpp"

namespace zoneproof::sheets {

using drawing::Group;
using drawing::Ink;
using drawing::Item;
using drawing::Line;
using drawing::Stroke;
using drawing::Subpath;

namespace {

const Stroke kFrameLine = {Ink::line, drawing::kThin_mm, {}, drawing::Cap::butt, drawing::Join::round};
const Stroke kContour = {Ink::quiet, drawing::kHairline_mm, {}, drawing::Cap::butt, drawing::Join::round};
constexpr double kStep_m = 1.0 / 8192.0;     ///< 0.12 mm: as coverage is computed
constexpr double kOnBorder_m = 4 * kStep_m;  ///< what lies on the box is no border of a region
constexpr double kBeyond_m = 1.0;            ///< the box lies that far beyond what is drawn

class Frame {
 public:
  Frame(PlanCanvas& canvas, const sight::Watching& watching) : canvas_(canvas), watching_(watching) {
    const plane::Box& extent = canvas.place.extent;
    box_ = {{extent.low.x - kBeyond_m, extent.low.y - kBeyond_m},
            {extent.high.x + kBeyond_m, extent.high.y + kBeyond_m}};
  }

  /// Rings of the reasons that a test passes.
  template <typename Wanted>
  std::vector<plane::Ring> rings(double px_per_m, const Wanted& wanted) const {
    sight::Watching watching = watching_;
    watching.px_per_m = px_per_m;
    watching.height_pct = 0.0;
    sight::Regions regions;
    const sight::Floor* floor = canvas_.scene.building().floor(canvas_.level);
    if (floor == nullptr) return {};
    sight::add_camera(canvas_.scene.building(), watching, 0, canvas_.scene.rules().demand, *floor, {}, box_, regions);
    std::vector<plane::Ring> found;
    for (plane::Ring& ring : regions.rings)
      if (wanted(regions.reason(ring.label).why)) found.push_back(std::move(ring));
    return found;
  }

  /// Where the whole band is in the picture.
  sight::Outlines inside() const {
    std::vector<plane::Ring> all = rings(0.0, [](sight::Why why) { return is_edge(why); });
    for (plane::Ring& ring : all) ring.label = 1;
    all.push_back({{box_.low, {box_.high.x, box_.low.y}, box_.high, {box_.low.x, box_.high.y}}, 0});
    const double room = 32 * kStep_m;
    const plane::Overlay overlay(
        all, {{box_.low.x - room, box_.low.y - room}, {box_.high.x + room, box_.high.y + room}}, kStep_m);
    sight::Outlines outlines;
    for (const plane::Part& part : overlay.parts([](std::span<const plane::Label> labels) {
           return labels.size() == 1 && labels[0] == 0 ? 0 : plane::none;
         }))
      for (auto& ring : overlay.outlines(part)) outlines.push_back(std::move(ring));
    return outlines;
  }

  /// Sides of outlines that are not the box's, as lines on paper within what is drawn.
  std::vector<Line> lines_of(const std::vector<plane::Point>& ring) const {
    std::vector<Line> lines;
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const plane::Point a = ring[i], b = ring[(i + 1) % ring.size()];
      if (!on_box(a, b)) lines.push_back({canvas_.place.at(a), canvas_.place.at(b)});
    }
    return lines;
  }

 private:
  bool on_box(plane::Point a, plane::Point b) const {
    const auto both = [](double u, double v, double w) {
      return std::abs(u - w) < kOnBorder_m && std::abs(v - w) < kOnBorder_m;
    };
    return both(a.x, b.x, box_.low.x) || both(a.x, b.x, box_.high.x) || both(a.y, b.y, box_.low.y) ||
           both(a.y, b.y, box_.high.y);
  }

  PlanCanvas& canvas_;
  const sight::Watching& watching_;
  plane::Box box_;
};

std::vector<Subpath> paths_of(const std::vector<Line>& lines) {
  std::vector<Subpath> paths;
  for (const Line& line : lines) paths.push_back(drawing::line_through({line.from, line.to}));
  return paths;
}

void add_number(PlanCanvas& canvas, const std::string& id, double step, const std::vector<Line>& lines) {
  const auto longest = std::max_element(lines.begin(), lines.end(), [](const Line& a, const Line& b) {
    return length(a.to - a.from) < length(b.to - b.from);
  });
  constexpr int digits = 4;
  PlanLabel label = plan_label(canvas.ruler, id, {shown({step, "px_per_m", digits})}, Ink::quiet);
  label.anchor = (longest->from + longest->to) * 0.5;
  label.must = true;
  label.symbol = false;
  // Along the line, from its middle outwards.
  for (const double share : {0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8})
    label.spots.push_back(longest->from + (longest->to - longest->from) * share);
  for (const Line& line : lines) label.spots.push_back((line.from + line.to) * 0.5);
  canvas.labels.push_back(std::move(label));
}

}  // namespace

std::vector<double> density_steps(const site::Site& site) {
  const site::Rulebook* book = site::rulebook_of(site);
  if (book == nullptr) return {};
  constexpr const char* unit = "px_per_m";
  const site::RuleEntry* chosen = site.rulebook.view_rule.empty() ? nullptr : site::rule(site, site.rulebook.view_rule);
  std::vector<double> steps;
  for (const auto& [id, entry] : book->entries) {
    if (entry.unit != unit || !entry.value.known()) continue;
    if (chosen != nullptr && chosen->unit == unit && entry.source != chosen->source) continue;
    steps.push_back(entry.value.nominal);
  }
  std::sort(steps.begin(), steps.end());
  steps.erase(std::unique(steps.begin(), steps.end()), steps.end());
  return steps;
}

Group plan_frame(PlanCanvas& canvas, const sight::Watching& watching, const std::vector<double>& steps) {
  Group layer;
  layer.name = {
      "frame-" + watching.camera, text(say::plan_frame_of(site::called(canvas.site().cameras, watching.camera))), {}};
  const Frame frame(canvas, watching);
  const sight::Outlines inside = frame.inside();
  const plane::Box& extent = canvas.place.extent;
  const std::vector<Subpath> paper =
      canvas.place.rings({{extent.low, {extent.high.x, extent.low.y}, extent.high, {extent.low.x, extent.high.y}}});
  std::vector<Line> border;
  for (const auto& ring : inside)
    for (const Line& line : frame.lines_of(ring))
      for (const Line& part : parts_inside(line, paper)) border.push_back(part);
  if (border.empty()) return layer;
  canvas.signs.insert(PlanSign::frame);
  canvas.lines.insert(canvas.lines.end(), border.begin(), border.end());
  layer.items.push_back({drawing::stroked("frame-" + watching.camera + "-edge", paths_of(border), kFrameLine)});
  const std::vector<Subpath> within = canvas.place.rings(inside);
  for (const double step : steps) {
    std::vector<Line> contour;
    for (const plane::Ring& ring : frame.rings(step, [](sight::Why why) { return why == sight::Why::too_far; }))
      for (const Line& line : frame.lines_of(ring.corners))
        for (const Line& part : parts_inside(line, within))
          for (const Line& drawn : parts_inside(part, paper)) contour.push_back(drawn);
    if (contour.empty()) continue;
    const std::string id = fmt::format("density-{}-{}", watching.camera, step);
    layer.items.push_back({drawing::stroked(id, paths_of(contour), kContour)});
    canvas.lines.insert(canvas.lines.end(), contour.begin(), contour.end());
    canvas.signs.insert(PlanSign::contour);
    add_number(canvas, id + "-number", step, contour);
  }
  return layer;
}

std::vector<Item> density_sample(PlanSign sign) {
  const double low = drawing::kSampleHeight_mm - 0.3, middle = drawing::kSampleHeight_mm / 2;
  switch (sign) {
    case PlanSign::frame:
      return {{drawing::stroked({}, {drawing::line_through({{9.0, 0.3}, {3.0, 1.6}, {3.0, low - 1.3}, {9.0, low}})},
                                kFrameLine)}};
    case PlanSign::contour:
      return {{drawing::stroked({}, {drawing::line_through({{0.0, middle}, {10.0, middle}})}, kContour)}};
    default: return {};
  }
}

}  // namespace zoneproof::sheets
