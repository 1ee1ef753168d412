#include "sight/zone_view.hpp"

#include <algorithm>
#include <cmath>

#include "chain/channels.hpp"
#include "sight/kept_views.hpp"
#include "site/relations.hpp"
#include "site/shelf.hpp"

namespace zoneproof::sight {

namespace {

void add_all(std::vector<chain::Gap>& gaps, const std::vector<chain::Gap>& more) {
  for (const chain::Gap& gap : more) chain::add_gap(gaps, gap);
}

/// A number that nothing may be proven without.
double needed(const site::Site& site, const char* rule, std::vector<chain::Gap>& gaps) {
  const chain::Limit limit = chain::limit_of(site, rule);
  if (!limit.value) chain::add_gap(gaps, {limit.pointer, "no_rule"});
  return limit.value.value_or(0.0);
}

/// What the chosen rule asks of a picture, into the camera's own terms.
void add_demanded_size(const site::Site& site, Watching& watching, std::vector<chain::Gap>& gaps) {
  const std::string& chosen = site.rulebook.view_rule;
  const site::RuleEntry* entry = chosen.empty() ? nullptr : site::rule(site, chosen);
  if (entry == nullptr) {
    chain::add_gap(gaps, {"/rulebook/view_rule", "unknown"});
    return;
  }
  if (entry->unit == "px_per_m") {
    watching.px_per_m = needed(site, chosen.c_str(), gaps);
    return;
  }
  const double lines = watching.model.height_px();
  const std::optional<double> share = entry->points.empty() && entry->value.known()
                                          ? std::optional(entry->value.nominal)
                                          : chain::in_table(entry->points, lines);
  if (!share) chain::add_gap(gaps, {chain::limit_of(site, chosen).pointer, "no_rule"});
  if (!watching.model.is_flat()) chain::add_gap(gaps, {"/rulebook/view_rule", "undecided"});
  watching.height_pct = share.value_or(0.0);
}

/// How far it sees where nothing else is lit.
void add_light(const site::Site& site, const site::Camera& camera, const std::string& id, Watching& watching,
               std::vector<chain::Gap>& gaps) {
  for (const auto& [other, one] : site.levels)
    if (other != camera.mount.level.id && !one.lit.yes()) watching.dark_levels.push_back(other);
  const auto level = site.levels.find(camera.mount.level.id);
  if (level == site.levels.end() || (level->second.lit.yes() && watching.dark_levels.empty())) return;
  if (!level->second.lit.known()) chain::add_gap(gaps, {"/levels/" + level->first + "/lit", "unknown"});
  const site::CameraSpec* spec = site::spec_of(site, camera.part, &site::Part::camera);
  const site::Value& reach =
      camera.infrared_reach_m.unknown() && spec != nullptr ? spec->infrared_reach_m : camera.infrared_reach_m;
  if (reach.unknown()) {
    chain::add_gap(gaps, {"/cameras/" + id + "/infrared_reach_m", "unknown"});
    return;
  }
  if (level->second.lit.known()) chain::add_if_weak(gaps, reach);
  watching.own_light = !level->second.lit.yes() && (level->second.lit.known() || !reach.none());
  watching.light_m = reach.none() ? 0.0 : reach.low;
}

}  // namespace

ViewRules view_rules_of(const site::Site& site) {
  ViewRules rules;
  rules.demand.from_m = needed(site, "view_from_m", rules.gaps);
  rules.demand.to_m = needed(site, "view_to_m", rules.gaps);
  rules.demand.clear_pct = needed(site, "clear_transmission_pct", rules.gaps);
  rules.demand.stepped_on_m = needed(site, "stepped_on_m", rules.gaps);
  rules.demand.stoop_m = needed(site, "stoop_m", rules.gaps);
  rules.demand.target_m = needed(site, "height_target_m", rules.gaps);
  rules.coverage_pct = chain::limit_of(site, "view_coverage_pct");
  if (!rules.coverage_pct.value) chain::add_gap(rules.gaps, {rules.coverage_pct.pointer, "no_rule"});
  rules.least_patch_m2 = needed(site, "view_patch_m2", rules.gaps);
  return rules;
}

WatchingFound watching_of(const site::Site& site, const std::string& id) {
  WatchingFound found;
  CameraFound camera = camera_model_of(site, id);
  found.gaps = std::move(camera.gaps);
  found.tolerances = std::move(camera.tolerances);
  if (!camera.model) return found;
  const site::Camera& entry = site.cameras.at(id);
  Watching watching{id, std::move(*camera.model), entry.mount.level.id, 0.0, 0.0, false, 0.0, 0.0};
  const site::LensSpec* lens = site::lens_of(site, entry);
  if (lens != nullptr && lens->near_m.known()) watching.near_m = lens->near_m.high;
  if (lens != nullptr) chain::add_if_weak(found.gaps, lens->near_m);
  add_light(site, entry, id, watching, found.gaps);
  add_demanded_size(site, watching, found.gaps);
  found.watching = std::move(watching);
  return found;
}

Scene::Scene(const site::Site& site, KeptViews* kept)
    : site_(site), kept_(kept), building_(building_of(site)), people_(people_of(site)), rules_(view_rules_of(site)) {
  for (const auto& [id, camera] : site.cameras) cameras_.emplace(id, watching_of(site, id));
}

Coverage Scene::coverage_by(const std::string& zone, const std::vector<Watching>& cameras) const {
  const ZoneArea area = area_of_zone(site_, building_, people_, zone, Extent::largest);
  return coverage(building_, area.sources, cameras, rules_.demand, rules_.least_patch_m2);
}

ZoneView Scene::computed(const std::vector<AreaSource>& sources, std::vector<Watching> watching,
                         bool with_tolerances) const {
  ZoneView view;
  const auto covered = [&] { return coverage(building_, sources, watching, rules_.demand, rules_.least_patch_m2); };
  view.coverage = covered();
  view.worst_pct = view.coverage.share_pct();
  if (!with_tolerances) return view;
  for (Watching& one : watching) {
    const CameraModel nominal = one.model;
    for (const CameraTolerance& tolerance : cameras_.at(one.camera).tolerances) {
      for (const double by : {tolerance.low, tolerance.high}) {
        if (by == 0.0) continue;
        one.model = CameraModel(moved(nominal.setup(), tolerance.number, by));
        const double share = covered().share_pct();
        if (share >= view.worst_pct) continue;
        view.worst_pct = share;
        view.worst_pointer = tolerance.pointer;
        view.worst_value = by;
      }
    }
    one.model = nominal;
  }
  return view;
}

ZoneView Scene::view(const std::string& zone, bool with_tolerances) const {
  std::vector<chain::Gap> gaps;
  const std::vector<std::string> seen_by = chain::cameras_of_zone(site_, zone, gaps);
  const ZoneArea area = area_of_zone(site_, building_, people_, zone, Extent::largest);
  for (const auto* more : {&area.gaps, &rules_.gaps, &building_.gaps}) add_all(gaps, *more);
  for (const AreaSource& source : area.sources) {
    const auto level = site_.levels.find(source.level);
    if (level != site_.levels.end() && !level->second.lit.known())
      chain::add_gap(gaps, {"/levels/" + level->first + "/lit", "unknown"});
  }
  std::vector<Watching> watching;
  std::vector<std::vector<CameraTolerance>> tolerances;
  for (const std::string& camera : seen_by) {
    const WatchingFound& found = cameras_.at(camera);
    add_all(gaps, found.gaps);
    if (!found.watching) continue;
    watching.push_back(*found.watching);
    tolerances.push_back(with_tolerances ? found.tolerances : std::vector<CameraTolerance>{});
  }
  const auto viewing = [&] { return computed(area.sources, watching, with_tolerances); };
  ZoneView view =
      kept_ == nullptr
          ? viewing()
          : kept_->of(zone,
                      basis_of(building_, area.sources, watching, tolerances, rules_.demand, rules_.least_patch_m2),
                      viewing);
  view.zone = zone;
  view.cameras = seen_by;
  view.gaps = std::move(gaps);
  return view;
}

}  // namespace zoneproof::sight
