#include "sight/coverage.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <tuple>

#include "sight/stage.hpp"
#include "sight/worst_place.hpp"

namespace zoneproof::sight {

namespace {

using plane::Box;
using plane::Label;
using plane::Point;

/// One stage laid out: what is area, and what of it is witnessed.
class Laid {
 public:
  Laid(const Building& building, const Stage& stage, const std::vector<Watching>& cameras, const Demand& demand,
       const Box& box)
      : building_(building), stage_(stage), cameras_(cameras), demand_(demand) {
    std::vector<std::string> opens;
    for (const AreaSource* source : stage.sources)
      opens.insert(opens.end(), source->opens.begin(), source->opens.end());
    for (std::size_t i = 0; i < stage.sources.size(); ++i) add_source(*stage.sources[i], i, box);
    add_floor(box);
    for (std::size_t i = 0; i < cameras.size(); ++i)
      add_camera(building, cameras[i], viewer_of_camera(i), demand, stage.floor, things_of_openings(building, opens),
                 box, regions_);
    overlay_.emplace(laid_over(regions_, box));
  }

  struct Judged {
    bool area = false, seen = false;
    std::vector<bool> by_camera;
  };

  /// A place with these labels: of the area, and whether some camera shows it whatever the doors do.
  Judged judge(std::span<const Label> labels) const {
    Judged judged;
    judged.by_camera.assign(cameras_.size(), true);
    judged.seen = true;
    if (stage_.step.empty() ? has_label(labels, floor_) : !has_label(labels, floor_)) return {false, false, {}};
    const double clear = demand_.clear_pct / 100.0;
    for (std::size_t i = 0; i < stage_.sources.size(); ++i) {
      if (!has_label(labels, base_[i])) continue;
      judge_states(labels, i, either_things(regions_, labels, i), 0, clear, judged);
    }
    judged.seen = judged.seen && judged.area;
    return judged;
  }

  /// Of the sources that hold a place with these labels: the smallest area that is shown of one of them on this stage.
  double shown_of_sources_at(std::span<const Label> labels) const {
    double least = std::numeric_limits<double>::infinity();
    for (const Label base : base_) {
      if (!has_label(labels, base)) continue;
      least = std::min(least, overlay_->area_where([&](auto at) { return has_label(at, base) && judge(at).seen; }));
    }
    return least;
  }

  const plane::Overlay& overlay() const { return *overlay_; }
  const Regions& regions() const { return regions_; }
  const Stage& stage() const { return stage_; }
  std::size_t viewer_of_camera(std::size_t camera) const { return stage_.sources.size() + camera; }

 private:
  /// With these things open, and then with each that may be shut as well without losing the source, from the given one
  /// on: so every state counts once, and a source that reaches no place through what is shut ends it at once.
  void judge_states(std::span<const Label> labels, std::size_t source, std::vector<std::size_t> open, std::size_t first,
                    double clear, Judged& judged) const {
    const double reaching = share_reaching(regions_, labels, source, open);
    if (reaching <= 0.0 || reaching < clear) return;
    judged.area = true;
    bool any = false;
    for (std::size_t camera = 0; camera < cameras_.size(); ++camera) {
      const double shown = share_reaching(regions_, labels, viewer_of_camera(camera), open);
      const bool sees = shown > 0.0 && shown >= clear;
      judged.by_camera[camera] = judged.by_camera[camera] && sees;
      any = any || sees;
    }
    judged.seen = judged.seen && any;
    for (std::size_t k = first; k < open.size(); ++k) {
      std::vector<std::size_t> fewer = open;
      fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(k));
      judge_states(labels, source, std::move(fewer), k, clear, judged);
    }
  }

  void add_source(const AreaSource& source, std::size_t viewer, const Box& box) {
    base_.push_back(regions_.label({viewer, Why::base, kNothing, {}, 0.0, false, 1.0}));
    for (const std::vector<Point>& ring : source.outlines) add_within(regions_, ring, base_.back(), box);
    if (!source.looks) return;
    Looking looking = *source.looks;
    looking.viewer = viewer;
    const double raised = stage_.floor.height_m - building_.floor(source.level)->height_m;
    // On the upper steps of a stair the head is in the hole of the ceiling: what hangs below it sees none of that.
    const double low = looking.band.low_m + raised, high = looking.band.high_m + raised;
    looking.band = {low, std::min(high, std::max(low, stage_.floor.ceiling_m))};
    looking.ignored = things_of_openings(building_, source.opens);
    add_obstacles(building_, looking, box, regions_);
  }

  /// Of a level: what leaves no floor. Of a step: the step itself.
  void add_floor(const Box& box) {
    floor_ = regions_.label({kNobody, Why::base, kNothing, {}, 0.0, false, 1.0});
    if (!stage_.step.empty()) return add_within(regions_, stage_.step, floor_, box);
    for (const Prism& prism : building_.prisms)
      if (takes_floor(building_, prism, stage_.floor, demand_)) add_within(regions_, prism.outline, floor_, box);
  }

  const Building& building_;
  const Stage& stage_;
  const std::vector<Watching>& cameras_;
  const Demand& demand_;
  Regions regions_;
  std::vector<Label> base_;
  Label floor_ = 0;
  std::optional<plane::Overlay> overlay_;
};

/// Why the best camera does not show a part, with areas.
std::vector<Cause> causes_of(const Building& building, const Laid& laid, const std::vector<Watching>& cameras,
                             std::size_t best, const plane::Part& part) {
  std::vector<Cause> causes;
  if (cameras.empty()) return causes;
  const plane::Overlay& overlay = laid.overlay();
  const auto cause_at = [&](const Reason& reason) -> Cause& {
    const bool hidden = reason.why == Why::hidden;
    const std::string thing = hidden ? building.things[reason.thing].id : std::string();
    const ThingKind kind = hidden ? building.things[reason.thing].kind : ThingKind::wall;
    for (Cause& cause : causes)
      if (std::tie(cause.why, cause.thing_kind, cause.thing, cause.mask) ==
          std::tie(reason.why, kind, thing, reason.mask))
        return cause;
    causes.push_back({cameras[best].camera, reason.why, kind, thing, reason.mask, 0.0, 0.0});
    return causes.back();
  };
  for (const std::int32_t triangle : part.triangles) {
    std::set<std::tuple<Why, ThingKind, std::string, std::string>> counted;
    Cause* only = nullptr;
    const std::span<const Label> labels = overlay.labels(overlay.set_of(triangle));
    const auto told = [&](const Reason& reason) {
      return reason.viewer == laid.viewer_of_camera(best) && reason.why != Why::base;
    };
    const bool behind = std::any_of(labels.begin(), labels.end(), [&](Label label) {
      const Reason& reason = laid.regions().reason(label);
      return told(reason) && reason.why == Why::behind;
    });
    for (const Label label : labels) {
      const Reason& reason = laid.regions().reason(label);
      if (!told(reason) || (behind && is_edge(reason.why))) continue;
      Cause& cause = cause_at(reason);
      if (!counted.insert({cause.why, cause.thing_kind, cause.thing, cause.mask}).second) continue;
      cause.area_m2 += overlay.area(triangle);
      only = &cause;
    }
    if (counted.size() == 1) only->alone_m2 += overlay.area(triangle);
  }
  std::stable_sort(causes.begin(), causes.end(), [](const Cause& a, const Cause& b) { return a.area_m2 > b.area_m2; });
  return causes;
}

/// Only where there is room for a person: between two shadows that meet, rounding leaves or closes cracks.
void add_worst(const Laid& laid, const std::vector<Watching>& cameras, const Demand& demand, double least_patch_m2,
               Coverage& coverage) {
  const plane::Overlay& overlay = laid.overlay();
  std::vector<Laid::Judged> judged;
  for (std::int32_t set = 0; set < overlay.set_count(); ++set) judged.push_back(laid.judge(overlay.labels(set)));
  const Floor& floor = laid.stage().floor;
  const plane::Triangulation& t = overlay.triangulation();
  WorstPlaceSearch search(cameras, demand, floor.height_m);
  for (const plane::Part& part : overlay.parts([&](auto labels) {
         const Laid::Judged at = laid.judge(labels);
         return at.area && at.seen ? 1 : plane::none;
       })) {
    if (part.area < least_patch_m2) continue;
    for (const std::int32_t triangle : part.triangles) {
      const plane::Half h = 3 * triangle;
      search.look_at({t.point(t.origin(h)), t.point(t.origin(h + 1)), t.point(t.origin(h + 2))},
                     judged[static_cast<std::size_t>(overlay.set_of(triangle))].by_camera);
    }
  }
  const WorstPlaceSearch::Found found = search.find();
  if (found.px_per_m <= 0.0 || (coverage.worst && !clearly_less(found.px_per_m, coverage.worst->px_per_m))) return;
  const Watching& camera = cameras[found.camera];
  coverage.worst = {camera.camera, floor.level, found.at, found.px_per_m,
                    camera.model.height_share_pct({found.at.x, found.at.y, floor.height_m}, demand.to_m)};
}

/// A crack that rounding leaves along its border: no wider than the grid.
bool is_crack(const plane::Overlay& overlay, const plane::Part& part) {
  double border = 0.0;
  for (const std::vector<Point>& ring : overlay.outlines(part))
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Point a = ring[i], b = ring[(i + 1) % ring.size()];
      border += std::hypot(b.x - a.x, b.y - a.y);
    }
  constexpr double widest = 4.0 * kGrid_m;
  return part.area <= widest * border;
}

/// Whether a part is too small to hold a person beside what else there is: beside what is shown around it, or beside
/// what is shown of the rest of its source. Of a source that is not shown (a button, a mat, a strip that a wall has cut
/// to bits) every bit counts.
bool is_rim(const Laid& laid, const plane::Part& part, double least_patch_m2) {
  if (part.area >= least_patch_m2) return false;
  const plane::Overlay& overlay = laid.overlay();
  if (is_crack(overlay, part)) return true;
  for (const std::int32_t triangle : part.triangles) {
    for (plane::Half h = 3 * triangle; h < 3 * triangle + 3; ++h) {
      const plane::Half beyond = overlay.triangulation().twin(h);
      if (beyond != plane::none && laid.judge(overlay.labels(overlay.set_of(beyond / 3))).seen) return true;
    }
  }
  return laid.shown_of_sources_at(overlay.labels(overlay.set_of(part.triangles.front()))) >= least_patch_m2;
}

/// Coverage of sources that all count together.
Coverage of_together(const Building& building, const std::vector<const AreaSource*>& sources,
                     const std::vector<Watching>& cameras, const Demand& demand, double least_patch_m2) {
  Coverage sum;
  std::vector<Stage> stages = stages_of(building, sources);
  for (const Stage& stage : stages) {
    const auto box = box_of(stage);
    if (!box) continue;
    const Laid laid(building, stage, cameras, demand, *box);
    const plane::Overlay& overlay = laid.overlay();
    const double area = overlay.area_where([&](auto labels) { return laid.judge(labels).area; });
    if (area <= 0.0) continue;
    std::vector<double> by_camera(cameras.size(), 0.0);
    for (std::size_t camera = 0; camera < cameras.size(); ++camera) {
      by_camera[camera] = overlay.area_where([&](auto labels) {
        const Laid::Judged at = laid.judge(labels);
        return at.area && at.by_camera[camera];
      });
      sum.by_camera_m2[cameras[camera].camera] += by_camera[camera];
    }
    const auto best =
        static_cast<std::size_t>(std::max_element(by_camera.begin(), by_camera.end()) - by_camera.begin());
    double blind = 0.0;
    // A patch along a stair is cut into steps: all of them together count as one would.
    const double least = stage.step.empty() ? least_patch_m2 : least_patch_m2 / static_cast<double>(stages.size());
    for (const plane::Part& part : overlay.parts([&](auto labels) {
           const Laid::Judged at = laid.judge(labels);
           return at.area && !at.seen ? 1 : plane::none;
         })) {
      if (is_rim(laid, part, least)) continue;
      blind += part.area;
      sum.patches.push_back({stage.floor.level, stage.floor.height_m, overlay.outlines(part), part.area,
                             place_inside(overlay, part), causes_of(building, laid, cameras, best, part)});
    }
    for (const plane::Part& part :
         overlay.parts([&](auto labels) { return laid.judge(labels).area ? 1 : plane::none; })) {
      if (part.area < least_patch_m2) continue;
      sum.areas.push_back(overlay.outlines(part));
      sum.area_levels.push_back(stage.floor.level);
      sum.area_floors_m.push_back(stage.floor.height_m);
    }
    sum.area_m2 += area;
    sum.witnessed_m2 += area - blind;
    sum.shown_m2 += overlay.area_where([&](auto labels) { return laid.judge(labels).seen; });
    add_worst(laid, cameras, demand, least_patch_m2, sum);
  }
  return sum;
}

void join(Coverage& sum, Coverage more) {
  sum.area_m2 += more.area_m2;
  sum.witnessed_m2 += more.witnessed_m2;
  sum.shown_m2 += more.shown_m2;
  for (const auto& [camera, area] : more.by_camera_m2) sum.by_camera_m2[camera] += area;
  const auto append = [](auto& to, auto& from) {
    to.insert(to.end(), std::make_move_iterator(from.begin()), std::make_move_iterator(from.end()));
  };
  append(sum.patches, more.patches);
  append(sum.areas, more.areas);
  append(sum.area_levels, more.area_levels);
  append(sum.area_floors_m, more.area_floors_m);
  if (more.worst && (!sum.worst || clearly_less(more.worst->px_per_m, sum.worst->px_per_m))) sum.worst = more.worst;
}

/// The better of two approaches: the one with the larger share, then the larger area.
bool better(const Coverage& a, const Coverage& b) {
  return std::tuple(a.share_pct(), a.area_m2) > std::tuple(b.share_pct(), b.area_m2);
}

}  // namespace

Coverage coverage(const Building& building, const std::vector<AreaSource>& sources,
                  const std::vector<Watching>& cameras, const Demand& demand, double least_patch_m2) {
  std::vector<const AreaSource*> together;
  std::map<std::string, std::map<int, std::vector<const AreaSource*>>> openings;
  for (const AreaSource& source : sources) {
    if (source.opening.empty())
      together.push_back(&source);
    else
      openings[source.opening][source.side].push_back(&source);
  }
  Coverage sum = of_together(building, together, cameras, demand, least_patch_m2);
  for (const auto& [opening, sides] : openings) {
    std::optional<Coverage> best;
    for (const auto& [side, one] : sides) {
      Coverage here = of_together(building, one, cameras, demand, least_patch_m2);
      if (!best || better(here, *best)) best = std::move(here);
    }
    join(sum, std::move(*best));
  }
  if (sum.shown_m2 <= 0.0 && sum.witnessed_m2 > 0.0) return coverage(building, sources, cameras, demand, 0.0);
  std::stable_sort(sum.patches.begin(), sum.patches.end(),
                   [](const Patch& a, const Patch& b) { return a.area_m2 > b.area_m2; });
  return sum;
}

}  // namespace zoneproof::sight
