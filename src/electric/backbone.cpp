#include "electric/backbone.hpp"

#include <algorithm>
#include <cmath>

#include "electric/element_name.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

using circuit::infinite;

namespace {

using circuit::Node;
using circuit::Range;

/// The largest part of a battery's inner resistance: new, up to aged.
Tracked battery_ohm(const site::BatterySpec& spec) {
  const Tracked fresh = tracked(spec.internal_ohm, 0.0);
  return spanning(fresh, fresh * tracked(spec.internal_aged_factor, 1.0));
}

class Builder {
 public:
  Builder(const site::Site& site, SupplyCondition condition, const UnitUnderStudy& studied, Wiring& wiring,
          LoadState loads)
      : site_(site), condition_(condition), studied_(studied), wiring_(wiring), loads_(loads) {}

  Backbone build() {
    choose_reference();
    for (const auto& [id, supply] : site_.supplies) add_supply(id, supply);
    for (const auto& [id, junction] : site_.junctions) feed_of(id, junction.feed);
    for (const auto& [id, panel] : site_.panels) add_panel(id, panel);
    for (const auto& [id, detector] : site_.detectors) add_detector(id, detector);
    for (const auto& [id, load] : site_.loads) add_load(id, load);
    for (const auto& [id, unit] : site_.units) add_unit(id, unit);
    for (const auto& [id, bond] : site_.bonds) add_bond(id, bond);
    if (!site_.bonds_complete.yes()) wiring_.missing("/bonds_complete", "incomplete_list");
    return std::move(backbone_);
  }

 private:
  void choose_reference() {
    std::string chosen;
    for (const auto& [id, panel] : site_.panels) {
      chosen = site::supply_of(site_, panel.feed);
      if (!chosen.empty()) break;
    }
    if (chosen.empty() && !site_.supplies.empty()) chosen = site_.supplies.begin()->first;
    reference_supply_ = chosen;
  }

  Node negative_of(const std::string& supply) {
    return supply == reference_supply_ ? circuit::reference : wiring_.network.node(part_name(supply, "neg"));
  }

  // --- supplies -----------------------------------------------------------------------------------------------
  void add_supply(const std::string& id, const site::Supply& supply) {
    const Poles poles{wiring_.network.node(part_name(id, "rail")), negative_of(id)};
    backbone_.supplies[id] = poles;
    const site::SupplySpec* spec = site::spec_of(site_, supply.part, &site::Part::supply);
    if (spec == nullptr) {
      wiring_.missing(supply.part.pointer, "unknown");
      return;
    }
    if (id == studied_.dead_supply) {
      wiring_.voltage(part_name(id, "source"), poles.minus, poles.plus, Tracked::fact(0.0));
      return;
    }
    if (!supply.loads_complete.yes()) wiring_.missing("/supplies/" + id + "/loads_complete", "incomplete_list");
    if (condition_ == SupplyCondition::supplies_apart) {
      add_source_apart(id, *spec, poles);
    } else if (on_battery(condition_)) {
      add_battery_source(id, *spec, poles);
    } else {
      wiring_.voltage(part_name(id, "source"), poles.minus, poles.plus, tracked(mains_voltage(*spec), 0.0));
    }
  }

  const site::Value& mains_voltage(const site::SupplySpec& spec) const {
    if (condition_ == SupplyCondition::mains_no_battery) return spec.mains_no_battery_V;
    if (condition_ == SupplyCondition::mains_flat_battery) return spec.mains_flat_battery_V;
    return spec.mains_V;
  }

  /// All batteries of a supply in parallel behind its battery path. At cut-off the voltage at the battery's terminals
  /// is what the supply compares, so there the battery's inner resistance is already in it.
  void add_battery_source(const std::string& id, const site::SupplySpec& spec, Poles poles) {
    if (!alive(site_, id, condition_)) return add_dead_source(id, poles);
    const Node terminals = wiring_.network.node(part_name(id, "battery"));
    wiring_.resistor(part_name(id, "battery_path"), terminals, poles.plus, tracked(spec.battery_path_ohm, 0.0));
    wiring_.current(part_name(id, "own"), poles.plus, poles.minus, tracked(spec.own_A, 0.0));
    if (condition_ == SupplyCondition::battery_cutoff && spec.cutoff_V.known()) {
      wiring_.voltage(part_name(id, "cutoff"), poles.minus, terminals, tracked(spec.cutoff_V, 0.0));
      return;
    }
    if (condition_ == SupplyCondition::battery_cutoff && !spec.cutoff_V.none()) {
      wiring_.missing(spec.cutoff_V.pointer, "unknown");
    }
    bool any = false;
    for (const auto& [battery_id, battery] : site_.batteries) {
      if (battery.supply.id != id) continue;
      any = add_battery(battery_id, battery, poles.minus, terminals) || any;
    }
    if (!any) wiring_.missing("/supplies/" + id + "/batteries_complete", "unknown");
  }

  /// One source that may stand anywhere from the end of the battery to the highest that the supply gives on mains,
  /// behind nothing (mains) up to the whole battery path, with up to the supply's own draw beside it. Each is one
  /// element of its own, so the worst case over the box holds for every mixture of supplies. Nominal is the mixture
  /// that a common condition never shows: the reference's supply at its battery's end, the others on mains.
  void add_source_apart(const std::string& id, const site::SupplySpec& spec, Poles poles) {
    const Tracked mains = any_mains(spec);
    if (!site::has_battery(site_, id)) {
      name_other_battery(id);
      wiring_.voltage(part_name(id, "source"), poles.minus, poles.plus, mains);
      return;
    }
    const bool low = id == reference_supply_;
    const auto [end, path] = battery_end(id, spec);
    const Tracked none = Tracked::fact(0.0), own = tracked(spec.own_A, 0.0);
    const Node terminals = wiring_.network.node(part_name(id, "battery"));
    wiring_.voltage(part_name(id, "source"), poles.minus, terminals, low ? spanning(end, mains) : spanning(mains, end));
    wiring_.resistor(part_name(id, "battery_path"), terminals, poles.plus,
                     low ? spanning(path, none) : spanning(none, path));
    wiring_.current(part_name(id, "own"), poles.plus, poles.minus, low ? spanning(own, none) : spanning(none, own));
  }

  /// The supply on mains, whatever its battery.
  Tracked any_mains(const site::SupplySpec& spec) const {
    Tracked volts = tracked(spec.mains_V, 0.0);
    for (const site::Value* other : {&spec.mains_no_battery_V, &spec.mains_flat_battery_V}) {
      if (!other->none()) volts = spanning(volts, tracked(*other, 0.0));
    }
    return volts;
  }

  /// The battery from its end to charged, and what stands between it and the rail. A cut-off is measured at the
  /// battery's terminals; without one the cells' own resistance counts too, that of one string: the largest.
  std::pair<Tracked, Tracked> battery_end(const std::string& id, const site::SupplySpec& spec) {
    Tracked path = tracked(spec.battery_path_ohm, 0.0);
    std::optional<Tracked> end, inner;
    if (!spec.cutoff_V.none()) end = tracked(spec.cutoff_V, 0.0);
    for (const auto& [battery_id, battery] : site_.batteries) {
      if (battery.supply.id != id) continue;
      const site::BatterySpec* sheet = site::spec_of(site_, battery.part, &site::Part::battery);
      if (sheet == nullptr) {
        wiring_.missing(battery.part.pointer, "unknown");
        continue;
      }
      const Tracked full = tracked(sheet->full_V, 0.0);
      end = spanning(end ? *end : tracked(sheet->empty_V, 0.0), full);
      if (!spec.cutoff_V.none()) continue;
      end = spanning(*end, tracked(sheet->empty_V, 0.0));
      inner = inner ? spanning(*inner, battery_ohm(*sheet)) : battery_ohm(*sheet);
    }
    return {end.value_or(Tracked::fact(0.0)), inner ? path + *inner : path};
  }

  /// Without battery: dead. A rail at 0 V, so that what hangs on it is seen to be off and all else is left alone.
  void add_dead_source(const std::string& id, Poles poles) {
    name_other_battery(id);
    wiring_.voltage(part_name(id, "source"), poles.minus, poles.plus, Tracked::fact(0.0));
  }

  void name_other_battery(const std::string& id) {
    if (const auto open = site::other_battery_possible(site_, id))
      wiring_.missing(open->pointer, open->incomplete ? "incomplete_list" : "unknown");
  }

  bool add_battery(const std::string& id, const site::Battery& battery, Node minus, Node terminals) {
    const site::BatterySpec* sheet = site::spec_of(site_, battery.part, &site::Part::battery);
    if (sheet == nullptr) {
      wiring_.missing(battery.part.pointer, "unknown");
      return false;
    }
    const site::BatterySpec& spec = *sheet;
    const site::Value& volts = condition_ == SupplyCondition::battery_full ? spec.full_V : spec.empty_V;
    const Node cells = wiring_.network.node(part_name(id, "cells"));
    wiring_.voltage(part_name(id, "source"), minus, cells, tracked(volts, 0.0));
    Tracked ohm = battery_ohm(spec);
    if (battery.blocks_in_parallel.known()) {
      ohm = scaled(ohm, 1.0 / static_cast<double>(*battery.blocks_in_parallel.value));
    } else {
      ohm.bases.push_back({battery.blocks_in_parallel.pointer, site::Origin::assumed, true, true, false});
    }
    wiring_.resistor(part_name(id, "inner"), cells, terminals, ohm);
    return true;
  }

  // --- feeds --------------------------------------------------------------------------------------------------
  /// Plus and minus at the far end of a feed, with its two conductors as elements of their own.
  Poles feed_of(const std::string& id, const site::Feed& feed, bool plus_open = false, bool minus_open = false) {
    if (const auto known = backbone_.poles.find(id); known != backbone_.poles.end()) return known->second;
    const std::optional<Poles> root = root_of(feed);
    Poles poles;
    if (!root) {
      wiring_.missing(feed.from.pointer, "unknown");
      poles = {wiring_.network.node(part_name(id, "p")), wiring_.network.node(part_name(id, "n"))};
    } else if (feed.cable.none() && !plus_open && !minus_open) {
      poles = *root;
    } else {
      poles = {wiring_.network.node(part_name(id, "p")), wiring_.network.node(part_name(id, "n"))};
      join(part_name(id, "feed_plus"), root->plus, poles.plus, feed, plus_open);
      join(part_name(id, "feed_minus"), root->minus, poles.minus, feed, minus_open);
    }
    backbone_.poles[id] = poles;
    return poles;
  }

  void join(const std::string& name, Node near, Node far, const site::Feed& feed, bool open) {
    if (!open) wiring_.resistor(name, near, far, wiring_.core_ohm(site_, feed.cable));
  }

  std::optional<Poles> root_of(const site::Feed& feed) {
    if (const auto junction = site_.junctions.find(feed.from.id); junction != site_.junctions.end()) {
      return feed_of(junction->first, junction->second.feed);
    }
    const auto supply = site_.supplies.find(feed.from.id);
    if (supply == site_.supplies.end()) return std::nullopt;
    return output_of(supply->first, supply->second, feed);
  }

  Poles output_of(const std::string& id, const site::Supply& supply, const site::Feed& feed) {
    const Poles rail{wiring_.network.node(part_name(id, "rail")), negative_of(id)};
    const site::SupplySpec* sheet = site::spec_of(site_, supply.part, &site::Part::supply);
    if (sheet == nullptr || sheet->outputs.empty()) return rail;  // a rail and nothing else, or said already
    const auto spec = sheet->outputs.find(feed.output);
    if (spec == sheet->outputs.end()) {
      const std::string& from = feed.from.pointer;
      wiring_.missing(from.substr(0, from.rfind('/')) + "/output", "unknown");
      return rail;
    }
    const std::string name = part_name(id, "out", feed.output);
    const std::optional<Node> built = wiring_.network.find_node(name);
    const Node plus = wiring_.network.node(name);
    if (!built) wiring_.resistor(part_name(name, "series"), rail.plus, plus, tracked(spec->second.series_ohm, 0.0));
    return {plus, rail.minus};
  }

  // --- loads --------------------------------------------------------------------------------------------------
  /// At rest up to in alarm: the alarm may be anywhere on the site, so both ends are reachable in every state.
  Tracked consumption(const site::Value& rest, const site::Value& added) const {
    Tracked at_rest = tracked(rest, 0.0);
    if (loads_ == LoadState::rest) return at_rest;
    Tracked in_alarm = at_rest + tracked(added, 0.0);
    return loads_ == LoadState::alarm ? in_alarm : spanning(at_rest, in_alarm);
  }

  void draw(const std::string& id, Poles poles, const Tracked& ampere) {
    wiring_.current(part_name(id, "load"), poles.plus, poles.minus, ampere);
  }

  void add_panel(const std::string& id, const site::Panel& panel) {
    const Poles poles = feed_of(id, panel.feed);
    const site::PanelSpec* spec = site::panel_spec(site_, id);
    if (spec == nullptr) return wiring_.missing(panel.part.pointer, "unknown");
    draw(id, poles, consumption(spec->current_A, spec->alarm_current_A));
  }

  void add_detector(const std::string& id, const site::Detector& detector) {
    if (detector.feed.from.none()) return;
    const Poles poles = feed_of(id, detector.feed);
    const site::DetectorSpec* spec = site::spec_of(site_, detector.part, &site::Part::detector);
    if (spec == nullptr) return wiring_.missing(detector.part.pointer, "unknown");
    draw(id, poles, tracked(spec->current_A, 0.0));
  }

  void add_load(const std::string& id, const site::Load& load) {
    const Poles poles = feed_of(id, load.feed);
    const site::LoadSpec* spec = site::spec_of(site_, load.part, &site::Part::load);
    if (spec == nullptr) return wiring_.missing(load.part.pointer, "unknown");
    draw(id, poles, consumption(spec->current_A, spec->alarm_current_A));
  }

  // --- units --------------------------------------------------------------------------------------------------
  void add_unit(const std::string& id, const site::Unit& unit) {
    const bool studied = id == studied_.unit;
    const UnitCondition state = studied ? studied_.condition : UnitCondition::powered;
    const Poles poles =
        feed_of(id, unit.feed, state == UnitCondition::unpowered, state == UnitCondition::negative_broken);
    const site::UnitSpec* spec = site::unit_spec(site_, id);
    if (spec == nullptr) return wiring_.missing(unit.part.pointer, "unknown");
    if (state == UnitCondition::negative_broken) {
      wiring_.resistor(part_name(id, "starved"), poles.plus, poles.minus, starved_ohm(*spec));
    } else if (state == UnitCondition::unpowered || dead(unit.feed)) {
      wiring_.resistor(part_name(id, "dead"), poles.plus, poles.minus,
                       tracked(spec->input.inner_rail_load_ohm, infinite));
    } else if (state == UnitCondition::booting) {
      draw(id, poles, spanning(tracked(spec->startup_A, 0.0), Tracked::fact(0.0)));
    } else {
      add_running_unit(id, *spec, poles);
    }
  }

  bool dead(const site::Feed& feed) const {
    if (certainly_dead(site_, feed, condition_)) return true;
    return !studied_.dead_supply.empty() && site::supply_of(site_, feed) == studied_.dead_supply;
  }

  void add_running_unit(const std::string& id, const site::UnitSpec& spec, Poles poles) {
    if (spec.power_W.known()) {
      const Tracked lockout = tracked(spec.lockout_V, 0.0);
      wiring_.constant_power(part_name(id, "load"), poles, tracked(spec.power_W, 0.0), lockout.range.high);
      if (spec.lockout_V.unknown()) wiring_.missing(spec.lockout_V.pointer, "unknown");
    } else {
      draw(id, poles, tracked(spec.current_A, 0.0));
    }
  }

  /// With its negative open the regulator cannot run: what is left between its poles is anything from its hardest
  /// pull at lockout to no more than the insulation of its supply pair.
  Tracked starved_ohm(const site::UnitSpec& spec) const {
    const Tracked volts = tracked(spec.lockout_V, 0.0);
    const Tracked hardest =
        spec.power_W.known() ? volts * volts / tracked(spec.power_W, 0.0) : volts / tracked(spec.current_A, 0.0);
    Tracked ohm = hardest;
    if (!std::isfinite(ohm.range.nominal)) {  // it draws nothing: only the insulation is left
      return tracked_or_envelope(site_, site::Value{}, "leakage_ohm", infinite);
    }
    ohm.range.high = tracked_or_envelope(site_, site::Value{}, "leakage_ohm", infinite).range.high;
    return ohm;
  }

  // --- negatives ----------------------------------------------------------------------------------------------
  std::optional<Node> negative_at(const std::string& id) {
    if (const auto supply = backbone_.supplies.find(id); supply != backbone_.supplies.end())
      return supply->second.minus;
    if (const auto fed = backbone_.poles.find(id); fed != backbone_.poles.end()) return fed->second.minus;
    return std::nullopt;
  }

  void add_bond(const std::string& id, const site::Bond& bond) {
    const std::optional<Node> a = negative_at(bond.a.id);
    const std::optional<Node> b = negative_at(bond.b.id);
    if (!a || !b) return wiring_.missing(a ? bond.b.pointer : bond.a.pointer, "unknown");
    if (*a == *b) return;
    Tracked ohm = bond.cable.known() && site_.cables.count(bond.cable.id) != 0 ? conductor_ohm(site_, bond.cable.id)
                                                                               : tracked(bond.resistance_ohm, 0.0);
    wiring_.resistor(part_name(id, "bond"), *a, *b, ohm);
  }

  const site::Site& site_;
  SupplyCondition condition_;
  UnitUnderStudy studied_;
  Wiring& wiring_;
  LoadState loads_;
  Backbone backbone_;
  std::string reference_supply_;
};

}  // namespace

Backbone build_backbone(const site::Site& site, SupplyCondition condition, const UnitUnderStudy& studied,
                        Wiring& wiring, LoadState loads) {
  return Builder(site, condition, studied, wiring, loads).build();
}

std::vector<SupplyCondition> supply_conditions(const site::Site& site) {
  std::vector<SupplyCondition> conditions = all_supply_conditions();
  if (site.supplies.size() < 2) conditions.pop_back();
  return conditions;
}

bool alive(const site::Site& site, const std::string& supply, SupplyCondition condition) {
  return !on_battery(condition) || site::has_battery(site, supply);
}

bool certainly_dead(const site::Site& site, const site::Feed& feed, SupplyCondition condition) {
  const std::string supply = site::supply_of(site, feed);
  return !supply.empty() && !site::other_battery_possible(site, supply) && !alive(site, supply, condition);
}

}  // namespace zoneproof::electric
