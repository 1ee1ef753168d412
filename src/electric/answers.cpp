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

/// What comes over the network, as a camera's analytics do, has no level that could be read. Where the source is not
/// known there may be a wire: then it is asked for.
bool without_wire(const site::Trigger& trigger) { return trigger.source.known() && !site::has_wire(trigger); }

using Answers = std::vector<Evidence>;

/// One thing that is answered for by itself: its excerpt, and its answers from that.
struct Part {
  std::string thing;
  std::function<site::Site()> excerpt;
  KeptAnswers::Answering answering;
  bool of_zone = false;
};

Answers arming_answers(const site::Site& site, const std::string& unit) {
  Answers answers = check_arming(site, unit);
  append(answers, check_back_feed(site, unit));
  return answers;
}

/// In the order of the answers.
std::vector<Part> parts_of(const site::Site& site, const std::vector<std::string>& zones, const Excerpts& excerpts,
                           const LevelsSeen& seen) {
  std::vector<Part> parts;
  for (const std::string& id : zones) {
    parts.push_back({"zone/" + id, [&excerpts, id] { return excerpts.of_zone(id); },
                     [id, &seen](const site::Site& part) { return zone_answers_within(part, id, seen); }, true});
  }
  for (const auto& entry : site.units) {
    const std::string& id = entry.first;
    parts.push_back({"unit/" + id, [&excerpts, id] { return excerpts.of_arming(id); },
                     [id](const site::Site& part) { return arming_answers(part, id); }});
  }
  parts.push_back({"supplies", [&excerpts] { return excerpts.of_supplies(); },
                   [](const site::Site& part) { return check_supply(part); }});
  for (const auto& entry : site.supplies) {
    const std::string& id = entry.first;
    parts.push_back({"supply/" + id, [&excerpts, id] { return excerpts.of_supply(id); },
                     [id](const site::Site& part) { return check_standby(part, id); }});
  }
  return parts;
}

}  // namespace

LevelsOfZone levels_of_zone(const site::Site& site, const std::string& zone) {
  LevelsOfZone levels;
  levels.bare = zone_levels(site, zone, "");
  LevelScope with_wire;
  with_wire.units.pop_back();  // the last condition is the wire taken off: that is `bare`
  for (const std::string& trigger : site::triggers_of_zone(site, zone)) {
    if (!without_wire(site.triggers.at(trigger)))
      levels.by_trigger[trigger] = zone_levels(site, zone, trigger, with_wire);
  }
  return levels;
}

// Levels are solved once and read by loop, triggers and whoever else wants to see them.
std::vector<Evidence> zone_answers_within(const site::Site& site, const std::string& zone, const LevelsSeen& seen) {
  std::vector<Evidence> all;
  LevelsOfZone solved = levels_of_zone(site, zone);
  for (const auto& [trigger, levels] : solved.by_trigger) {
    if (site.triggers.at(trigger).zone.id != zone) continue;
    append(all, check_trigger(site, trigger, levels));
    append(all, check_unit_catch(site, trigger, levels));
  }
  if (seen) seen(zone, solved);
  std::vector<Level> after;
  for (auto& [trigger, levels] : solved.by_trigger)
    after.insert(after.end(), std::make_move_iterator(levels.begin()), std::make_move_iterator(levels.end()));
  append(all, check_loop(site, zone, solved.bare, after));
  append(all, check_panel_catch(site, zone, solved.bare, after));
  return all;
}

std::vector<Evidence> zone_answers(const site::Site& site, const std::string& zone) {
  return zone_answers_within(excerpt_of_zone(site, zone), zone);
}

std::vector<Evidence> electrical_answers(const site::Site& site, const std::string& zone,
                                         const std::function<void(std::size_t, std::size_t)>& progress,
                                         KeptAnswers* kept, const LevelsSeen& seen) {
  std::vector<std::string> zones;
  for (const auto& [id, entry] : site.zones) {
    if (zone.empty() || id == zone) zones.push_back(id);
  }
  const Excerpts excerpts(site);
  const std::vector<Part> parts = parts_of(site, zones, excerpts, seen);
  std::atomic<std::size_t> done = 0;
  auto answered = parallel_map<Answers>(parts.size(), [&](std::size_t i) {
    const Part& part = parts[i];
    const site::Site excerpt = part.excerpt();
    const bool anew = kept == nullptr || (seen && part.of_zone);
    Answers answers = anew ? part.answering(excerpt) : kept->of(part.thing, excerpt, part.answering);
    if (progress && part.of_zone) progress(++done, zones.size());
    return answers;
  });
  Answers all;
  for (Answers& answers : answered) append(all, std::move(answers));
  return all;
}

}  // namespace zoneproof::electric
