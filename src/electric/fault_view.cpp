#include "electric/fault_view.hpp"

#include <algorithm>
#include <utility>

#include "circuit/reach.hpp"
#include "electric/element_name.hpp"

namespace zoneproof::electric {

SiteView view_of(const site::Site& site, const Watch& watch, Volts& volts) {
  SiteView view;
  for (const auto& [id, feed] : watch.feeds) {
    if (feed.without_supply(volts)) view.without_supply.insert(id);
  }
  const auto dark = [&](const std::string& id) { return view.without_supply.count(id) != 0; };
  for (const auto& [zone, terminal] : watch.terminals)
    view.panel[zone] = dark(site.zones.at(zone).panel.id) ? std::nullopt : terminal.reads(volts);
  for (const auto& [id, input] : watch.inputs)
    view.triggers[id] = !dark(site.triggers.at(id).unit.id) && input.outside_of_normal(volts);
  for (const auto& [unit, arming] : watch.arming) view.armed[unit] = arming.armed(volts);
  return view;
}

SiteView view_of(const site::Site& site, const Watch& watch, const std::vector<double>& voltage) {
  Volts volts(voltage);
  SiteView view = view_of(site, watch, volts);
  for (const auto& [unit, entry] : site.units) view.armed.emplace(unit, std::nullopt);
  return view;
}

SolvedSite::SolvedSite(const site::Site& site, const SiteSituation& situation)
    : site_(&site),
      circuit_(std::make_unique<SiteCircuit>(build_site_circuit(site, situation))),
      watch_(watch_of(site, *circuit_)),
      feeds_(feed_watch(watch_)),
      variations_(std::make_unique<circuit::Variations>(circuit_->wiring.network)),
      hanging_(circuit_->wiring.network) {}

SiteView SolvedSite::view(const std::vector<circuit::Change>& changes, FaultWork& work) const {
  ++work.variations;
  const circuit::Varied varied = variations_->with(changes);
  work.solved_anew += varied.fresh ? 1 : 0;
  return view_of(*site_, watch_, varied.voltage);
}

namespace {

std::vector<double> of_nodes(const std::vector<double>& voltage, const std::vector<circuit::Node>& asked) {
  std::vector<double> some;
  for (const circuit::Node node : asked) some.push_back(voltage[static_cast<std::size_t>(node)]);
  return some;
}

}  // namespace

Bystanders::Bystanders(const SolvedSite& site) : parts(parts_of(site.site(), site.watch())) {
  const circuit::Variations& variations = site.variations();
  const std::vector<double> at_rest = site.voltages({});
  const auto nothing = variations.ready({});
  std::vector<std::vector<circuit::Variations::Alone>> groups;
  for (const PartOfWatch& part : parts) {
    const std::vector<double> some = of_nodes(at_rest, part.nodes);
    Volts volts(some);
    view_of(site.site(), part.watch, volts);
    room_volts.push_back(volts.room() / 4.0);
    asked.push_back(variations.asked(part.nodes));
    groups.push_back({variations.alone(nothing, asked.back())});
  }
  crowds = variations.crowds(groups);
}

/// On a battery the rail is shorted and the battery taken off it: another source may not stand beside it.
std::vector<circuit::Change> dead_supply(const site::Site& site, const SiteCircuit& circuit,
                                         const std::string& supply) {
  const circuit::Network& network = circuit.wiring.network;
  std::vector<circuit::Change> changes;
  if (const auto source = network.find_element(part_name(supply, "source"))) {
    changes.push_back(circuit::Change::of(*source, 0.0));
  } else if (const auto path = network.find_element(part_name(supply, "battery_path"))) {
    const Poles poles = circuit.backbone.supplies.at(supply);
    changes.push_back(circuit::Change::of(*path, circuit::infinite));
    changes.push_back(circuit::Change::bridge(poles.plus, poles.minus, 0.0));
  }
  if (changes.empty()) return changes;
  for (const auto& [id, unit] : site.units) {
    const auto load = network.find_element(part_name(id, "load"));
    const site::UnitSpec* spec = site::unit_spec(site, id);
    if (!load || spec == nullptr || site::supply_of(site, unit.feed) != supply) continue;
    changes.push_back(circuit::Change::of(*load, 0.0));
    const Poles poles = circuit.backbone.poles.at(id);
    const site::Value& ohm = spec->input.inner_rail_load_ohm;
    if (ohm.known() && poles.plus != poles.minus)
      changes.push_back(circuit::Change::bridge(poles.plus, poles.minus, ohm.nominal));
  }
  return changes;
}

Movement::Movement(const SolvedSite& site, std::vector<circuit::Change> moves, const ZoneWatch& watch,
                   const Movement* as_of)
    : changes(std::move(moves)),
      ready(site.variations().ready(changes)),
      asked(as_of != nullptr && as_of->asked.nodes() == watch.nodes ? as_of->asked
                                                                    : site.variations().asked(watch.nodes)),
      alone(site.variations().alone(ready, asked)) {}

FaultySite::FaultySite(const SolvedSite& sound, const SingleFault& fault, FaultWork& work, const LookedAt* looked_at)
    : sound_(sound), looked_at_(looked_at), work_(work) {
  if (fault.dead_supply.empty()) {
    change_to(changes_of(fault, sound.circuit().wiring.network, sound.hanging()));
  } else {  // a source is none of the branches that the formula takes
    changes_ = dead_supply(sound.site(), sound.circuit(), fault.dead_supply);
    put_in();
  }
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
  std::vector<circuit::Change> all = anew_ ? std::vector<circuit::Change>{} : changes_;
  for (const circuit::Change& change : movement) {
    if (!holds(change)) all.push_back(change);
  }
  return all;
}

std::optional<std::vector<double>> FaultySite::glance(const Movement& movement) {
  if (anew_) {
    const auto nodes = anew_->of(movement.asked.nodes());
    return nodes ? anew_->variations->glance(anew_->of(with_fault(movement.changes)), *nodes) : std::nullopt;
  }
  if (!holds_one_of(movement.changes)) return sound_.variations().glance(movement.ready, ready_, movement.asked);
  return sound_.variations().glance(with_fault(movement.changes), movement.asked.nodes());
}

namespace {

circuit::Open open_of(const std::vector<circuit::Change>& changes) {
  circuit::Open open;
  for (const circuit::Change& change : changes) {
    if (change.element) {
      open.elements.push_back(*change.element);
    } else {
      open.bridges.emplace_back(change.a, change.b);
    }
  }
  return open;
}

}  // namespace

std::vector<circuit::Change> FaultySite::Own::of(const std::vector<circuit::Change>& changes) const {
  std::vector<circuit::Change> mapped;
  for (circuit::Change change : changes) {
    if (change.element) {
      change.element = elements[static_cast<std::size_t>(*change.element)];
      if (*change.element < 0) continue;  // nothing that is looked at depends on it
    } else {
      change.a = nodes[static_cast<std::size_t>(change.a)];
      change.b = nodes[static_cast<std::size_t>(change.b)];
      // What is looked at depends on both ends of a bridge or on neither (within_reach takes the bridge with its ends);
      // the reference alone is in every network.
      if (change.a < 0 || change.b < 0) continue;
    }
    mapped.push_back(change);
  }
  return mapped;
}

std::optional<std::vector<circuit::Node>> FaultySite::Own::of(const std::vector<circuit::Node>& asked) const {
  std::vector<circuit::Node> mapped;
  for (const circuit::Node node : asked) {
    mapped.push_back(nodes[static_cast<std::size_t>(node)]);
    if (mapped.back() < 0) return std::nullopt;
  }
  return mapped;
}

bool FaultySite::may_move(const std::vector<circuit::Node>& nodes) {
  return (!anew_ && shock_.inside) || can_move(nodes);
}

bool FaultySite::can_move(const std::vector<circuit::Node>& nodes) {
  if (movable_.empty()) movable_ = circuit::moved_by(sound_.circuit().wiring.network, open_of(changes_));
  return std::any_of(nodes.begin(), nodes.end(),
                     [&](circuit::Node node) { return movable_[static_cast<std::size_t>(node)]; });
}

/// What the nodes that are looked at do not depend on (circuit/reach.hpp) is left out: a fault in one cabinet of sixty
/// is solved in that one.
void FaultySite::put_in() {
  const circuit::Network& sound = sound_.circuit().wiring.network;
  movable_.clear();
  std::vector<circuit::Node> asked;
  if (looked_at_ != nullptr) {
    for (const std::vector<circuit::Node>& group : *looked_at_) {
      if (can_move(group)) asked.insert(asked.end(), group.begin(), group.end());
    }
  } else {
    for (circuit::Node node = 0; node < sound.node_count(); ++node) asked.push_back(node);
  }
  anew_ = std::make_unique<Own>(sound, asked, changes_);
  ++work_.solved_anew;
}

FaultySite::Own::Own(const circuit::Network& sound, const std::vector<circuit::Node>& asked,
                     const std::vector<circuit::Change>& changes)
    : nodes(static_cast<std::size_t>(sound.node_count()), -1), elements(sound.elements().size(), -1) {
  nodes[static_cast<std::size_t>(circuit::reference)] = circuit::reference;
  const auto node_of = [&](circuit::Node node) {
    circuit::Node& now = nodes[static_cast<std::size_t>(node)];
    if (now < 0) now = network.nameless_node();
    return now;
  };
  const std::vector<bool> kept = circuit::within_reach(sound, asked, open_of(changes));
  for (std::size_t e = 0; e < elements.size(); ++e) {
    if (!kept[e]) continue;
    circuit::Element element = circuit::without_name(sound.elements()[e]);
    element.from = node_of(element.from);
    element.to = node_of(element.to);
    elements[e] = network.add(std::move(element));
  }
  for (const circuit::Node node : asked) node_of(node);
  network = circuit::changed(std::move(network), of(changes));
  variations = std::make_unique<circuit::Variations>(network);
}

/// Voltages of some nodes. What the formula does not take once it will most likely not take in the next state either;
/// and a network with the fault in it, in which a glance tells, costs less than many refined answers; one of what is
/// looked at alone costs less than the first.
std::vector<double> FaultySite::exactly(const std::vector<circuit::Change>& movement,
                                        const std::vector<circuit::Node>& asked) {
  constexpr int most_refined_of_all = 4;
  if (!anew_) {
    if (looked_at_ == nullptr && refined_++ < most_refined_of_all) {
      if (const auto varied = sound_.variations().by_formula(with_fault(movement)))
        return of_nodes(varied->voltage, asked);
    }
    put_in();
  }
  const std::vector<circuit::Change> moves = with_fault(movement);
  const auto nodes = anew_->of(asked);
  if (!nodes) return of_nodes(sound_.voltages(moves), asked);  // nothing that has changed moves them
  const circuit::Varied varied = anew_->variations->with(anew_->of(moves));
  if (varied.fresh) ++work_.solved_anew;
  return of_nodes(varied.voltage, *nodes);
}

FaultySite::Seen FaultySite::look(const Movement& movement, const ZoneWatch& zone) {
  ++work_.variations;
  if (const auto some = glance(movement)) {
    Volts volts(*some);
    const Seen all = seen(zone, volts);
    if (!volts.near_a_limit()) return all;
  }
  const std::vector<double> exact = exactly(movement.changes, zone.nodes);
  Volts volts(exact);
  return seen(zone, volts);
}

FaultySite::Seen FaultySite::seen(const ZoneWatch& zone, Volts& volts) {
  const bool panel_right = zone.panel_right(volts), pictured = zone.pictured(volts);
  return Seen{panel_right, pictured, volts.room() / 4.0};
}

FaultySite::Seen FaultySite::look(const Movement& movement, const ZoneWatch& zone, const Seen& sound) {
  const bool told = !anew_ && sound_.variations().most_moved(shock_, movement.alone) < sound.room_volts;
  if (!told && may_move(zone.nodes)) return look(movement, zone);
  ++work_.variations;
  return sound;
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
  movable_.clear();
  if (anew_) {
    changes_.insert(changes_.end(), held.begin(), held.end());
    put_in();
    return;
  }
  held.insert(held.begin(), changes_.begin(), changes_.end());
  change_to(std::move(held));
  if (contacts.size() > most_in_the_formula) put_in();
}

/// `look` is given a part and its voltages, again where a glance at them was near a limit.
template <class Do>
void FaultySite::each_moved(const Bystanders& everybody, Do&& look) {
  const std::vector<double> moved = most_moved(everybody.crowds);
  const auto nothing = sound_.variations().ready({});
  bool glances = true;
  for (std::size_t p = 0; p < everybody.parts.size(); ++p) {
    const PartOfWatch& part = everybody.parts[p];
    if (moved[p] < everybody.room_volts[p]) continue;
    if (!may_move(part.nodes)) continue;
    if (!anew_ && glances) {
      const auto some = sound_.variations().glance(ready_, nothing, everybody.asked[p]);
      glances = some.has_value();
      if (some) {
        Volts volts(*some);
        look(part, volts);
        if (!volts.near_a_limit()) continue;
      }
    }
    const std::vector<double> exact = exactly({}, part.nodes);
    Volts volts(exact);
    look(part, volts);
  }
}

Unsupplied FaultySite::without_supply(const Bystanders& everybody, const Unsupplied& sound) {
  Unsupplied unsupplied = sound;
  each_moved(everybody, [&](const PartOfWatch& part, Volts& volts) {
    for (const auto& [id, feed] : part.watch.feeds) {
      unsupplied.all.erase(id);
      unsupplied.too_high.erase(id);
      if (!feed.without_supply(volts)) continue;
      unsupplied.all.insert(id);
      if (feed.too_high(volts)) unsupplied.too_high.insert(id);
    }
  });
  return unsupplied;
}

SiteView FaultySite::view(const Bystanders& everybody) {
  ++work_.variations;
  SiteView view;
  each_moved(everybody, [&](const PartOfWatch& part, Volts& volts) {
    SiteView some = view_of(sound_.site(), part.watch, volts);
    for (const auto& [id, feed] : part.watch.feeds) view.without_supply.erase(id);
    view.without_supply.merge(some.without_supply);
    for (const auto& [zone, reading] : some.panel) view.panel[zone] = reading;
    for (const auto& [trigger, moves] : some.triggers) view.triggers[trigger] = moves;
    for (const auto& [unit, armed] : some.armed) view.armed[unit] = armed;
  });
  return view;
}

Unsupplied FaultySite::without_supply() {
  const FeedWatch& feeds = sound_.feeds();
  if (!anew_) {
    if (const auto some = sound_.variations().glance(with_fault({}), feeds.nodes)) {
      Volts volts(*some);
      Unsupplied unsupplied = feeds.without_supply(volts);
      if (!volts.near_a_limit()) return unsupplied;
    }
  }
  const std::vector<double> exact = exactly({}, feeds.nodes);
  Volts volts(exact);
  return feeds.without_supply(volts);
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
