#include "site/zone_rules.hpp"

#include <map>
#include <utility>

#include "base/json_pointer.hpp"
#include "messages/draft.hpp"
#include "messages/site.hpp"
#include "site/contradiction.hpp"
#include "site/inside_part.hpp"
#include "site/site_record.hpp"
#include "site/walk.hpp"
#include "site/words.hpp"

namespace zoneproof::site {

using std::string;

namespace {

/// Which resistors an arrangement has.
struct LoopResistors {
  bool eol, alarm, mask, second_alarm;
};

constexpr LoopResistors resistors_of(Arrangement arrangement) {
  switch (arrangement) {
    case Arrangement::normally_closed:
    case Arrangement::normally_open: return {false, false, false, false};
    case Arrangement::single_eol_closed:
    case Arrangement::single_eol_open: return {true, false, false, false};
    case Arrangement::double_eol: return {true, true, false, false};
    case Arrangement::triple_eol: return {true, true, true, false};
    case Arrangement::doubled_parallel: return {false, true, false, true};  // each zone's own resistor ends its branch
    case Arrangement::doubled_series: break;
  }
  return {true, true, false, true};
}

void check_loop(const Loop& loop, Findings& findings) {
  if (!loop.arrangement.known()) return;
  const Arrangement arrangement = *loop.arrangement.value;
  const LoopResistors has = resistors_of(arrangement);
  unless(has.eol, loop.eol_ohm, "arrangement", arrangement, findings);
  unless(has.alarm, loop.alarm_ohm, "arrangement", arrangement, findings);
  unless(has.mask, loop.mask_ohm, "arrangement", arrangement, findings);
  unless(has.second_alarm, loop.second_alarm_ohm, "arrangement", arrangement, findings);
  unless(has.eol, loop.eol_place, "arrangement", arrangement, findings);
}

bool empty(const Loop& loop) { return same(loop, Loop{}); }

/// The zone whose loop carries this one.
const string& loop_owner(const string& id, const Zone& zone) {
  return zone.doubled_with.known() ? zone.doubled_with.id : id;
}

void check_doubled(const Site& site, const string& id, const Zone& zone, Findings& findings) {
  const Ref& other = zone.doubled_with;
  const Zone* carrier = find(site.zones, other);
  if (carrier == nullptr) return;
  if (other.id == id) {
    findings.add(say::site_itself("doubled_with", id), other.pointer);
    return;
  }
  if (carrier->doubled_with.known()) {  // which of them carries the loop is open: no more can be said of it
    const bool told_there = carrier->doubled_with.id == id && other.id < id;
    if (!told_there) findings.add(say::site_doubled_chain(other.id), other.pointer);
    return;
  }
  if (!empty(zone.loop)) {
    findings.add(say::site_loop_of_second_zone(other.id), pointer_child(pointer_child("/zones", id), "loop"), true);
  }
  const bool other_panel = zone.panel.known() && carrier->panel.known() && zone.panel.id != carrier->panel.id;
  const bool other_input = zone.input.known() && carrier->input.known() && zone.input.value != carrier->input.value;
  if (other_panel || other_input) {
    findings.add(say::site_doubled_elsewhere(other.id), other_panel ? zone.panel.pointer : zone.input.pointer);
  }
  const Word<Arrangement>& arrangement = carrier->loop.arrangement;
  if (arrangement.known() && !resistors_of(*arrangement.value).second_alarm) {
    findings.add(say::site_doubled_arrangement(other.id, string(word_of(*arrangement.value))), other.pointer);
  }
}

}  // namespace

void check_zone(const Site& site, const string& id, const Zone& zone, Findings& findings) {
  const string pointer = pointer_child("/zones", id);
  check_loop(zone.loop, findings);
  check_panel_input(site, zone.panel, zone.input, zone.medium.value, findings);
  check_doubled(site, id, zone, findings);
  if (zone.medium.known() && !zone.medium.is(Medium::wired)) {
    const Medium medium = *zone.medium.value;
    if (!empty(zone.loop)) {
      findings.add(say::site_contradiction("loop", "medium", string(word_of(medium))), pointer_child(pointer, "loop"),
                   true);
    }
    unless(false, zone.doubled_with, "medium", medium, findings);
    unless(false, zone.zone_terminal, "medium", medium, findings);
  }
  for (const auto& [contact_id, contact] : zone.loop.contacts) {
    check_contact(site, contact.detector, contact.contact, pointer + "/loop/contacts/" + contact_id + "/contact",
                  findings);
    const Zone* owner = contact.zone.known() ? find(site.zones, contact.zone) : nullptr;
    if (owner && contact.zone.id != id && loop_owner(contact.zone.id, *owner) != id) {
      findings.add(say::site_contact_of_other_zone(contact.zone.id), contact.zone.pointer);
    }
  }
}

/// Two zones under one number would be one event for the operator.
void check_numbers_of_zones(const Site& site, Findings& findings) {
  std::map<std::pair<string, long long>, string> numbers;
  for (const auto& [id, zone] : site.zones) {
    if (!zone.panel.known() || !zone.number.known()) continue;
    const auto [first, fresh] = numbers.emplace(std::pair(zone.panel.id, *zone.number.value), id);
    if (!fresh) findings.add(say::site_zone_number_twice(*zone.number.value, first->second), zone.number.pointer);
  }
}

/// Two on one input are a pair that nobody told of; of zones that may have no wire it is not certain.
void check_inputs_of_zones(const Site& site, Findings& findings) {
  std::map<std::pair<string, long long>, string> wired, all;
  for (const auto& [id, zone] : site.zones) {
    const bool no_wire = zone.medium.known() && !zone.medium.is(Medium::wired);
    if (no_wire || zone.doubled_with.known() || !zone.panel.known() || !zone.input.known()) continue;
    const std::pair place(zone.panel.id, *zone.input.value);
    const string& first = all.emplace(place, id).first->second;
    const string& first_wired = zone.medium.known() ? wired.emplace(place, id).first->second : id;
    if (first_wired != id)
      findings.add(say::site_zone_input_twice(place.second, first_wired), zone.input.pointer);
    else if (first != id)
      findings.add(say::site_zone_input_doubtful(place.second, first), zone.input.pointer);
  }
}

/// What an operator hears of a zone is its name, and of which panel. Two unknown panels are not one.
void check_names_of_zones(const Site& site, Findings& findings) {
  const auto words = [](const string& id, const Zone& zone) {
    return zone.number.known() ? text(say::zone_by_number(*zone.number.value)) : id;
  };
  std::map<std::pair<string, string>, Map<Zone>::const_iterator> names;
  for (auto zone = site.zones.begin(); zone != site.zones.end(); ++zone) {
    const string& name = zone->second.name;
    if (name.empty() || !zone->second.panel.known()) continue;
    const auto [found, fresh] = names.emplace(std::pair(zone->second.panel.id, name), zone);
    if (fresh) continue;
    const auto& [first, other] = *found->second;
    findings.add(say::site_zone_name_twice(name, words(first, other), words(zone->first, zone->second)),
                 pointer_child(pointer_child("/zones", zone->first), "name"));
  }
}

}  // namespace zoneproof::site
