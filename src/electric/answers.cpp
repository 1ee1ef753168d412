#include "electric/answers.hpp"

#include <atomic>

#include "base/parallel_for.hpp"
#include "electric/arming_check.hpp"
#include "electric/back_feed.hpp"
#include "electric/catch_check.hpp"
#include "electric/excerpt.hpp"
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

/// What comes over the network, as a camera's analytics do, has no level that could be read. Where the source is not
/// known there may be a wire: then it is asked for.
bool without_wire(const site::Trigger& trigger) { return trigger.source.known() && !site::has_wire(trigger); }

}  // namespace

namespace {

/// Loop and triggers of one zone, from its excerpt. Levels are solved once and read by both.
std::vector<Evidence> answers_in(const site::Site& site, const std::string& zone) {
  std::vector<Evidence> all;
  const std::vector<Level> before = zone_levels(site, zone, "");
  std::vector<Level> after;
  LevelScope with_wire;
  with_wire.units.pop_back();  // the last condition is the wire taken off: that is `before`
  for (const std::string& trigger : site::triggers_of_zone(site, zone)) {
    if (without_wire(site.triggers.at(trigger))) continue;
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

std::vector<Evidence> zone_answers(const site::Site& site, const std::string& zone) {
  return answers_in(excerpt_of_zone(site, zone), zone);
}

std::vector<Evidence> electrical_answers(const site::Site& site, const std::string& zone,
                                         const std::function<void(std::size_t, std::size_t)>& progress) {
  std::vector<std::string> zones;
  for (const auto& [id, entry] : site.zones) {
    if (zone.empty() || id == zone) zones.push_back(id);
  }
  const Excerpts excerpts(site);
  std::atomic<std::size_t> done = 0;
  std::vector<std::function<std::vector<Evidence>()>> parts;
  for (const std::string& id : zones) {
    parts.emplace_back([&, id] {
      std::vector<Evidence> answers = answers_in(excerpts.of_zone(id), id);
      if (progress) progress(++done, zones.size());
      return answers;
    });
  }
  for (const auto& entry : site.units) {
    const std::string& id = entry.first;
    parts.emplace_back([&] {
      std::vector<Evidence> answers = check_arming(site, id);
      append(answers, check_back_feed(site, id));
      return answers;
    });
  }
  parts.emplace_back([&] { return check_supply(site); });
  parts.emplace_back([&] { return check_standby(site); });
  std::vector<std::vector<Evidence>> answered =
      parallel_map<std::vector<Evidence>>(parts.size(), [&](std::size_t i) { return parts[i](); });
  std::vector<Evidence> all;
  for (std::vector<Evidence>& answers : answered) append(all, std::move(answers));
  return all;
}

}  // namespace zoneproof::electric
