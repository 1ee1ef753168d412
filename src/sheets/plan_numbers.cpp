#include "sheets/plan_numbers.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "site/outline.hpp"

namespace zoneproof::sheets {

namespace {

/// The stair on whose steps a patch lies: above its level's floor, between the ends and sides of a flight.
std::string stair_of(const site::Site& site, const sight::Patch& patch) {
  const auto level = site.levels.find(patch.level);
  if (level == site.levels.end() || patch.floor_m <= level->second.elevation_m.nominal) return {};
  for (const auto& [id, stair] : site.stairs) {
    const auto ends = site::points_of({stair.foot, stair.head});
    if (stair.level.id != patch.level || !ends || !stair.width_m.known()) continue;
    const plane::Point a = (*ends)[0], along = {(*ends)[1].x - a.x, (*ends)[1].y - a.y};
    const plane::Point to = {patch.inside.x - a.x, patch.inside.y - a.y};
    const double size = std::hypot(along.x, along.y), way = (to.x * along.x + to.y * along.y) / size;
    const double aside = std::abs(to.x * along.y - to.y * along.x) / size;
    if (way >= 0.0 && way <= size && aside <= stair.width_m.nominal / 2) return id;
  }
  return {};
}

bool same(const sight::Cause& a, const sight::Cause& b) {
  return a.camera == b.camera && a.why == b.why && a.thing_kind == b.thing_kind && a.thing == b.thing &&
         a.mask == b.mask;
}

void join(sight::Patch& into, const sight::Patch& patch) {
  into.outlines.insert(into.outlines.end(), patch.outlines.begin(), patch.outlines.end());
  into.area_m2 += patch.area_m2;
  for (const sight::Cause& cause : patch.causes) {
    const auto known =
        std::find_if(into.causes.begin(), into.causes.end(), [&](const auto& one) { return same(one, cause); });
    if (known == into.causes.end()) {
      into.causes.push_back(cause);
    } else {
      known->area_m2 += cause.area_m2;
      known->alone_m2 += cause.alone_m2;
    }
  }
  std::stable_sort(into.causes.begin(), into.causes.end(),
                   [](const auto& a, const auto& b) { return a.area_m2 > b.area_m2; });
}

}  // namespace

std::vector<const sight::ZoneView*> in_order_of_zones(const site::Site& site,
                                                      const std::vector<sight::ZoneView>& views) {
  std::vector<const sight::ZoneView*> ordered;
  for (const sight::ZoneView& view : views) ordered.push_back(&view);
  const auto number = [&](const sight::ZoneView* view) {
    const auto zone = site.zones.find(view->zone);
    const bool known = zone != site.zones.end() && zone->second.number.known();
    return known ? *zone->second.number.value : std::numeric_limits<long long>::max();
  };
  std::stable_sort(ordered.begin(), ordered.end(), [&](const auto* a, const auto* b) { return number(a) < number(b); });
  return ordered;
}

std::vector<NumberedPatch> numbered_patches(const site::Site& site, const std::vector<sight::ZoneView>& views,
                                            const std::string& zone) {
  std::vector<NumberedPatch> numbered;
  int number = 0;
  for (const sight::ZoneView* view : in_order_of_zones(site, views)) {
    const bool wanted = zone.empty() || view->zone == zone;
    std::map<std::string, std::size_t> on_stairs;  // of this zone: where its number is
    for (std::size_t i = 0; i < view->coverage.patches.size(); ++i) {
      const sight::Patch& patch = view->coverage.patches[i];
      const std::string stair = stair_of(site, patch);
      if (!stair.empty()) {
        const auto [known, fresh] = on_stairs.emplace(stair, numbered.size());
        if (!fresh && wanted) {
          numbered[known->second].members.push_back(i);
          join(numbered[known->second].patch, patch);
        }
        if (!fresh) continue;
      }
      ++number;
      if (wanted) numbered.push_back({number, view, {i}, stair, patch});
    }
  }
  return numbered;
}

std::vector<NumberedPatch> patches_on_level(const site::Site& site, const std::vector<sight::ZoneView>& views,
                                            const std::string& level, const std::string& zone) {
  std::vector<NumberedPatch> patches = numbered_patches(site, views, zone);
  patches.erase(
      std::remove_if(patches.begin(), patches.end(), [&](const auto& one) { return one.patch.level != level; }),
      patches.end());
  return patches;
}

std::set<std::string> told_by_causes(const std::vector<NumberedPatch>& patches) {
  std::set<std::string> told;
  for (const NumberedPatch& one : patches)
    for (const sight::Cause& cause : one.patch.causes)
      if (cause.why == sight::Why::hidden) told.insert(cause.thing);
  return told;
}

}  // namespace zoneproof::sheets
