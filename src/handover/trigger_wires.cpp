#include <algorithm>
#include <limits>

#include "base/message.hpp"
#include "electric/naming.hpp"
#include "handover/places.hpp"
#include "handover/wire_tables.hpp"
#include "messages/handover.hpp"
#include "site/output_kind.hpp"
#include "site/relations.hpp"

namespace zoneproof::handover {

using paper::Cell;
using paper::said;
using paper::said_or_blank;
using site::TriggerSource;

namespace {

/// One conductor of a trigger wire.
struct Core {
  std::string from, to;
};

/// The pole that a contact switches the input to.
std::string pole_of(const site::Site& site, const site::Trigger& trigger) {
  const std::string unit = called(site, trigger.unit);
  if (unit.empty() || !trigger.contact_to.known()) return {};
  return text(trigger.contact_to.is(site::Level::high) ? say::place_positive(unit) : say::place_negative(unit));
}

std::string contact_screw(const site::Site& site, const site::Trigger& trigger) {
  const std::string detector = called(site, trigger.detector);
  return detector.empty() || trigger.contact.empty() ? std::string()
                                                     : text(say::screw_contact(detector, trigger.contact));
}

/// A contact without potential takes two cores, everything else one: its way back is the joined negatives.
std::vector<Core> cores_of(const site::Site& site, const site::Trigger& trigger) {
  const std::string input = unit_input(site, trigger);
  if (!trigger.source.known()) return {{"", input}};
  switch (*trigger.source.value) {
    case TriggerSource::loop_tap: return {{panel_input(site, trigger.at_panel, trigger.at_input), input}};
    case TriggerSource::spare_contact:
    case TriggerSource::receiver_relay:
      return {{contact_screw(site, trigger), input}, {contact_screw(site, trigger), pole_of(site, trigger)}};
    case TriggerSource::following_output: {
      const std::string screw = output_screw(site, trigger.output);
      if (site::is_relay(site, trigger.output)) return {{screw, input}, {screw, pole_of(site, trigger)}};
      return {{screw, input}};
    }
    case TriggerSource::camera_analytics:
    case TriggerSource::live_view: return {};
  }
  return {};
}

std::string zone_of(const site::Site& site, const site::Trigger& trigger) {
  return trigger.zone.known() ? electric::zone_words(site, trigger.zone.id) : std::string();
}

}  // namespace

std::vector<std::string> triggers_in_order(const site::Site& site, const std::string& unit, bool wires_only) {
  std::vector<std::string> all = site::triggers_of_unit(site, unit);
  const auto no_wire = [&](const std::string& id) {
    const auto& source = site.triggers.at(id).source;
    return source.is(TriggerSource::camera_analytics) || source.is(TriggerSource::live_view);
  };
  if (wires_only) all.erase(std::remove_if(all.begin(), all.end(), no_wire), all.end());
  const auto input = [&](const std::string& id) {
    return site.triggers.at(id).input.value.value_or(std::numeric_limits<long long>::max());
  };
  std::stable_sort(all.begin(), all.end(), [&](const auto& a, const auto& b) { return input(a) < input(b); });
  return all;
}

std::vector<paper::Column> trigger_columns() {
  std::vector<paper::Column> columns = {{"zone", text(say::column_zone())},
                                        {"from", text(say::column_from())},
                                        {"to", text(say::column_to())},
                                        {"cable", text(say::column_cable())},
                                        {"colour", text(say::column_colour()), {}, drawing::Align::left, 0.0},
                                        {"resistor", text(say::column_resistor())},
                                        {"channel", text(say::column_channel()), {}, drawing::Align::left, 0.0},
                                        {"camera", text(say::column_camera())}};
  add_range_columns(columns, "rest", text(say::over_at_rest()));
  add_range_columns(columns, "alarm", text(say::over_in_alarm()));
  return columns;
}

std::vector<paper::Row> trigger_rows(const WiringFacts& facts, const std::string& unit) {
  const site::Site& site = facts.site;
  const Answers& answers = facts.answers;
  std::vector<paper::Row> rows;
  for (const std::string& id : triggers_in_order(site, unit, true)) {
    const site::Trigger& trigger = site.triggers.at(id);
    const RestAndAlarm reads = at_unit(answers, trigger.zone.id, id);
    int number = 0;
    for (const Core& core : cores_of(site, trigger)) {
      const bool first = ++number == 1;
      paper::Row row;
      row.id = first ? "wire-" + id : "wire-" + id + "-" + std::to_string(number);
      row.cells = {said_or_blank(zone_of(site, trigger)), said_or_blank(core.from), said_or_blank(core.to),
                   said_or_blank(facts.cables(trigger.cable)),
                   said_or_blank(first ? trigger.core_colour : trigger.return_core_colour)};
      if (first) {
        row.cells.push_back(said_or_blank(resistors_of(trigger)));
        row.cells.push_back(said_or_blank(channels_of(site, id)));
        row.cells.push_back(said_or_blank(cameras_of(site, id)));
        for (const Volts& volts : {reads.rest, reads.alarm}) {
          add_range(row.cells, volts);
          row.cells.push_back(paper::Blank{});
        }
      }
      row.cells.resize(trigger_columns().size(), said(""));
      rows.push_back(std::move(row));
    }
  }
  return rows;
}

std::vector<paper::Column> panel_columns() {
  std::vector<paper::Column> columns = {{"zone", text(say::column_zone())}, {"terminal", text(say::column_terminal())}};
  add_range_columns(columns, "found", text(say::over_as_found()));
  add_range_columns(columns, "rest", text(say::over_rest_with_wire()));
  add_range_columns(columns, "alarm", text(say::over_alarm_with_wire()));
  return columns;
}

std::vector<paper::Row> panel_rows(const site::Site& site, const Answers& answers, const std::string& unit) {
  std::vector<paper::Row> rows;
  for (const std::string& id : triggers_in_order(site, unit, true)) {
    const site::Trigger& trigger = site.triggers.at(id);
    if (trigger.source.known() && !trigger.source.is(TriggerSource::loop_tap)) continue;
    const std::string zone = site::tapped_zone(site, trigger);  // what really is on that terminal
    paper::Row row;
    row.id = "terminal-" + id;
    row.cells = {said_or_blank(zone.empty() ? zone_of(site, trigger) : electric::zone_words(site, zone)),
                 said_or_blank(panel_input(site, trigger.at_panel, trigger.at_input))};
    const RestAndAlarm wired = at_panel(answers, zone, id);
    for (const Volts& volts : {at_panel(answers, zone, "").rest, wired.rest, wired.alarm}) {
      add_range(row.cells, volts);
      row.cells.push_back(paper::Blank{});
    }
    rows.push_back(std::move(row));
  }
  return rows;
}

bool any_by_meter(const site::Site& site, const Answers& answers, const std::string& unit) {
  const std::vector<std::string> triggers = triggers_in_order(site, unit, true);
  return std::any_of(triggers.begin(), triggers.end(), [&](const std::string& id) {
    return at_unit(answers, site.triggers.at(id).zone.id, id).by_meter;
  });
}

}  // namespace zoneproof::handover
