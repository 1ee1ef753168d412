#include "sheets/zone_cut_out.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "drawing/clipped.hpp"
#include "drawing/north_arrow.hpp"
#include "drawing/prefixed.hpp"
#include "drawing/scale_bar.hpp"
#include "drawing/shapes.hpp"
#include "drawing/type.hpp"
#include "sheets/plan_layers.hpp"
#include "site/relations.hpp"

namespace zoneproof::sheets {

using drawing::Box;
using drawing::Group;
using drawing::Point;

namespace {

constexpr double kAbout_m = 1.0;        ///< of the surroundings, at the least
constexpr double kLeastExtent_m = 5.0;  ///< a contact alone is shown in its room
constexpr double kLeastWide_mm = 80.0, kLeastHigh_mm = 30.0;
constexpr double kFoot_mm = 11.0, kArrow_mm = 3.5, kPadding_mm = 2.0, kInner_mm = 0.5;

double area_of(const sight::Outlines& outlines) {
  double twice = 0.0;
  for (const auto& ring : outlines)
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const plane::Point a = ring[i], b = ring[(i + 1) % ring.size()];
      twice += a.x * b.y - b.x * a.y;
    }
  return std::abs(twice) / 2;
}

/// Where a zone is, on one level.
class ZonePlace {
 public:
  ZonePlace(const sight::Scene& scene, const sight::ZoneView& view) : site_(scene.site()), view_(view) {
    std::map<std::string, double> sizes;
    for (std::size_t i = 0; i < view.coverage.areas.size(); ++i)
      sizes[view.coverage.area_levels[i]] += area_of(view.coverage.areas[i]);
    for (const std::string& id : site::detectors_of_zone(site_, view.zone))
      if (const auto detector = site_.detectors.find(id); detector != site_.detectors.end()) {
        mounts_.push_back(&detector->second.mount);
        if (detector->second.mount.level.known()) sizes[detector->second.mount.level.id] += 0.0;
      }
    double most = -1.0;
    for (const auto& [level, size] : sizes)
      if (size > most && site_.levels.contains(level)) {
        level_ = level;
        most = size;
      }
  }

  const std::string& level() const { return level_; }

  std::set<std::string> devices() const {
    std::set<std::string> ids(view_.cameras.begin(), view_.cameras.end());
    for (const std::string& id : site::detectors_of_zone(site_, view_.zone)) ids.insert(id);
    return ids;
  }

  /// The smallest box about it; nothing where no place is known.
  std::optional<plane::Box> box() const {
    std::vector<plane::Point> places;
    for (std::size_t i = 0; i < view_.coverage.areas.size(); ++i)
      if (view_.coverage.area_levels[i] == level_)
        for (const auto& ring : view_.coverage.areas[i]) places.insert(places.end(), ring.begin(), ring.end());
    for (const site::Mount* mount : mounts_) add(places, *mount);
    if (places.empty()) return std::nullopt;
    for (const std::string& id : view_.cameras)
      if (const auto camera = site_.cameras.find(id); camera != site_.cameras.end()) add(places, camera->second.mount);
    plane::Box box = {places.front(), places.front()};
    for (const plane::Point p : places) {
      box.low = {std::min(box.low.x, p.x), std::min(box.low.y, p.y)};
      box.high = {std::max(box.high.x, p.x), std::max(box.high.y, p.y)};
    }
    widen(box.low.x, box.high.x);
    widen(box.low.y, box.high.y);
    return box;
  }

 private:
  void add(std::vector<plane::Point>& places, const site::Mount& mount) const {
    if (mount.level.id == level_ && mount.x_m.known() && mount.y_m.known())
      places.push_back({mount.x_m.nominal, mount.y_m.nominal});
  }
  static void widen(double& low, double& high) {
    const double more = std::max(kAbout_m, (kLeastExtent_m - (high - low)) / 2);
    low -= more;
    high += more;
  }

  const site::Site& site_;
  const sight::ZoneView& view_;
  std::vector<const site::Mount*> mounts_;
  std::string level_;
};

/// The largest scale at or below 1:`least` among steps that a ruler and a head still take: a cut-out is looked at, and
/// measured by its bar; the plan itself keeps to the scales of rulers.
double snug_scale(double least) {
  constexpr double steps[] = {1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0};
  const double power = std::pow(10.0, std::floor(std::log10(least)));
  for (const double step : steps)
    if (step * power >= least) return step * power;
  return 10.0 * power;
}

constexpr double kPerMetre_mm = 1000.0;

double scale_in(const plane::Box& box, const Box& room) {
  return snug_scale(kPerMetre_mm *
                    std::max((box.high.x - box.low.x) / room.width(), (box.high.y - box.low.y) / room.height()));
}

/// The room cut down to what a box takes, but for what names and the scale need.
Box window_about(const plane::Box& box, double scale, const Box& room) {
  const double wide = std::clamp((box.high.x - box.low.x) * kPerMetre_mm / scale, kLeastWide_mm, room.width());
  const double high = (box.high.y - box.low.y) * kPerMetre_mm / scale;
  return {room.left, room.top, room.left + wide, room.top + std::min(std::max(high, kLeastHigh_mm), room.height())};
}

/// What of the level fills the window, with the box in its middle.
PlanPlace place_in(const plane::Box& box, double scale, const Box& window) {
  PlanPlace place;
  place.scale = scale;
  const double wide = window.width() * scale / kPerMetre_mm, high = window.height() * scale / kPerMetre_mm;
  const plane::Point middle = {(box.low.x + box.high.x) / 2, (box.low.y + box.high.y) / 2};
  place.extent = {{middle.x - wide / 2, middle.y - high / 2}, {middle.x + wide / 2, middle.y + high / 2}};
  place.corner = {window.left, window.bottom};
  return place;
}

/// Names of what the window shows, of those that have to be found: an operator looks for one place.
std::vector<PlanLabel> labels_within(const std::vector<PlanLabel>& labels, const Box& window) {
  std::vector<PlanLabel> kept;
  for (PlanLabel label : labels) {
    if (!label.must || !drawing::inside(label.anchor, window)) continue;
    const auto outside = [&](Point at) { return !drawing::inside(at, window); };
    label.or_at.erase(std::remove_if(label.or_at.begin(), label.or_at.end(), outside), label.or_at.end());
    label.spots.erase(std::remove_if(label.spots.begin(), label.spots.end(), outside), label.spots.end());
    kept.push_back(std::move(label));
  }
  return kept;
}

Group foot_of(const drawing::Ruler& ruler, double scale, const Box& room) {
  Group foot;
  const double middle = room.bottom - kFoot_mm / 2;
  foot.items.push_back({drawing::north_arrow(ruler, {room.right - 2 * kArrow_mm, middle + 1.0}, kArrow_mm, 0.0)});
  drawing::ScaleBar bar =
      drawing::scale_bar(ruler, scale, {room.left, 0.0}, room.width() - 5 * kArrow_mm - kPadding_mm);
  foot.items.push_back(moved(drawing::Item{std::move(bar.group)}, {0.0, middle - bar.box.centre().y}));
  return foot;
}

}  // namespace

std::optional<CutOut> zone_cut_out(const drawing::Ruler& ruler, const sight::Scene& scene,
                                   const std::vector<sight::ZoneView>& views, const std::string& zone,
                                   const std::string& id, const Box& room) {
  const auto own = std::find_if(views.begin(), views.end(), [&](const auto& view) { return view.zone == zone; });
  if (own == views.end()) return std::nullopt;
  const ZonePlace where(scene, *own);
  const auto box = where.box();
  if (!box) return std::nullopt;
  const Box above = {room.left, room.top, room.right, room.bottom - kFoot_mm};
  const double scale = scale_in(*box, above);
  const Box window = window_about(*box, scale, above);
  const Box taken = {window.left, window.top, window.right, window.bottom + kFoot_mm};
  const std::vector<NumberedPatch> patches = patches_on_level(scene.site(), views, where.level(), zone);
  PlanCanvas canvas{ruler, scene, where.level(),          place_in(*box, scale, window), {}, {}, {}, {},
                    {},    {},    told_by_causes(patches)};
  canvas.only = where.devices();
  PlanLayers layers = plan_layers(canvas, {*own}, patches);
  drawing::LabelField field;
  field.area = grown(window, -kInner_mm);
  field.lines = canvas.lines;
  field.gap_mm = kNameGap_mm;
  for (const Box& symbol : canvas.symbols)
    if (drawing::overlap(symbol, window)) field.taken.push_back(symbol);
  PlacedLabels labels = place_labels(labels_within(canvas.labels, window), field, canvas.walls);
  CutOut made{{}, taken, where.level(), canvas.place.scale, std::move(labels.nowhere), std::move(canvas.unknown)};
  for (Group& layer : std::move(layers).in_order(std::move(labels.below), std::move(labels.names))) {
    Group within = drawing::clipped(layer, window);
    if (!within.items.empty()) made.group.items.push_back({std::move(within)});
  }
  made.group.items.push_back({foot_of(ruler, made.scale, taken)});
  made.group = drawing::prefixed(std::move(made.group), id);
  made.group.items.push_back({drawing::stroked({}, {drawing::ring(window)}, {drawing::Ink::line, drawing::kFine_mm})});
  made.group.name.id = id;
  return made;
}

}  // namespace zoneproof::sheets
