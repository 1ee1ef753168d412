#include "electric/fault_surroundings.hpp"

#include <algorithm>
#include <iterator>

#include "electric/loop_check.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

namespace {

using circuit::Change;
using site::Reading;

bool seen_by_somebody(const ZoneState& state) {
  switch (state.happening) {
    case Happening::alarm:
    case Happening::masked:
    case Happening::fault: return true;
    case Happening::tamper_open: return !state.contact.empty();
    default: return false;
  }
}

/// What the panel has to read for a state to be known.
std::vector<Reading> to_be_read(const site::Site& site, const std::string& zone, Happening happening) {
  const bool second = site::loop_owner(site, zone) != zone;
  if (second && happening == Happening::alarm) happening = Happening::second_alarm;
  return right_readings(happening);
}

/// Puts the states of a condition together. What shares a way to the supplies is best told of together, and the file
/// names zones of one panel one after the other.
void find_crowds(const site::Site& site, Condition& condition) {
  constexpr std::size_t zones_of_a_crowd = 8;  // more: fewer answers, more states to look at where one is not enough
  std::vector<std::vector<circuit::Variations::Alone>> movements;
  std::set<std::string> zones;
  for (std::size_t s = 0; s < condition.states.size(); ++s) {
    const StateView& state = condition.states[s];
    if (!can_be_lost(state)) continue;
    if (state.solved != condition.rest.get()) {
      condition.apart.push_back(s);
      condition.states[s].looked_at = {state.watch.nodes};
      continue;
    }
    if (zones.insert(state.zone).second && zones.size() % zones_of_a_crowd == 1) {
      condition.crowds.emplace_back();
      movements.emplace_back();
    }
    Crowd& crowd = condition.crowds.back();
    crowd.states.push_back(s);
    crowd.nodes.insert(crowd.nodes.end(), state.watch.nodes.begin(), state.watch.nodes.end());
    crowd.room_volts = std::min(crowd.room_volts, state.before.room_volts);
    crowd.detectors.merge(speaking(site, state));
    movements.back().push_back(state.movement->alone);
  }
  condition.movements_of_crowds = condition.rest->variations().crowds(movements);
  for (const Crowd& crowd : condition.crowds) condition.looked_at.push_back(crowd.nodes);
}

LookedAt nodes_of(const Bystanders& everybody) {
  LookedAt nodes;
  for (const PartOfWatch& part : everybody.parts) nodes.push_back(part.nodes);
  return nodes;
}

}  // namespace

bool can_be_lost(const StateView& state) {
  return state.before.panel_right || (state.state.happening == Happening::alarm && state.before.pictured);
}

std::set<std::string> speaking(const site::Site& site, const StateView& state) {
  std::set<std::string> detectors;
  for (const auto& [id, contact] : site.zones.at(site::loop_owner(site, state.zone)).loop.contacts)
    detectors.insert(contact.detector.id);
  for (const ZoneWatch::Picture& picture : state.watch.pictures)
    detectors.insert(site.triggers.at(picture.trigger).detector.id);
  return detectors;
}

Surroundings::Surroundings(const site::Site& site, const std::set<std::string>& zones, FaultWork& work)
    : contacts(wired_contacts(site)), site_(site), zones_(zones) {
  for (const SupplyCondition supply : supply_conditions(site)) {
    if (supply == SupplyCondition::supplies_apart || !anything_alive(supply)) continue;
    Condition made;
    made.supply = supply;
    made.rest = std::make_shared<SolvedSite>(site_, situation(site_, supply, true, {}));
    conditions.push_back(std::move(made));
  }
  disarmed = std::make_shared<SolvedSite>(site, situation(site_, SupplyCondition::mains, false, {}));
  for (Condition& condition : conditions) {
    condition.at_rest = condition.rest->view({}, work);
    condition.everybody = std::make_shared<Bystanders>(*condition.rest);
    condition.looked_at = nodes_of(*condition.everybody);
  }
  at_rest_disarmed = disarmed->view({}, work);
  everybody_disarmed = std::make_shared<Bystanders>(*disarmed);
  looked_at_disarmed = nodes_of(*everybody_disarmed);
  std::vector<std::string> quiet;
  for (const auto& [id, moves] : conditions.front().at_rest.triggers) {
    if (!moves) quiet.push_back(id);
  }
  for (Condition& condition : conditions) add_states(condition, quiet, work);
}

bool Surroundings::anything_alive(SupplyCondition supply) const {
  return std::any_of(site_.supplies.begin(), site_.supplies.end(),
                     [&](const auto& entry) { return alive(site_, entry.first, supply); });
}

SiteSituation Surroundings::situation(const site::Site& site, SupplyCondition supply, bool armed,
                                      const std::map<std::string, ZoneState>& states) const {
  SiteSituation asked = whole_site(site, supply, states, armed);
  for (const auto& [zone, state] : states) {  // of two zones on a pair, the one whose state it is stands for both
    const std::string owner = site::loop_owner(site_, zone);
    if (owner != zone) asked.zones.erase(owner);
  }
  return asked;
}

void Surroundings::add_states(Condition& condition, const std::vector<std::string>& quiet, FaultWork& work) {
  condition.without_supply = FaultySite(*condition.rest, SingleFault{}, work).without_supply();
  for (const auto& [id, zone] : site_.zones) {
    if (!zones_.empty() && zones_.count(id) == 0) continue;
    for (const ZoneState& state : reachable_states(site_, id)) {
      if (seen_by_somebody(state)) condition.states.push_back(state_view(condition, id, state, quiet, work));
    }
  }
  find_crowds(site_, condition);
}

StateView Surroundings::state_view(Condition& condition, const std::string& zone, const ZoneState& state,
                                   const std::vector<std::string>& quiet, FaultWork& work) {
  StateView view{zone, state, condition.rest.get(), {}, {}, {}, {}};
  std::vector<Change> moves;
  const auto movement = movement_in(condition, zone, state);
  // Where the formula does not take the movement, it would take none with a fault beside it.
  if (movement && condition.rest->variations().glance(*movement, {})) {
    moves = *movement;
  } else {
    condition.others.push_back(
        std::make_shared<SolvedSite>(site_, situation(site_, condition.supply, true, {{zone, state}})));
    view.solved = condition.others.back().get();
  }
  view.watch = zone_watch(site_, view.solved->watch(), zone, to_be_read(site_, zone, state.happening), quiet);
  const bool same_site = !condition.states.empty() && condition.states.back().solved == view.solved;
  view.movement = std::make_shared<Movement>(*view.solved, std::move(moves), view.watch,
                                             same_site ? condition.states.back().movement.get() : nullptr);
  view.before = FaultySite(*view.solved, SingleFault{}, work).look(*view.movement, view.watch);
  return view;
}

/// What moves is asked once, in the first condition; nothing where the state is another network.
std::optional<std::vector<Change>> Surroundings::movement_in(const Condition& condition, const std::string& zone,
                                                             const ZoneState& state) {
  const Moves& known = moves_of(zone, state);
  if (!known) return std::nullopt;
  if (auto same = same_movement(*known, condition.rest->circuit())) return same;
  return movement_of(condition.rest->circuit(),
                     build_site_circuit(site_, situation(site_, condition.supply, true, {{zone, state}})));
}

const Surroundings::Moves& Surroundings::moves_of(const std::string& zone, const ZoneState& state) {
  const auto key = std::pair(zone, state.name());
  const auto known = movements_.find(key);
  return known != movements_.end() ? known->second : movements_.emplace(key, built_moves(zone, state)).first->second;
}

/// Only elements of its own pair and triggers know the state of a zone: the others need not be built, nor what feeds
/// them. A thousand zones would be a thousand times the feeds of a thousand detectors.
Surroundings::Moves Surroundings::built_moves(const std::string& zone, const ZoneState& state) {
  const Own& in = own(zone);
  const auto built = [&](const std::map<std::string, ZoneState>& states) {
    const SiteSituation asked = situation(in.excerpt, conditions.front().supply, true, states);
    return build_site_circuit(in.excerpt, alone(zone, asked), in.base);
  };
  const SiteCircuit rest = built({});
  const auto changes = movement_of(rest, built({{zone, state}}));
  return changes ? Moves(by_name(rest, *changes)) : std::nullopt;
}

const Surroundings::Own& Surroundings::own(const std::string& zone) {
  if (own_ && own_->zone == zone) return *own_;
  if (!excerpts_) excerpts_.emplace(site_);
  own_.emplace(Own{zone, excerpts_->of_zone(zone), {}});
  const SiteSituation first = situation(own_->excerpt, conditions.front().supply, true, {});
  own_->base = build_base(own_->excerpt, first.supply, first.studied);
  return *own_;
}

SiteSituation Surroundings::alone(const std::string& zone, SiteSituation all) const {
  const std::string owner = site::loop_owner(site_, zone);
  const auto concerned = [&](const std::string& other) { return other == zone || other == owner; };
  for (auto entry = all.zones.begin(); entry != all.zones.end();)
    entry = concerned(entry->first) ? std::next(entry) : all.zones.erase(entry);
  std::set<std::string> units;
  for (const auto& [id, trigger] : site_.triggers) {
    if (concerned(trigger.zone.id)) units.insert(trigger.unit.id);
  }
  all.units.erase(std::remove_if(all.units.begin(), all.units.end(),
                                 [&](const std::string& unit) { return units.count(unit) == 0; }),
                  all.units.end());
  return all;
}

}  // namespace zoneproof::electric
