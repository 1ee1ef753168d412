#include "site/zone_rules.hpp"

#include <map>
#include <utility>

#include "base/json_pointer.hpp"
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

/// Two zones under one number would be one event for the operator, and two on one input a pair that nobody told of.
void check_numbers_of_zones(const Site& site, Findings& findings) {
  using Place = std::pair<string, long long>;
  std::map<Place, string> numbers, inputs;
  for (const auto& [id, zone] : site.zones) {
    if (!zone.panel.known()) continue;
    if (zone.number.known()) {
      const auto [first, fresh] = numbers.emplace(Place(zone.panel.id, *zone.number.value), id);
      if (!fresh) findings.add(say::site_zone_number_twice(*zone.number.value, first->second), zone.number.pointer);
    }
    const bool own_pair = zone.medium.is(Medium::wired) && !zone.doubled_with.known();
    if (!own_pair || !zone.input.known()) continue;
    const auto [first, fresh] = inputs.emplace(Place(zone.panel.id, *zone.input.value), id);
    if (!fresh) findings.add(say::site_zone_input_twice(*zone.input.value, first->second), zone.input.pointer);
  }
}

}  // namespace zoneproof::site
