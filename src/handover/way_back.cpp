#include <algorithm>

#include "base/message.hpp"
#include "electric/excerpt.hpp"
#include "electric/naming.hpp"
#include "field/readings.hpp"
#include "field/touched.hpp"
#include "handover/places.hpp"
#include "handover/set_words.hpp"
#include "handover/wire_tables.hpp"
#include "messages/field.hpp"
#include "messages/handover.hpp"
#include "site/output_kind.hpp"
#include "site/relations.hpp"

namespace zoneproof::handover {

using paper::Cell;
using paper::said;
using paper::said_or_blank;
using site::TriggerSource;

namespace {

/// What an output was found doing: what it is to be programmed to again. Empty where nobody wrote it down.
std::string output_as_found(const site::Site& site, const site::Ref& ref) {
  const auto output = site.outputs.find(ref.id);
  if (output == site.outputs.end()) return {};
  const auto panel = site.panels.find(output->second.panel.id);
  const site::PanelSpec* spec = site::panel_spec(site, output->second.panel.id);
  if (panel == site.panels.end() || spec == nullptr || !output->second.number.known()) return {};
  for (const auto& [id, own] : spec->outputs) {
    if (own.number.value != output->second.number.value) continue;
    const auto found = panel->second.outputs_found.find(id);
    if (found == panel->second.outputs_found.end()) return {};
    if (found->second.use.is(site::OutputUse::free)) return text(say::back_output_free());
    return found->second.note.empty() ? std::string() : text(say::back_output_used(found->second.note));
  }
  return {};
}

/// Which other things hang on the supply of a unit.
struct BesideUnit {
  bool units = false, others = false;
};
BesideUnit beside_unit(const site::Site& site, const std::string& unit, const std::string& supply) {
  BesideUnit beside;
  const auto hang_on_it = [&](const auto& things) {
    return std::any_of(things.begin(), things.end(), [&](const auto& entry) {
      return entry.first != unit && site::supply_of(site, entry.second.feed) == supply;
    });
  };
  beside.units = hang_on_it(site.units);
  beside.others = hang_on_it(site.panels) || hang_on_it(site.detectors) || hang_on_it(site.loads);
  return beside;
}

/// What is said of a wire between negatives. Empty: it does not come off with this unit. What joins the negative of a
/// supply stays as long as others hang on it: without it they draw their current back through their trigger wires.
std::string bond_comes_off(const site::Site& site, const site::Bond& bond, const std::string& name,
                           const std::string& unit) {
  if (bond.a.id == unit || bond.b.id == unit) return text(say::back_bond(name));
  const std::string supply = site::supply_of(site, site.units.at(unit).feed);
  if (supply.empty() || (bond.a.id != supply && bond.b.id != supply)) return {};
  const BesideUnit beside = beside_unit(site, unit, supply);
  if (beside.others) return {};
  return text(beside.units ? say::back_bond_with_last(name, electric::thing_words(site, supply))
                           : say::back_bond(name));
}

paper::Row row_of(Cell take_off, Cell put_back, Cell reads_at) {
  return {{paper::Tick{}, std::move(take_off), std::move(put_back), std::move(reads_at)}};
}

/// What stands before the first wire comes off: the unit and every panel whose screws are worked on.
struct Supplied {
  std::string supply;  ///< empty: not known
  std::string thing;   ///< that it supplies, in words
};
std::vector<Supplied> supplies_of(const site::Site& site, const std::string& unit) {
  std::vector<Supplied> all;
  const auto add = [&](const std::string& thing, const site::Feed& feed) {
    const Supplied one{site::supply_of(site, feed), electric::thing_words(site, thing)};
    const bool there = std::any_of(all.begin(), all.end(), [&](const Supplied& other) {
      return one.supply == other.supply && (!one.supply.empty() || one.thing == other.thing);
    });
    if (!there) all.push_back(one);
  };
  add(unit, site.units.at(unit).feed);
  const auto panel = [&](const std::string& id) {
    if (const auto found = site.panels.find(id); found != site.panels.end()) add(id, found->second.feed);
  };
  const auto output = [&](const site::Ref& ref) { panel(site::panel_of_output(site, ref)); };
  for (const std::string& id : triggers_in_order(site, unit, true)) {
    panel(site.triggers.at(id).at_panel.id);
    output(site.triggers.at(id).output);
    // Hands are on the terminals of the detector that a spare contact or a receiver's relay is part of.
    const std::string& detector = site.triggers.at(id).detector.id;
    if (const auto found = site.detectors.find(detector); found != site.detectors.end())
      add(detector, found->second.feed);
  }
  output(site.units.at(unit).arming.output);
  return all;
}

std::vector<std::string> batteries_on(const site::Site& site, const std::string& supply) {
  std::vector<std::string> names;
  for (const auto& [id, battery] : site.batteries)
    if (battery.supply.id == supply) names.push_back(electric::thing_words(site, id));
  return names;
}

std::string dead_words(const WiringFacts& facts, const Supplied& one) {
  const site::Site& site = facts.site;
  if (one.supply.empty()) return text(say::back_dead_unknown(one.thing));
  const std::string supply = electric::thing_words(site, one.supply);
  const std::vector<std::string> batteries = batteries_on(site, one.supply);
  std::string words = text(batteries.empty() ? say::back_dead(supply) : say::back_dead_batteries(supply, batteries));
  const std::vector<std::string> others = facts.touched.left_alone_on(site, one.supply);
  const std::vector<std::string> watched = facts.touched.watched_on(site, one.supply);
  if (!others.empty()) words += ". " + text(say::danger_others(supply, others));
  if (!watched.empty()) words += (others.empty() ? ". " : " ") + text(say::danger_watched(supply, watched));
  return words;
}

std::string live_words(const site::Site& site, const Supplied& one) {
  if (one.supply.empty()) return text(say::back_live_unknown(one.thing));
  const std::string supply = electric::thing_words(site, one.supply);
  const std::vector<std::string> batteries = batteries_on(site, one.supply);
  return text(batteries.empty() ? say::back_live(supply) : say::back_live_batteries(supply, batteries));
}

/// What a zone reads at its screws just after mains are back, the unit gone; what another unit is on it stays.
Volts read_again(const site::Site& without, const electric::Excerpts& excerpts, const std::string& zone) {
  if (without.zones.count(zone) == 0) return std::nullopt;
  electric::ZoneSituation situation{zone, {}, electric::SupplyCondition::mains, "", electric::UnitCondition::detached};
  for (const std::string& id : site::triggers_of_zone(without, zone)) {
    if (!site::has_wire(without.triggers.at(id))) continue;
    situation.trigger = id;
    situation.unit = electric::UnitCondition::powered;
    break;
  }
  const auto expected = field::zone_readings(excerpts.of_zone(zone), situation).panel;
  if (!expected || !expected->low || !expected->high) return std::nullopt;
  return results::VoltRange{*expected->low, *expected->high};
}

/// What the panel's terminals have to show again, once everything lives.
std::vector<paper::Row> reading_rows(const site::Site& site, const std::string& unit) {
  std::vector<paper::Row> rows;
  const site::Site without = field::just_on_mains(field::without_unit(site, unit));
  const electric::Excerpts excerpts(without);
  for (const std::string& id : triggers_in_order(site, unit, true)) {
    const site::Trigger& trigger = site.triggers.at(id);
    if (!trigger.source.is(TriggerSource::loop_tap)) continue;
    paper::Row row = row_of(said(""), said(""), said_or_blank(panel_input(site, trigger.at_panel, trigger.at_input)));
    add_range(row.cells, read_again(without, excerpts, site::tapped_zone(site, trigger)));
    row.cells.emplace_back(paper::Blank{});
    row.id = "back-read-" + id;
    rows.push_back(std::move(row));
  }
  return rows;
}

/// The core of a cable by its colour where the site file has it. Empty: the cable is not known.
std::string core_words(const WiringFacts& facts, const site::Ref& cable, const std::string& colour) {
  if (cable.none()) return text(colour.empty() ? say::back_core_inside() : say::back_core_inside_colour(colour));
  const std::string name = facts.cables(cable);
  if (name.empty()) return {};
  return text(colour.empty() ? say::back_core(name) : say::back_core_colour(colour, name));
}

/// The two cores of a contact without potential.
std::string both_core_words(const WiringFacts& facts, const site::Trigger& trigger) {
  const std::string &one = trigger.core_colour, &other = trigger.return_core_colour;
  const std::string name = facts.cables(trigger.cable);
  if (trigger.cable.none())
    return text(one.empty() || other.empty() ? say::back_cores_inside() : say::back_cores_inside_colour(one, other));
  if (name.empty()) return {};
  return text(one.empty() || other.empty() ? say::back_cores(name) : say::back_cores_colour(one, other, name));
}

/// What comes off: which wire, from where, and which core. What of it the site file does not say is named.
std::string take_off_words(const std::string& what, const std::string& from, const std::string& core) {
  if (!from.empty() && !core.empty()) return text(say::back_take_off(what, from, core));
  std::vector<std::string> lacks;
  if (from.empty()) lacks.push_back(text(say::back_its_screw()));
  if (core.empty()) lacks.push_back(text(say::back_its_cable()));
  return text(say::back_lacks(what, lacks));
}

std::string program_words(const site::Site& site, const site::Ref& output) {
  std::string found = output_as_found(site, output);
  if (!found.empty()) return found;
  const std::string screw = output_screw(site, output);
  return text(screw.empty() ? say::back_output_unknown() : say::back_output_lacks(screw));
}

paper::Row trigger_row(const WiringFacts& facts, const std::string& id) {
  const site::Site& site = facts.site;
  const site::Trigger& trigger = site.triggers.at(id);
  const std::string what = text(say::back_trigger_wire(electric::zone_words(site, trigger.zone.id)));
  const auto off = [&](const std::string& from) {
    return said(take_off_words(what, from,
                               site::has_way_back(site, trigger)
                                   ? both_core_words(facts, trigger)
                                   : core_words(facts, trigger.cable, trigger.core_colour)));
  };
  paper::Row row;
  if (trigger.source.is(TriggerSource::loop_tap)) {
    row = row_of(off(panel_input(site, trigger.at_panel, trigger.at_input)), said(text(say::back_nothing())), said(""));
  } else if (trigger.source.is(TriggerSource::following_output)) {
    row = row_of(off(output_screw(site, trigger.output)), said(program_words(site, trigger.output)), said(""));
  } else if (trigger.source.known()) {
    const std::string detector = called(site, trigger.detector);
    const std::string contact =
        detector.empty() || trigger.contact.empty() ? "" : text(say::screw_contact(detector, trigger.contact));
    row = row_of(off(contact), said(text(say::back_contact())), said(""));
  } else {
    row = row_of(said(text(say::back_lacks(what, {text(say::back_its_source())}))), paper::Blank{}, said(""));
  }
  row.id = "back-" + id;
  return row;
}

/// Before a cover is opened, and after the last one is closed.
std::vector<paper::Row> first_rows(const site::Site& site, const std::string& unit) {
  std::vector<paper::Row> rows = {row_of(said(text(say::back_on_test(site.name))), paper::Blank{}, said("")),
                                  row_of(said(text(say::back_quiet())), said(""), said(""))};
  rows[0].id = "back-first-test-" + unit;
  rows[1].id = "back-first-quiet-" + unit;
  return rows;
}
std::vector<paper::Row> last_rows(const site::Site& site, const std::string& unit) {
  std::vector<paper::Row> rows = {row_of(said(""), said(text(say::back_close())), said("")),
                                  row_of(said(""), said(text(say::back_off_test(site.name))), paper::Blank{})};
  rows[0].id = "back-last-close-" + unit;
  rows[1].id = "back-last-test-" + unit;
  return rows;
}

paper::Cell supply_pair(const std::string& unit, const std::string& core, const Message& words) {
  return said(core.empty() ? text(say::back_lacks(text(say::back_supply_pair(unit)), {text(say::back_its_cable())}))
                           : text(words));
}

}  // namespace

std::vector<paper::Column> way_back_columns() {
  std::vector<paper::Column> columns = {{"done", text(say::column_done()), {}, drawing::Align::middle, 0.0},
                                        {"off", text(say::column_take_off()), {}, drawing::Align::left, 2.0},
                                        {"back", text(say::column_put_back()), {}, drawing::Align::left, 2.0},
                                        {"at", text(say::column_read_at()), {}, drawing::Align::left, 1.0, 40.0}};
  add_range_columns(columns, "found", text(say::over_mains_back()));
  return columns;
}

std::vector<paper::Row> way_back_rows(const WiringFacts& facts, const std::string& unit) {
  const site::Site& site = facts.site;
  const site::Unit& entry = site.units.at(unit);
  const std::string name = electric::thing_words(site, unit);
  const std::vector<Supplied> supplies = supplies_of(site, unit);
  std::vector<paper::Row> rows = first_rows(site, unit);
  for (std::size_t i = 0; i < supplies.size(); ++i) {
    rows.push_back(row_of(said(dead_words(facts, supplies[i])), said(""), said("")));
    rows.back().id = "back-dead-" + unit + "-" + std::to_string(i + 1);
  }
  for (const std::string& id : triggers_in_order(site, unit, true)) rows.push_back(trigger_row(facts, id));
  if (!entry.arming.output.none()) {
    const std::string screw = output_screw(site, entry.arming.output);
    const std::string core = core_words(facts, entry.arming.cable, entry.arming.core_colour);
    rows.push_back(row_of(said(take_off_words(text(say::back_arming_wire(name)), screw, core)),
                          said(program_words(site, entry.arming.output)), said("")));
    rows.back().id = "back-arming-" + unit;
  }
  const std::string plus = core_words(facts, entry.feed.cable, entry.feed.core_colour);
  const std::string minus = core_words(facts, entry.feed.cable, entry.feed.return_core_colour);
  rows.push_back(
      row_of(supply_pair(name, plus, say::back_positive(name, plus)), said(text(say::back_nothing())), said("")));
  for (const auto& [id, bond] : site.bonds) {
    if (!bond.kind.is(site::BondKind::wire)) continue;
    const std::string off = bond_comes_off(site, bond, site::name_or_id(bond.name, id), unit);
    if (off.empty()) continue;
    rows.push_back(row_of(said(off), said(text(say::back_nothing())), said("")));
    rows.back().id = "back-bond-" + id + "-" + unit;
  }
  rows.push_back(
      row_of(supply_pair(name, minus, say::back_negative(name, minus)), said(text(say::back_nothing())), said("")));
  rows.back().id = "back-negative-" + unit;
  for (std::size_t i = 0; i < supplies.size(); ++i) {
    rows.push_back(row_of(said(""), said(live_words(site, supplies[i])), said("")));
    rows.back().id = "back-live-" + unit + "-" + std::to_string(i + 1);
  }
  for (paper::Row& row : reading_rows(site, unit)) rows.push_back(std::move(row));
  for (paper::Row& row : last_rows(site, unit)) rows.push_back(std::move(row));
  for (paper::Row& row : rows) row.cells.resize(way_back_columns().size(), said(""));
  return rows;
}

}  // namespace zoneproof::handover
