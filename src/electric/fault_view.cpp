#include "electric/fault_view.hpp"

#include <algorithm>
#include <utility>

namespace zoneproof::electric {

SiteView view_of(const site::Site& site, const Watch& watch, const std::vector<double>& voltage) {
  Volts volts(voltage);
  SiteView view;
  for (const auto& [id, feed] : watch.feeds) {
    if (feed.without_supply(volts)) view.without_supply.insert(id);
  }
  const auto dark = [&](const std::string& id) { return view.without_supply.count(id) != 0; };
  for (const auto& [zone, terminal] : watch.terminals)
    view.panel[zone] = dark(site.zones.at(zone).panel.id) ? std::nullopt : terminal.reads(volts);
  for (const auto& [id, input] : watch.inputs)
    view.triggers[id] = !dark(site.triggers.at(id).unit.id) && input.outside_of_normal(volts);
  for (const auto& [unit, entry] : site.units) {
    const auto arming = watch.arming.find(unit);
    view.armed[unit] = arming == watch.arming.end() ? std::nullopt : arming->second.armed(volts);
  }
  return view;
}

SolvedSite::SolvedSite(const site::Site& site, const SiteSituation& situation)
    : site_(&site),
      circuit_(std::make_unique<SiteCircuit>(build_site_circuit(site, situation))),
      watch_(watch_of(site, *circuit_)),
      feeds_(feed_watch(watch_)),
      variations_(std::make_unique<circuit::Variations>(circuit_->wiring.network)) {}

SiteView SolvedSite::view(const std::vector<circuit::Change>& changes, FaultWork& work) const {
  ++work.variations;
  const circuit::Varied varied = variations_->with(changes);
  work.solved_anew += varied.fresh ? 1 : 0;
  return view_of(*site_, watch_, varied.voltage);
}

namespace {

/// Both made together; a contact that is stuck does not move.
std::vector<circuit::Change> together(std::vector<circuit::Change> movement,
                                      const std::vector<circuit::Change>& fault) {
  for (const circuit::Change& change : fault) {
    const auto same = std::find_if(movement.begin(), movement.end(), [&](const circuit::Change& other) {
      return change.element && other.element == change.element;
    });
    if (same == movement.end()) {
      movement.push_back(change);
    } else {
      *same = change;
    }
  }
  return movement;
}

}  // namespace

SiteView SolvedSite::view(const SingleFault& fault, const std::vector<circuit::Change>& contacts,
                          FaultWork& work) const {
  return view(together(contacts, changes_of(fault, circuit_->wiring.network)), work);
}

Movement::Movement(const SolvedSite& site, std::vector<circuit::Change> moves, const ZoneWatch& watch,
                   const Movement* as_of)
    : changes(std::move(moves)),
      ready(site.variations().ready(changes)),
      asked(as_of != nullptr && as_of->asked.nodes() == watch.nodes ? as_of->asked
                                                                    : site.variations().asked(watch.nodes)),
      alone(site.variations().alone(ready, asked)) {}

FaultySite::FaultySite(const SolvedSite& sound, const SingleFault& fault, FaultWork& work)
    : sound_(sound), work_(work) {
  change_to(changes_of(fault, sound.circuit().wiring.network));
}

void FaultySite::change_to(std::vector<circuit::Change> changes) {
  changes_ = std::move(changes);
  ready_ = sound_.variations().ready(changes_);
  shock_ = sound_.variations().shock(ready_);
}

bool FaultySite::holds(const circuit::Change& movement) const {
  return std::any_of(changes_.begin(), changes_.end(),
                     [&](const circuit::Change& held) { return held.element && held.element == movement.element; });
}

bool FaultySite::holds_one_of(const std::vector<circuit::Change>& movement) const {
  return std::any_of(movement.begin(), movement.end(), [&](const circuit::Change& moves) { return holds(moves); });
}

/// What changes of the network that is looked at: the sound one, or that with the fault in it.
std::vector<circuit::Change> FaultySite::with_fault(const std::vector<circuit::Change>& movement) const {
  std::vector<circuit::Change> all = anew_ ? beside_ : changes_;
  for (const circuit::Change& change : movement) {
    if (!holds(change)) all.push_back(change);
  }
  return all;
}

std::optional<std::vector<double>> FaultySite::glance(const Movement& movement) const {
  if (anew_) return anew_->glance(with_fault(movement.changes), movement.asked.nodes());
  if (!holds_one_of(movement.changes)) return sound_.variations().glance(movement.ready, ready_, movement.asked);
  return sound_.variations().glance(with_fault(movement.changes), movement.asked.nodes());
}

void FaultySite::put_in() {
  network_ = std::make_unique<circuit::Network>(circuit::changed(sound_.circuit().wiring.network, changes_));
  anew_ = std::make_unique<circuit::Variations>(*network_);
  beside_.clear();
  ++work_.solved_anew;
}

/// What the formula does not take once it will most likely not take in the next state either; and a network with the
/// fault in it, in which a glance tells, costs less than many refined answers.
circuit::Varied FaultySite::exactly(const std::vector<circuit::Change>& movement) {
  constexpr int most_refined = 4;
  if (!anew_) {
    if (refined_++ < most_refined) {
      if (auto varied = sound_.variations().by_formula(with_fault(movement))) return *std::move(varied);
    }
    put_in();
  }
  circuit::Varied varied = anew_->with(with_fault(movement));
  if (varied.fresh) ++work_.solved_anew;
  return varied;
}

namespace {

std::vector<double> of_nodes(const std::vector<double>& voltage, const std::vector<circuit::Node>& asked) {
  std::vector<double> some;
  for (const circuit::Node node : asked) some.push_back(voltage[static_cast<std::size_t>(node)]);
  return some;
}

}  // namespace

FaultySite::Seen FaultySite::look(const Movement& movement, const ZoneWatch& zone) {
  ++work_.variations;
  const auto seen = [&](Volts& volts) {
    const bool panel_right = zone.panel_right(volts), pictured = zone.pictured(volts);
    return Seen{panel_right, pictured, volts.room() / 4.0};
  };
  if (const auto some = glance(movement)) {
    Volts volts(*some);
    const Seen all = seen(volts);
    if (!volts.near_a_limit()) return all;
  }
  const std::vector<double> exact = of_nodes(exactly(movement.changes).voltage, zone.nodes);
  Volts volts(exact);
  return seen(volts);
}

FaultySite::Seen FaultySite::look(const Movement& movement, const ZoneWatch& zone, const Seen& sound) {
  if (!anew_ && sound_.variations().most_moved(shock_, movement.alone) < sound.room_volts) {
    ++work_.variations;
    return sound;
  }
  return look(movement, zone);
}

std::vector<double> FaultySite::most_moved(const circuit::Variations::Crowds& movements) const {
  return sound_.variations().most_moved(anew_ ? circuit::Variations::Shock{} : shock_, movements);
}

void FaultySite::hold(const std::vector<circuit::Change>& contacts) {
  constexpr std::size_t most_in_the_formula = 3;  // beyond, a network with them in it costs less
  std::vector<circuit::Change> held;
  for (const circuit::Change& contact : contacts) {
    if (!holds(contact)) held.push_back(contact);
  }
  if (held.empty()) return;
  beside_.insert(beside_.end(), held.begin(), held.end());
  held.insert(held.begin(), changes_.begin(), changes_.end());
  change_to(std::move(held));
  if (contacts.size() > most_in_the_formula) put_in();
}

Unsupplied FaultySite::without_supply() {
  const FeedWatch& feeds = sound_.feeds();
  if (const auto some = (anew_ ? *anew_ : sound_.variations()).glance(with_fault({}), feeds.nodes)) {
    Volts volts(*some);
    Unsupplied unsupplied = feeds.without_supply(volts);
    if (!volts.near_a_limit()) return unsupplied;
  }
  const std::vector<double> exact = of_nodes(exactly({}).voltage, feeds.nodes);
  Volts volts(exact);
  return feeds.without_supply(volts);
}

SiteView FaultySite::view() {
  ++work_.variations;
  return view_of(sound_.site(), sound_.watch(), exactly({}).voltage);
}

std::optional<std::vector<circuit::Change>> movement_of(const SiteCircuit& rest, const SiteCircuit& moved) {
  const auto& before = rest.wiring.network.elements();
  const auto& after = moved.wiring.network.elements();
  if (before.size() != after.size()) return std::nullopt;
  std::vector<circuit::Change> changes;
  for (std::size_t e = 0; e < before.size(); ++e) {
    if (before[e].name != after[e].name || before[e].kind != after[e].kind || before[e].from != after[e].from ||
        before[e].to != after[e].to)
      return std::nullopt;
    if (before[e].value.nominal == after[e].value.nominal) continue;
    if (before[e].kind != circuit::Kind::resistor) return std::nullopt;
    changes.push_back(circuit::Change::of(static_cast<circuit::ElementIndex>(e), after[e].value.nominal));
  }
  return changes;
}

std::vector<NamedChange> by_name(const SiteCircuit& rest, const std::vector<circuit::Change>& movement) {
  std::vector<NamedChange> named;
  for (const circuit::Change& change : movement) {
    const circuit::Element& element = rest.wiring.network.element(*change.element);
    named.push_back({element.name, element.kind, element.value.nominal, change.value});
  }
  return named;
}

std::optional<std::vector<circuit::Change>> same_movement(const std::vector<NamedChange>& movement,
                                                          const SiteCircuit& rest) {
  std::vector<circuit::Change> same;
  for (const NamedChange& change : movement) {
    const auto found = rest.wiring.network.find_element(change.element);
    if (!found) return std::nullopt;
    const circuit::Element& element = rest.wiring.network.element(*found);
    if (element.kind != change.kind || element.value.nominal != change.before) return std::nullopt;
    same.push_back(circuit::Change::of(*found, change.after));
  }
  return same;
}

}  // namespace zoneproof::electric
