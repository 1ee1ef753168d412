#include "field/readings.hpp"

#include <algorithm>
#include <cmath>

#include "electric/answer.hpp"
#include "electric/arming_check.hpp"
#include "electric/levels.hpp"
#include "electric/loose.hpp"
#include "electric/narrowed.hpp"
#include "site/relations.hpp"

namespace zoneproof::field {

using circuit::Quantity;
using electric::Solved;
using electric::SupplyCondition;

namespace {

Expected nothing_known(std::string unit, std::vector<chain::Gap> gaps) {
  Expected expected;
  expected.unit = std::move(unit);
  expected.gaps = std::move(gaps);
  if (expected.gaps.empty()) expected.gaps.push_back({"", "undecided"});
  return expected;
}

/// Whether numbers may be shown with these gaps: where data are typical or assumed they stand beside the interval;
/// where something is not known, a list is open or a rule is missing, the interval would be that of another site.
bool bear_numbers(const std::vector<chain::Gap>& gaps) {
  return std::all_of(gaps.begin(), gaps.end(),
                     [](const chain::Gap& gap) { return gap.reason == "typical" || gap.reason == "assumed"; });
}

Expected expected_of(const Solved& solved, std::size_t which) {
  const circuit::WorstCase& worst = solved.cases.at(which);
  const bool trouble = worst.trouble != circuit::Trouble::none && worst.trouble != circuit::Trouble::leakage_defined;
  if (solved.unknown || trouble || !bear_numbers(solved.gaps) || !std::isfinite(worst.low.bound) ||
      !std::isfinite(worst.high.bound))
    return nothing_known("V", solved.gaps);
  Expected expected;
  expected.unit = "V";
  expected.low = worst.low.bound;
  expected.nominal = worst.nominal;
  expected.high = worst.high.bound;
  expected.exact = solved.low_exact.at(which) && solved.high_exact.at(which);
  expected.gaps = solved.gaps;
  return expected;
}

Expected solved_alone(electric::Wiring wiring, Quantity quantity) {
  std::vector<Quantity> quantities = {std::move(quantity)};
  electric::narrow(wiring, quantities);
  return expected_of(electric::solve_wiring(wiring, quantities), 0);
}

/// Of two states in either of which the site may be; blank where one of them is.
Expected either(Expected a, const Expected& b) {
  for (const chain::Gap& gap : b.gaps) chain::add_gap(a.gaps, gap);
  if (a.blank() || b.blank()) return nothing_known(a.unit, a.gaps);
  a.low = std::min(*a.low, *b.low);
  a.high = std::max(*a.high, *b.high);
  a.exact = a.exact && b.exact;
  return a;
}

Expected shown(const std::optional<electric::MeterShows>& meter, const electric::Level& level) {
  std::vector<chain::Gap> gaps = level.solved.gaps;
  if (level.pulse) {
    for (const chain::Gap& gap : level.pulse->gaps) chain::add_gap(gaps, gap);
  }
  if (!meter || !bear_numbers(gaps) || !std::isfinite(meter->low) || !std::isfinite(meter->high))
    return nothing_known("V", std::move(gaps));
  Expected expected;
  expected.unit = "V";
  expected.low = meter->low;
  expected.nominal = meter->nominal;
  expected.high = meter->high;
  expected.gaps = std::move(gaps);
  return expected;
}

ZoneReadings pulsed_readings(const site::Site& site, const electric::ZoneSituation& situation) {
  const electric::Level level = electric::solve_level(site, situation);
  const auto meters = level.pulse.value_or(electric::Pulse{});
  ZoneReadings readings;
  if (level.panel) readings.panel = shown(meters.panel_meter, level);
  if (level.unit) readings.unit = shown(meters.unit_meter, level);
  return readings;
}

/// A value anywhere from the lower end of one to the upper end of another one. It is no better known than the weaker of
/// them, whose place in the file it takes.
site::Value stretched(const site::Value& low, const site::Value& high, const site::Value& nominal) {
  const site::Value& weaker = !high.known() || (low.known() && high.origin > low.origin) ? high : low;
  site::Value all = weaker;
  if (!low.known() || !high.known()) return all;
  all.low = std::min(low.low, high.low);
  all.high = std::max(low.high, high.high);
  all.nominal = nominal.nominal;
  all.tempco_ppm_K.reset();
  return all;
}

/// Gives a thing a copy of its part that nothing else has; null where its part is not known.
site::Part* own_part(site::Site& site, site::Ref& part) {
  const site::Part* shelf = site::part_of(site, part);
  if (shelf == nullptr) return nullptr;
  site::Part copy = *shelf;
  std::string id = part.id + "_own";
  while (site.parts.count(id) != 0) id += "_";
  part.id = id;
  return &(site.parts[id] = std::move(copy));
}

Quantity at_screws(const electric::Terminal& terminal) {
  return {{{terminal.point, terminal.sign}, {terminal.common, -terminal.sign}}};
}

}  // namespace

site::Site without_units(const site::Site& site) {
  site::Site before = site;
  for (auto bond = before.bonds.begin(); bond != before.bonds.end();) {
    const bool of_unit = site.units.count(bond->second.a.id) != 0 || site.units.count(bond->second.b.id) != 0;
    bond = of_unit ? before.bonds.erase(bond) : std::next(bond);
  }
  before.units.clear();
  before.triggers.clear();
  return before;
}

site::Site without_unit(const site::Site& site, const std::string& unit) {
  site::Site after = site;
  std::erase_if(after.bonds, [&](const auto& bond) { return bond.second.a.id == unit || bond.second.b.id == unit; });
  std::erase_if(after.triggers, [&](const auto& trigger) { return trigger.second.unit.id == unit; });
  after.units.erase(unit);
  return after;
}

site::Site just_off_mains(const site::Site& site) {
  site::Site now = site;
  for (auto& [id, battery] : now.batteries) {
    const auto supply = site.supplies.find(battery.supply.id);
    if (supply == site.supplies.end()) continue;
    const site::SupplySpec* charger = site::spec_of(site, supply->second.part, &site::Part::supply);
    site::Part* part = charger == nullptr ? nullptr : own_part(now, battery.part);
    if (part == nullptr || !part->battery) continue;
    const site::Value rested = part->battery->full_V;
    part->battery->full_V = stretched(rested, charger->mains_V, rested);
  }
  return now;
}

site::Site just_on_mains(const site::Site& site) {
  site::Site now = site;
  for (auto& [id, supply] : now.supplies) {
    if (!site::has_battery(site, id)) continue;
    site::Part* part = own_part(now, supply.part);
    if (part == nullptr || !part->supply || part->supply->mains_flat_battery_V.none()) continue;
    const site::Value charged = part->supply->mains_V;
    part->supply->mains_V = stretched(part->supply->mains_flat_battery_V, charged, charged);
  }
  return now;
}

bool reads_downward(const site::Site& site, const std::string& zone) {
  const site::ZoneTerminalSpec* spec = electric::terminal_spec(site, zone);
  return spec != nullptr && spec->refers_to.is(site::TerminalReference::positive);
}

ZoneReadings zone_readings(const site::Site& site, const electric::ZoneSituation& situation) {
  const site::ZoneTerminalSpec* spec = electric::terminal_spec(site, situation.zone);
  if (spec != nullptr && electric::pulsed(*spec)) return pulsed_readings(site, situation);
  electric::ZoneCircuit circuit = electric::build_zone_circuit(site, situation);
  std::vector<Quantity> quantities;
  if (circuit.terminal) quantities.push_back(at_screws(*circuit.terminal));
  if (circuit.input) quantities.push_back(electric::unit_reading(*circuit.input));
  ZoneReadings readings;
  const bool paired = !site::loop_owner(site, situation.zone).empty();
  if (paired && !circuit.terminal) readings.panel = nothing_known("V", circuit.wiring.gaps());
  if (quantities.empty()) return readings;
  electric::narrow(circuit.wiring, quantities);
  const Solved solved = electric::solve_wiring(circuit.wiring, quantities);
  if (circuit.terminal) readings.panel = expected_of(solved, 0);
  if (circuit.input) readings.unit = expected_of(solved, quantities.size() - 1);
  return readings;
}

const SupplySide::Built& SupplySide::built(SupplyCondition condition) {
  const auto known = built_.find(condition);
  if (known != built_.end()) return known->second;
  Built made{electric::build_base(site_, condition, {}), {}};
  made.parts = electric::join_loose_supplies(made.base.backbone, made.base.wiring);
  return built_.emplace(condition, std::move(made)).first->second;
}

Expected SupplySide::volts_at(const std::string& thing, const std::vector<SupplyCondition>& conditions) {
  std::optional<Expected> all;
  for (SupplyCondition condition : conditions) {
    const electric::Base& base = built(condition).base;
    const auto supply = base.backbone.supplies.find(thing);
    const auto fed = base.backbone.poles.find(thing);
    if (supply == base.backbone.supplies.end() && fed == base.backbone.poles.end())
      return nothing_known("V", base.wiring.gaps());
    const electric::Poles poles = supply != base.backbone.supplies.end() ? supply->second : fed->second;
    Expected one = solved_alone(base.wiring, Quantity::voltage(poles.plus, poles.minus));
    all = all ? either(std::move(*all), one) : std::move(one);
  }
  return all.value_or(nothing_known("V", {}));
}

Expected volts_at(const site::Site& site, const std::string& thing, const std::vector<SupplyCondition>& conditions) {
  return SupplySide(site).volts_at(thing, conditions);
}

Expected volts_at_plug(const site::Site& site, const std::string& unit, SupplyCondition condition) {
  // The meter stands in the unit's place and draws nothing.
  site::Site unplugged = site;
  site::Load probe;
  probe.feed = site.units.at(unit).feed;
  const std::string part = "plug_of_unit";
  site::Part nothing;
  nothing.kind.value = site::PartKind::load;
  nothing.load = site::LoadSpec{};
  nothing.load->current_A = nothing.load->alarm_current_A = site::Value::absent();
  unplugged.parts[part] = nothing;
  probe.part.id = part;
  unplugged.units.erase(unit);
  for (auto trigger = unplugged.triggers.begin(); trigger != unplugged.triggers.end();)
    trigger = trigger->second.unit.id == unit ? unplugged.triggers.erase(trigger) : std::next(trigger);
  unplugged.loads[unit] = probe;  // under the same id: what joins the unit's negative goes on doing so
  const Expected others_on = volts_at(unplugged, unit, {condition});
  if (unplugged.units.empty()) return others_on;
  // Units go in one after the other: which of the others draw already depends on where in the walk this one stands.
  return either(volts_at(without_units(unplugged), unit, {condition}), others_on);
}

Expected SupplySide::negative_shift(const std::string& unit, const std::string& panel, SupplyCondition condition) {
  const auto& [base, parts] = built(condition);
  const auto of_unit = base.backbone.poles.find(unit), of_panel = base.backbone.poles.find(panel);
  if (of_unit == base.backbone.poles.end() || of_panel == base.backbone.poles.end())
    return nothing_known("V", base.wiring.gaps());
  const auto part_of = [&, &numbers = parts](const site::Feed& feed) {
    const auto found = numbers.find(site::supply_of(site_, feed));
    return found == numbers.end() ? -1 : found->second;
  };
  if (part_of(site_.units.at(unit).feed) != part_of(site_.panels.at(panel).feed))
    return nothing_known("V", {{"/units/" + unit + "/feed", "undecided"}});
  return solved_alone(base.wiring, Quantity::voltage(of_unit->second.minus, of_panel->second.minus));
}

Expected negative_shift(const site::Site& site, const std::string& unit, const std::string& panel,
                        SupplyCondition condition) {
  return SupplySide(site).negative_shift(unit, panel, condition);
}

Expected arming_volts(const site::Site& site, const std::string& unit, bool armed) {
  const electric::ArmingPoint point = electric::solve_arming(site, unit, SupplyCondition::mains, armed, false);
  if (point.solved.cases.empty()) return nothing_known("V", point.wiring.gaps());
  return expected_of(point.solved, 0);
}

Expected battery_volts(const site::Site& site, const std::string& id) {
  const site::Battery& battery = site.batteries.at(id);
  const site::BatterySpec* spec = site::spec_of(site, battery.part, &site::Part::battery);
  const auto supply = site.supplies.find(battery.supply.id);
  const site::SupplySpec* source =
      supply == site.supplies.end() ? nullptr : site::spec_of(site, supply->second.part, &site::Part::supply);
  if (spec == nullptr) return nothing_known("V", {{battery.part.pointer, "unknown"}});
  if (source == nullptr) return nothing_known("V", {{battery.supply.pointer, "unknown"}});
  std::vector<chain::Gap> gaps;
  chain::add_if_weak(gaps, spec->full_V);
  chain::add_if_weak(gaps, source->mains_V);
  if (!spec->full_V.known() || !source->mains_V.known()) return nothing_known("V", std::move(gaps));
  Expected expected;
  expected.unit = "V";
  expected.low = spec->full_V.low;
  expected.nominal = spec->full_V.nominal;
  expected.high = std::max(spec->full_V.high, source->mains_V.high);
  expected.gaps = std::move(gaps);
  return expected;
}

Expected expected_of(const electric::Ohms& ohms) {
  if (!ohms.known || !bear_numbers(ohms.gaps)) return nothing_known("ohm", ohms.gaps);
  Expected expected;
  expected.unit = "ohm";
  expected.low = ohms.low;
  expected.nominal = ohms.nominal;
  expected.high = ohms.high;
  expected.unbounded = !ohms.high;
  expected.exact = ohms.low_exact && ohms.high_exact;
  expected.gaps = ohms.gaps;
  return expected;
}

Expected at_least(Expected expected) {
  expected.high = expected.nominal = std::nullopt;
  expected.unbounded = expected.low.has_value();
  return expected;
}

Expected not_filled(const site::Ref& ref, const std::string& unit) {
  return nothing_known(unit, {{ref.pointer, "unknown"}});
}

Expected up_to(const site::Value& value, const std::string& unit) {
  std::vector<chain::Gap> gaps;
  chain::add_if_weak(gaps, value);
  if (!value.known()) return nothing_known(unit, std::move(gaps));
  Expected expected;
  expected.unit = unit;
  expected.low = 0.0;
  expected.nominal = value.nominal;
  expected.high = value.high;
  expected.gaps = std::move(gaps);
  return expected;
}

}  // namespace zoneproof::field
