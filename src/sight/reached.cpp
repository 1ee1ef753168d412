#include <algorithm>

#include "sight/coverage.hpp"
#include "sight/stage.hpp"

namespace zoneproof::sight {

namespace {

using plane::Box;
using plane::Label;
using plane::Point;

/// An outline laid out with what sources reach of it for sure.
class Wanted {
 public:
  Wanted(const Building& building, const Stage& stage, const Outlines& wanted, const Demand& demand)
      : sources_(stage.sources.size()), clear_(demand.clear_pct / 100.0) {
    const Box box = box_around(wanted);
    wanted_ = regions_.label({kNobody, Why::base, kNothing, {}, 0.0, false, 1.0});
    for (const std::vector<Point>& ring : wanted) regions_.add(ring, wanted_);
    for (std::size_t i = 0; i < sources_; ++i) add_source(building, stage, i, box);
    floor_ = regions_.label({kNobody, Why::base, kNothing, {}, 0.0, false, 1.0});
    for (const Prism& prism : building.prisms)
      if (takes_floor(building, prism, stage.floor, demand)) add_within(regions_, prism.outline, floor_, box);
    overlay_.emplace(laid_over(regions_, box));
  }

  bool is_wanted(std::span<const Label> labels) const {
    return has_label(labels, wanted_) && !has_label(labels, floor_);
  }
  /// Whatever doors and racks do.
  bool is_reached(std::span<const Label> labels) const {
    for (std::size_t i = 0; i < sources_; ++i) {
      if (!has_label(labels, base_[i])) continue;
      const double reaching = share_reaching(regions_, labels, i, {});
      if (reaching > 0.0 && reaching >= clear_) return true;
    }
    return false;
  }
  const plane::Overlay& overlay() const { return *overlay_; }

 private:
  void add_source(const Building& building, const Stage& stage, std::size_t viewer, const Box& box) {
    const AreaSource& source = *stage.sources[viewer];
    base_.push_back(regions_.label({viewer, Why::base, kNothing, {}, 0.0, false, 1.0}));
    for (const std::vector<Point>& ring : source.outlines) add_within(regions_, ring, base_.back(), box);
    if (!source.looks) return;
    Looking looking = *source.looks;
    looking.viewer = viewer;
    add_obstacles(building, looking, box, regions_);
  }

  std::size_t sources_;
  double clear_;
  Regions regions_;
  std::vector<Label> base_;
  Label wanted_ = 0, floor_ = 0;
  std::optional<plane::Overlay> overlay_;
};

}  // namespace

Coverage reached(const Building& building, const std::vector<AreaSource>& sources, const Outlines& wanted,
                 const std::string& level, const Demand& demand, double least_patch_m2) {
  Coverage found;
  const Floor* floor = building.floor(level);
  if (floor == nullptr || wanted.empty()) return found;
  Stage stage{*floor, {}, {}};
  for (const AreaSource& source : sources)
    if (source.level == level) stage.sources.push_back(&source);
  const Wanted laid(building, stage, wanted, demand);
  const plane::Overlay& overlay = laid.overlay();
  found.area_m2 = overlay.area_where([&](auto labels) { return laid.is_wanted(labels); });
  // Beside what is reached a small part is left out; where no more than such a part is reached, all that is not counts.
  const double hit = overlay.area_where([&](auto labels) { return laid.is_wanted(labels) && laid.is_reached(labels); });
  const double least = hit < least_patch_m2 ? 0.0 : least_patch_m2;
  double missed = 0.0;
  for (const plane::Part& part : overlay.parts(
           [&](auto labels) { return laid.is_wanted(labels) && !laid.is_reached(labels) ? 1 : plane::none; })) {
    if (part.area < least) continue;
    missed += part.area;
    found.patches.push_back(
        {level, floor->height_m, overlay.outlines(part), part.area, place_inside(overlay, part), {}});
  }
  found.witnessed_m2 = found.area_m2 - missed;
  std::stable_sort(found.patches.begin(), found.patches.end(),
                   [](const Patch& a, const Patch& b) { return a.area_m2 > b.area_m2; });
  return found;
}

}  // namespace zoneproof::sight
