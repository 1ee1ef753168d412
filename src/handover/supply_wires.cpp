#include <algorithm>
#include <set>

#include "base/message.hpp"
#include "handover/places.hpp"
#include "handover/set_words.hpp"
#include "handover/wire_tables.hpp"
#include "messages/handover.hpp"
#include "site/output_kind.hpp"
#include "site/relations.hpp"

namespace zoneproof::handover {

using paper::Cell;
using paper::said;
using paper::said_or_blank;

namespace {

/// Where the feed comes from: an output of a supply, or a junction.
std::string feed_screw(const site::Site& site, const site::Feed& feed, bool positive) {
  const std::string from = called(site, feed.from);
  if (from.empty()) return {};
  const auto supply = site.supplies.find(feed.from.id);
  if (supply == site.supplies.end()) return text(positive ? say::place_positive(from) : say::place_negative(from));
  if (feed.output.empty()) return {};
  const site::SupplySpec* spec = site::spec_of(site, supply->second.part, &site::Part::supply);
  std::string name = feed.output;
  if (spec != nullptr && spec->outputs.count(feed.output) != 0)
    name = site::name_or_id(spec->outputs.at(feed.output).name, feed.output);
  return text(positive ? say::place_output_positive(from, name) : say::place_output_negative(from, name));
}

/// Whether a bond is on the unit's negative, or on that of the supply that feeds it.
bool is_of(const site::Site& site, const site::Bond& bond, const std::string& unit) {
  const std::string supply = site::supply_of(site, site.units.at(unit).feed);
  const auto of = [&](const site::Ref& end) { return end.id == unit || (!supply.empty() && end.id == supply); };
  return of(bond.a) || of(bond.b);
}

paper::Row bond_row(const WiringFacts& facts, const std::string& id) {
  const site::Site& site = facts.site;
  const site::Bond& bond = site.bonds.at(id);
  const auto negative = [&](const site::Ref& end) {
    const std::string thing = called(site, end);
    return thing.empty() ? thing : text(say::place_negative(thing));
  };
  const std::string kind = words(bond.kind), name = bond.name.empty() ? kind : bond.name;
  const bool wire = bond.kind.is(site::BondKind::wire) || !bond.kind.known();
  paper::Row row;
  row.cells = {said_or_blank(name), said_or_blank(negative(bond.a)), said_or_blank(negative(bond.b)),
               said_or_blank(bond.cable.none() && !wire ? kind : facts.cables(bond.cable)),
               wire ? cores(site, bond.cable) : said("")};
  row.cells.push_back(wire ? said_or_blank(bond.core_colour) : said(""));
  return row;
}

void add_reading(paper::Row& row, const Volts& volts) {
  add_range(row.cells, volts);
  row.cells.push_back(paper::Blank{});
}

}  // namespace

std::vector<paper::Column> arming_columns() {
  std::vector<paper::Column> columns = {{"from", text(say::column_from())},
                                        {"to", text(say::column_to())},
                                        {"cable", text(say::column_cable())},
                                        {"colour", text(say::column_colour()), {}, drawing::Align::left, 0.0},
                                        {"resistor", text(say::column_resistor())}};
  add_range_columns(columns, "armed", text(say::over_armed()));
  add_range_columns(columns, "disarmed", text(say::over_disarmed()));
  return columns;
}

std::vector<paper::Row> arming_rows(const WiringFacts& facts, const std::string& unit) {
  const site::Site& site = facts.site;
  const Answers& answers = facts.answers;
  const site::Arming& arming = site.units.at(unit).arming;
  if (arming.output.none()) return {};
  const std::string name = called(site, {unit, {}});
  std::string pull;
  if (arming.pullup_ohm.none()) pull = text(say::resistor_none());
  if (arming.pullup_ohm.known() && arming.pullup_to.known())
    pull = text(arming.pullup_to.is(site::Level::high)
                    ? say::resistor_pullup(Measure{arming.pullup_ohm.nominal, "ohm"})
                    : say::resistor_pulldown(Measure{arming.pullup_ohm.nominal, "ohm"}));
  paper::Row row;
  row.id = "arming-" + unit;
  row.cells = {said_or_blank(output_screw(site, arming.output)), said(text(say::place_arming(name))),
               said_or_blank(facts.cables(arming.cable)), said_or_blank(arming.core_colour), said_or_blank(pull)};
  const auto found = [&](const std::map<std::string, Volts>& all) {
    const auto at = all.find(unit);
    return at == all.end() ? Volts{} : at->second;
  };
  add_reading(row, found(answers.armed));
  add_reading(row, found(answers.disarmed));
  std::vector<paper::Row> rows = {std::move(row)};
  const auto output = site.outputs.find(arming.output.id);
  if (output == site.outputs.end() || !site::is_relay(site, output->second)) return rows;
  // A relay's contact is dry: its other side is joined at the panel, as docs/methods/arming.md has it.
  const std::string panel = called(site, output->second.panel);
  const bool to_positive = arming.pullup_to.is(site::Level::low);
  const bool side_known = !panel.empty() && (arming.pullup_ohm.none() || arming.pullup_to.known());
  const std::string pole =
      side_known ? text(to_positive ? say::place_positive(panel) : say::place_negative(panel)) : "";
  paper::Row second;
  second.cells = {said_or_blank(pole), said_or_blank(output_screw(site, arming.output)),
                  said(text(say::same_enclosure())), paper::Blank{}};
  second.cells.resize(rows.front().cells.size(), said(""));
  rows.push_back(std::move(second));
  return rows;
}

std::vector<paper::Column> supply_columns() {
  std::vector<paper::Column> columns = {{"what", text(say::column_what())},
                                        {"from", text(say::column_from())},
                                        {"to", text(say::column_to())},
                                        {"cable", text(say::column_cable())},
                                        {"cores", text(say::column_cores()), {}, drawing::Align::right, 0.0},
                                        {"colour", text(say::column_colour()), {}, drawing::Align::left, 0.0}};
  add_range_columns(columns, "volts", text(say::over_between()));
  return columns;
}

std::vector<paper::Row> supply_rows(const WiringFacts& facts, const std::string& unit) {
  const site::Site& site = facts.site;
  const Answers& answers = facts.answers;
  const site::Feed& feed = site.units.at(unit).feed;
  const std::string name = called(site, {unit, {}});
  std::vector<paper::Row> rows;
  for (const bool positive : {true, false}) {
    paper::Row row;
    row.id = (positive ? "positive-" : "negative-") + unit;
    row.cells = {said(text(positive ? say::wire_positive() : say::wire_negative())),
                 said_or_blank(feed_screw(site, feed, positive)),
                 said(text(positive ? say::place_positive(name) : say::place_negative(name))),
                 said_or_blank(facts.cables(feed.cable)),
                 cores(site, feed.cable),
                 said_or_blank(positive ? feed.core_colour : feed.return_core_colour)};
    if (positive) add_reading(row, supply_at(site, answers, unit));
    row.cells.resize(supply_columns().size(), said(""));
    rows.push_back(std::move(row));
  }
  for (const auto& entry : site.bonds) {
    if (!is_of(site, entry.second, unit)) continue;
    paper::Row row = bond_row(facts, entry.first);
    row.id = "bond-" + entry.first + "-" + unit;
    row.cells.resize(supply_columns().size(), said(""));
    rows.push_back(std::move(row));
  }
  std::set<std::string> panels;
  for (const std::string& id : site::triggers_of_unit(site, unit))
    if (site.triggers.at(id).at_panel.known()) panels.insert(site.triggers.at(id).at_panel.id);
  for (const std::string& panel : panels) {  // what all these joins together come to
    const Volts shift = shift_of(site, answers, unit, panel);
    paper::Row row;
    row.id = "shift-" + unit + "-" + panel;
    row.cells = {said(text(say::wire_shift())),
                 said(text(say::place_negative(called(site, {panel, {}})))),
                 said(text(say::place_negative(name))),
                 said(""),
                 said(""),
                 said("")};
    add_reading(row, shift);
    rows.push_back(std::move(row));
  }
  return rows;
}

std::vector<paper::Row> other_join_rows(const WiringFacts& facts) {
  const site::Site& site = facts.site;
  std::vector<paper::Row> rows;
  for (const auto& entry : site.bonds) {
    const bool of_unit = std::any_of(site.units.begin(), site.units.end(),
                                     [&](const auto& unit) { return is_of(site, entry.second, unit.first); });
    if (of_unit) continue;
    paper::Row row = bond_row(facts, entry.first);
    row.id = "bond-" + entry.first;
    row.cells.resize(supply_columns().size(), said(""));
    rows.push_back(std::move(row));
  }
  return rows;
}

}  // namespace zoneproof::handover
