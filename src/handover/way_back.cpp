#include <algorithm>

#include "base/message.hpp"
#include "electric/naming.hpp"
#include "handover/places.hpp"
#include "handover/set_words.hpp"
#include "handover/wire_tables.hpp"
#include "messages/handover.hpp"
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

paper::Row trigger_row(const site::Site& site, const Answers& answers, const std::string& id) {
  const site::Trigger& trigger = site.triggers.at(id);
  const std::string cable = cable_words(site, trigger.cable), input = unit_input(site, trigger);
  const auto off = [&](const std::string& from) {
    return from.empty() || cable.empty() ? std::string() : text(say::back_take_off(from, cable));
  };
  paper::Row row = row_of(paper::Blank{}, paper::Blank{}, said(""));
  Volts found;
  if (trigger.source.is(TriggerSource::loop_tap)) {
    const std::string terminal = panel_input(site, trigger.at_panel, trigger.at_input);
    const std::string zone = site::tapped_zone(site, trigger);
    row = row_of(said_or_blank(off(terminal)), said(text(say::back_nothing())), said_or_blank(terminal));
    found = at_panel(answers, zone, "").rest;
    add_range(row.cells, found);
    row.cells.push_back(paper::Blank{});
  } else if (trigger.source.is(TriggerSource::following_output)) {
    row = row_of(said_or_blank(off(output_screw(site, trigger.output))),
                 said_or_blank(output_as_found(site, trigger.output)), said(""));
  } else if (trigger.source.known()) {
    const std::string detector = called(site, trigger.detector);
    const std::string contact =
        detector.empty() || trigger.contact.empty() ? "" : text(say::screw_contact(detector, trigger.contact));
    row = row_of(said_or_blank(off(contact)), said(text(say::back_contact())), said(""));
  }
  row.id = "back-" + id;
  return row;
}

}  // namespace

std::vector<paper::Column> way_back_columns() {
  std::vector<paper::Column> columns = {{"done", text(say::column_done()), {}, drawing::Align::middle, 0.0},
                                        {"off", text(say::column_take_off()), {}, drawing::Align::left, 2.0},
                                        {"back", text(say::column_put_back()), {}, drawing::Align::left, 2.0},
                                        {"at", text(say::column_read_at())}};
  add_range_columns(columns, "found", text(say::over_as_found()));
  return columns;
}

std::vector<paper::Row> way_back_rows(const site::Site& site, const Answers& answers, const std::string& unit) {
  const site::Unit& entry = site.units.at(unit);
  const std::string name = electric::thing_words(site, unit);
  std::vector<paper::Row> rows;
  for (const std::string& id : triggers_in_order(site, unit, true)) rows.push_back(trigger_row(site, answers, id));
  if (!entry.arming.output.none()) {
    const std::string screw = output_screw(site, entry.arming.output), cable = cable_words(site, entry.arming.cable);
    rows.push_back(row_of(said_or_blank(screw.empty() || cable.empty() ? "" : text(say::back_take_off(screw, cable))),
                          said_or_blank(output_as_found(site, entry.arming.output)), said("")));
  }
  const std::string cable = cable_words(site, entry.feed.cable);
  rows.push_back(row_of(said_or_blank(cable.empty() ? "" : text(say::back_positive(name, cable))),
                        said(text(say::back_nothing())), said("")));
  for (const auto& [id, bond] : site.bonds) {
    if (!bond.kind.is(site::BondKind::wire)) continue;
    const std::string off = bond_comes_off(site, bond, site::name_or_id(bond.name, id), unit);
    if (off.empty()) continue;
    rows.push_back(row_of(said(off), said(text(say::back_nothing())), said("")));
    rows.back().id = "back-bond-" + id + "-" + unit;
  }
  rows.push_back(row_of(said_or_blank(cable.empty() ? "" : text(say::back_negative(name, cable))),
                        said(text(say::back_nothing())), said("")));
  for (paper::Row& row : rows) row.cells.resize(way_back_columns().size(), said(""));
  return rows;
}

}  // namespace zoneproof::handover
