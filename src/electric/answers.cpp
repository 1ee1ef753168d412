#include "electric/answers.hpp"

#include <atomic>

#include "base/parallel_for.hpp"
#include "electric/arming_check.hpp"
#include "electric/back_feed.hpp"
#include "electric/catch_check.hpp"
#include "electric/loop_check.hpp"
#include "electric/standby.hpp"
#include "electric/supply_check.hpp"
#include "electric/trigger_check.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

namespace {

using chain::Evidence;

void append(std::vector<Evidence>& all, std::vector<Evidence> more) {
  all.insert(all.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
}

/// Loop and triggers of one zone. Levels are solved once and read by both.
std::vector<Evidence> zone_answers(const site::Site& site, const std::string& zone) {
  std::vector<Evidence> all;
  const std::vector<Level> before = zone_levels(site, zone, "");
  std::vector<Level> after;
  LevelScope with_wire;
  with_wire.units.pop_back();  // the last condition is the wire taken off: that is `before`
  for (const std::string& trigger : site::triggers_of_zone(site, zone)) {
    std::vector<Level> levels = zone_levels(site, zone, trigger, with_wire);
    if (site.triggers.at(trigger).zone.id == zone) {
      append(all, check_trigger(site, trigger, levels));
      append(all, check_unit_catch(site, trigger, levels));
    }
    after.insert(after.end(), std::make_move_iterator(levels.begin()), std::make_move_iterator(levels.end()));
  }
  append(all, check_loop(site, zone, before, after));
  append(all, check_panel_catch(site, zone, before, after));
  return all;
}

}  // namespace

std::vector<Evidence> electrical_answers(const site::Site& site, const std::string& zone,
                                         const std::function<void(std::size_t, std::size_t)>& progress) {
  std::vector<std::string> zones;
  for (const auto& [id, entry] : site.zones) {
    if (zone.empty() || id == zone) zones.push_back(id);
  }
  std::atomic<std::size_t> done = 0;
  std::vector<std::vector<Evidence>> by_zone = parallel_map<std::vector<Evidence>>(zones.size(), [&](std::size_t i) {
    std::vector<Evidence> answers = zone_answers(site, zones[i]);
    if (progress) progress(++done, zones.size());
    return answers;
  });
  std::vector<Evidence> all;
  for (std::vector<Evidence>& answers : by_zone) append(all, std::move(answers));
  for (const auto& [id, unit] : site.units) {
    append(all, check_arming(site, id));
    append(all, check_back_feed(site, id));
  }
  append(all, check_supply(site));
  append(all, check_standby(site));
  return all;
}

}  // namespace zoneproof::electric
