#include "site/trigger_rules.hpp"

#include <map>
#include <optional>
#include <utility>
#include <vector>

#include "base/json_pointer.hpp"
#include "messages/site.hpp"
#include "site/contradiction.hpp"
#include "site/inside_part.hpp"
#include "site/output_kind.hpp"
#include "site/relations.hpp"
#include "site/words.hpp"

namespace zoneproof::site {

using std::string;

namespace {

/// An output that follows arming is active armed or disarmed; one that follows a zone, in its alarm or at rest.
void check_active_when(const Output& output, Findings& findings) {
  if (!output.follows.known() || !output.active_when.known()) return;
  const bool armed = output.follows.is(FollowedEvent::armed);
  const bool of_arming = output.active_when.is(ActiveWhen::armed) || output.active_when.is(ActiveWhen::disarmed);
  if (armed == of_arming) return;
  findings.add(
      say::site_active_when(string(word_of(*output.active_when.value)), string(word_of(*output.follows.value)),
                            armed ? std::vector<string>{"armed", "disarmed"} : std::vector<string>{"alarm", "normal"}),
      output.active_when.pointer);
}

/// What of a trigger has no meaning with its source.
void check_source(const Trigger& trigger, const string& pointer, Findings& findings) {
  if (!trigger.source.known()) return;
  const TriggerSource source = *trigger.source.value;
  const bool tap = source == TriggerSource::loop_tap;
  const bool contact = source == TriggerSource::spare_contact || source == TriggerSource::receiver_relay;
  const bool wired = tap || contact || source == TriggerSource::following_output;
  unless(tap, trigger.at_panel, "source", source, findings);
  unless(tap, trigger.at_input, "source", source, findings);
  unless(contact, trigger.detector, "source", source, findings);
  unless(contact || source == TriggerSource::following_output, trigger.contact_to, "source", source, findings);
  unless(source == TriggerSource::following_output, trigger.output, "source", source, findings);
  unless(wired, trigger.input, "source", source, findings);
  unless(wired, trigger.cable, "source", source, findings);
  unless(wired, trigger.series_ohm, "source", source, findings);
  unless(wired, trigger.pulldown_ohm, "source", source, findings);
  unless(wired, trigger.pullup_ohm, "source", source, findings);
  if (!contact && !trigger.contact.empty()) {
    findings.add(say::site_contradiction("contact", "source", string(word_of(source))),
                 pointer_child(pointer, "contact"), true);
  }
}

void check_preset(const Site& site, const Trigger& trigger, const string& pointer, Findings& findings) {
  const Unit* unit = find(site.units, trigger.unit);
  const Part* part = unit ? part_of(site, unit->part) : nullptr;
  if (!part || !part->unit || trigger.setting.preset.empty()) return;
  const string at = pointer + "/setting/preset";
  const Word<Judging>& judging = part->unit->input.judging;
  if (judging.known() && !judging.is(Judging::presets)) {
    findings.add(say::site_contradiction("preset", "judging of part " + unit->part.id, string(word_of(*judging.value))),
                 at, true);
    return;
  }
  check_inside(part->unit->input.presets, trigger.setting.preset, unit->part, "unit/input/presets", at, findings);
}

/// Papers that send people to a screw which is not there cost a visit: numbers are those that the parts have.
void check_numbers(const Site& site, const Trigger& trigger, Findings& findings) {
  const PanelSpec* panel = panel_spec(site, trigger.at_panel.id);
  if (panel != nullptr && beyond(trigger.at_input, panel->inputs)) {
    const string tapped = tapped_zone(site, trigger);  // a zone without a terminal has no loop: the proof says that
    check_panel_input(site, trigger.at_panel, trigger.at_input,
                      tapped.empty() ? Medium::wired : site.zones.at(tapped).medium.value, findings);
  }
  const Unit* unit = find(site.units, trigger.unit);
  const UnitSpec* spec = unit ? spec_of(site, unit->part, &Part::unit) : nullptr;
  if (spec == nullptr) return;
  const string& name = name_or_id(unit->name, trigger.unit.id);
  if (beyond(trigger.input, spec->inputs))
    findings.add(say::site_no_such_unit_input(*trigger.input.value, name, unit->part.id, *spec->inputs.value),
                 trigger.input.pointer);
  if (beyond(trigger.channel, spec->channels))
    findings.add(say::site_no_such_channel(*trigger.channel.value, name, unit->part.id, *spec->channels.value),
                 trigger.channel.pointer);
}

}  // namespace

void check_output(const Site& site, const string& id, const Output& output, Findings& findings) {
  if (output.follows.known()) {
    const FollowedEvent follows = *output.follows.value;
    const bool armed = follows == FollowedEvent::armed;
    unless(follows == FollowedEvent::zone_state, output.zone, "follows", follows, findings);
    unless(armed, output.partition_rule, "follows", follows, findings);
    unless(armed, output.follows_part_set, "follows", follows, findings);
    unless(armed, output.moment, "follows", follows, findings);
    if (!armed && !output.partitions.empty()) {
      findings.add(say::site_contradiction("partitions", "follows", string(word_of(follows))),
                   pointer_child(pointer_child("/outputs", id), "partitions"), true);
    }
  }
  check_active_when(output, findings);
  if (const std::optional<OutputKind> kind = output_kind(site, output)) {
    unless(*kind == OutputKind::relay, output.relay_contact_used, "kind of part " + output.part.id, *kind, findings);
  }
}

void check_trigger(const Site& site, const string& id, const Trigger& trigger, Findings& findings) {
  const string pointer = pointer_child("/triggers", id);
  check_source(trigger, pointer, findings);
  const Output* output = find(site.outputs, trigger.output);
  if (const std::optional<OutputKind> kind = output ? output_kind(site, *output) : std::nullopt) {
    unless(*kind == OutputKind::relay, trigger.contact_to, "kind of part " + output->part.id, *kind, findings);
  }
  check_contact(site, trigger.detector, trigger.contact, pointer_child(pointer, "contact"), findings);
  check_preset(site, trigger, pointer, findings);
  check_numbers(site, trigger, findings);
}

/// The chain of both zones is broken by it; told here as well, where the first mistake of a table shows.
void check_unit_inputs(const Site& site, Findings& findings) {
  std::map<std::pair<string, long long>, const Trigger*> wires;
  for (const auto& entry : site.triggers) {
    const Trigger& trigger = entry.second;
    if (!trigger.unit.known() || !trigger.input.known() || !trigger.zone.known()) continue;
    const auto [first, fresh] = wires.emplace(std::pair(trigger.unit.id, *trigger.input.value), &trigger);
    const string& zone = first->second->zone.id;
    if (fresh || zone == trigger.zone.id) continue;
    findings.add(
        say::site_unit_input_twice(*trigger.input.value, called(site.units, trigger.unit.id), called(site.zones, zone)),
        trigger.input.pointer);
  }
}

}  // namespace zoneproof::site
