#include <algorithm>
#include <array>
#include <iterator>
#include <limits>

#include "base/json_pointer.hpp"
#include "messages/site.hpp"
#include "site/checks.hpp"
#include "site/walk.hpp"

namespace zoneproof::site {

namespace {

using std::string;

constexpr int kDigits = 9;

/// A value that says something about a thing that is there ("none" says that it is not).
bool stated(const Value& value) { return value.known(); }
bool stated(const Ref& reference) { return reference.known(); }
bool stated(const Count& count) { return count.known(); }
bool stated(const Flag& flag) { return flag.known(); }
template <class E>
bool stated(const Word<E>& word) {
  return word.known();
}

string last_token(std::string_view pointer) { return string(pointer.substr(pointer.rfind('/') + 1)); }

/// `member` has no meaning where `other` is `word`.
template <class T, class E>
void unless(bool fits, const T& member, std::string_view other, E word, Findings& findings) {
  if (fits || !stated(member)) return;
  findings.add(say::site_contradiction(last_token(member.pointer), string(other), string(word_of(word))),
               member.pointer);
}

// ---- Every record --------------------------------------------------------------------------------------------------

/// The key of the upper end of a pair: "max_V" of "min_V", "supply_max_V" of "supply_min_V"; empty for other keys.
string upper_key(std::string_view key) {
  const std::size_t at = key.substr(0, 4) == "min_" ? 0 : key.find("_min_");
  if (at == std::string_view::npos) return "";
  string upper(key);
  return upper.replace(upper.find("min", at), 3, "max");
}

void check_ends(const Value& low, const Value& high, std::string_view low_key, std::string_view high_key,
                Findings& findings) {
  if (!low.known() || !high.known() || low.nominal <= high.nominal) return;
  const auto unit = unit_of_key(low_key);
  const string symbol(unit ? unit->symbol : "");
  findings.add(say::site_min_above_max(string(low_key), {low.nominal, symbol, kDigits}, string(high_key),
                                       {high.nominal, symbol, kDigits}),
               low.pointer);
}

void check_min_max(const Record& record, const void* object, Findings& findings) {
  for (const Field& field : record.fields) {
    if (field.shape != Shape::number) continue;
    const string upper = upper_key(field.key);
    const Field* partner = upper.empty() ? nullptr : record.find(upper);
    if (partner == nullptr) continue;
    check_ends(*static_cast<const Value*>(field.member_of(object)),
               *static_cast<const Value*>(partner->member_of(object)), field.key, partner->key, findings);
  }
}

// ---- Parts ---------------------------------------------------------------------------------------------------------

/// Exactly the object that is named like `kind` is present.
void check_kind(const Part& part, const string& pointer, Findings& findings) {
  if (!part.kind.known()) return;
  const string kind(word_of(*part.kind.value));
  for (const Field& field : record_of<Part>().fields) {
    if (field.shape != Shape::optional_record) continue;
    const bool present = field.nested->size(field.member_of(&part)) > 0;
    if (field.key == kind && !present) findings.add(say::site_part_object_missing(kind), pointer);
    if (field.key != kind && present) {
      findings.add(say::site_part_object_other(string(field.key), kind), pointer_child(pointer, field.key), true);
    }
  }
}

/// The ends of a window, in volts or in percent; unbounded where one is none, nothing where nothing is known.
std::optional<std::pair<double, double>> ends(const Value& low, const Value& high) {
  if ((low.unknown() || high.unknown()) || (low.none() && high.none())) return std::nullopt;
  constexpr double kFar = std::numeric_limits<double>::infinity();
  return std::pair(low.known() ? low.nominal : -kFar, high.known() ? high.nominal : kFar);
}

/// A voltage has one meaning: windows that mean different things may touch and no more.
void check_windows(const Map<Window>& windows, const string& pointer, Findings& findings) {
  const auto overlap = [](const auto& a, const auto& b) {
    return a && b && std::max(a->first, b->first) < std::min(a->second, b->second);
  };
  for (auto one = windows.begin(); one != windows.end(); ++one) {
    for (auto two = std::next(one); two != windows.end(); ++two) {
      const Window &a = one->second, &b = two->second;
      if (!a.means.known() || !b.means.known() || a.means.value == b.means.value) continue;
      if (!overlap(ends(a.min_V, a.max_V), ends(b.min_V, b.max_V)) &&
          !overlap(ends(a.min_pct, a.max_pct), ends(b.min_pct, b.max_pct)))
        continue;
      findings.add(say::site_windows_overlap(one->first, string(word_of(*a.means.value)), two->first,
                                             string(word_of(*b.means.value))),
                   pointer_child(pointer, two->first), true);
    }
  }
}

void check_terminal(const ZoneTerminalSpec& terminal, const string& pointer, Findings& findings) {
  check_windows(terminal.windows, pointer_child(pointer, "windows"), findings);
  if (terminal.source.known()) {
    const TerminalSource source = *terminal.source.value;
    unless(source == TerminalSource::regulated, terminal.source_V, "source", source, findings);
    unless(source == TerminalSource::raw_rail, terminal.source_pct, "source", source, findings);
  }
  if (terminal.refers_to.known()) {
    const TerminalReference refers_to = *terminal.refers_to.value;
    unless(refers_to == TerminalReference::current_source, terminal.current_A, "refers_to", refers_to, findings);
    unless(refers_to == TerminalReference::optocoupled, terminal.forward_V, "refers_to", refers_to, findings);
  }
  for (const auto& entry : terminal.windows) {
    const Window& window = entry.second;
    const Value& volts = stated(window.min_V) ? window.min_V : window.max_V;
    const Value& share = stated(window.min_pct) ? window.min_pct : window.max_pct;
    if (stated(volts) && stated(share)) {
      findings.add(say::site_either_or(last_token(share.pointer), last_token(volts.pointer)), share.pointer);
    }
  }
}

void check_unit(const UnitSpec& unit, Findings& findings) {
  if (stated(unit.power_W) && stated(unit.current_A)) {
    findings.add(say::site_either_or("power_W", "current_A"), unit.power_W.pointer);
  }
  check_ends(unit.arming.low_max_V, unit.arming.high_min_V, "low_max_V", "high_min_V", findings);
}

void check_supply(const SupplySpec& supply, Findings& findings) {
  for (const auto& entry : supply.outputs) {
    const SupplyOutputSpec& output = entry.second;
    if (!output.protection.known()) continue;
    const Protection protection = *output.protection.value;
    unless(protection == Protection::foldback, output.foldback_A, "protection", protection, findings);
  }
}

void check_part(const Part& part, const string& pointer, Findings& findings) {
  check_kind(part, pointer, findings);
  if (part.supply) check_supply(*part.supply, findings);
  if (part.zone_terminal) check_terminal(*part.zone_terminal, pointer_child(pointer, "zone_terminal"), findings);
  if (part.unit) check_unit(*part.unit, findings);
}

// ---- Rulebooks -----------------------------------------------------------------------------------------------------

void check_entry(const RuleEntry& entry, const string& pointer, Findings& findings) {
  const bool table = !entry.points.empty();
  if (!stated(entry.value) && !table) findings.add(say::site_rule_empty(), pointer);
  if (stated(entry.value) && table) findings.add(say::site_either_or("value", "points"), entry.value.pointer);
  if (table && entry.at_unit.empty()) findings.add(say::site_rule_at_unit(), pointer);
  for (std::size_t i = 1; i < entry.points.size(); ++i) {
    const Value& before = entry.points[i - 1].at;
    const Value& at = entry.points[i].at;
    if (!before.known() || !at.known() || before.nominal < at.nominal) continue;
    findings.add(
        say::site_rule_points_order({at.nominal, entry.at_unit, kDigits}, {before.nominal, entry.at_unit, kDigits}),
        at.pointer);
  }
}

void check_entries(const Rulebook& book, const string& pointer, Findings& findings) {
  for (const auto& [id, entry] : book.entries) {
    check_entry(entry, pointer_child(pointer_child(pointer, "entries"), id), findings);
  }
}

// ---- What names something inside a part ----------------------------------------------------------------------------

/// The part that a reference names, where it is there.
const Part* part_of(const Site& site, const Ref& reference) {
  const auto found = site.parts.find(reference.id);
  return found == site.parts.end() ? nullptr : &found->second;
}

template <class T>
const T* find(const Map<T>& map, const Ref& reference) {
  const auto found = map.find(reference.id);
  return found == map.end() ? nullptr : &found->second;
}

template <class T>
void check_inside(const Map<T>& inside, const string& id, const Ref& part, std::string_view what, const string& pointer,
                  Findings& findings) {
  if (id.empty() || inside.count(id) != 0) return;
  std::vector<string> known;
  for (const auto& entry : inside) known.push_back(entry.first);
  findings.add(say::site_not_in_part(part.id, id, string(what), known), pointer);
}

void check_contact(const Site& site, const Ref& detector, const string& contact, const string& pointer,
                   Findings& findings) {
  const Detector* installed = find(site.detectors, detector);
  const Part* part = installed ? part_of(site, installed->part) : nullptr;
  if (part && part->detector) {
    check_inside(part->detector->contacts, contact, installed->part, "contacts", pointer, findings);
  }
}

void check_feed(const Site& site, const Feed& feed, const string& pointer, Findings& findings) {
  if (feed.from.none()) {
    for (const string& at :
         {feed.output.empty() ? "" : pointer_child(pointer, "output"), feed.cable.known() ? feed.cable.pointer : "",
          feed.fuse_A.known() ? feed.fuse_A.pointer : ""}) {
      if (!at.empty()) findings.add(say::site_contradiction(last_token(at), "from", "none"), at);
    }
    return;
  }
  if (feed.output.empty()) return;
  const string at = pointer_child(pointer, "output");
  if (site.junctions.count(feed.from.id) != 0) {
    findings.add(say::site_contradiction("output", "from", feed.from.id), at);
    return;
  }
  const Supply* supply = find(site.supplies, feed.from);
  const Part* part = supply ? part_of(site, supply->part) : nullptr;
  if (part && part->supply) check_inside(part->supply->outputs, feed.output, supply->part, "outputs", at, findings);
}

// ---- Loops and doubled zones ---------------------------------------------------------------------------------------

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
  const Word<Arrangement>& arrangement = carrier->loop.arrangement;
  if (arrangement.known() && !resistors_of(*arrangement.value).second_alarm) {
    findings.add(say::site_doubled_arrangement(other.id, string(word_of(*arrangement.value))), other.pointer);
  }
}

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

// ---- Outputs, units, triggers --------------------------------------------------------------------------------------

std::optional<OutputKind> output_kind(const Site& site, const Output& output) {
  const Part* part = part_of(site, output.part);
  return part && part->output ? part->output->kind.value : std::nullopt;
}

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

void check_arming(const Arming& arming, Findings& findings) {
  if (arming.pullup_ohm.none() && arming.pullup_to.known()) {
    findings.add(say::site_contradiction("pullup_to", "pullup_ohm", "none"), arming.pullup_to.pointer);
  }
}

void check_trigger(const Site& site, const string& id, const Trigger& trigger, Findings& findings) {
  const string pointer = pointer_child("/triggers", id);
  if (trigger.source.known()) {
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
  const Output* output = find(site.outputs, trigger.output);
  if (const std::optional<OutputKind> kind = output ? output_kind(site, *output) : std::nullopt) {
    unless(*kind == OutputKind::relay, trigger.contact_to, "kind of part " + output->part.id, *kind, findings);
  }
  check_contact(site, trigger.detector, trigger.contact, pointer_child(pointer, "contact"), findings);
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
  check_inside(part->unit->input.presets, trigger.setting.preset, unit->part, "presets", at, findings);
}

void check_bond(const Bond& bond, Findings& findings) {
  if (bond.a.known() && bond.a.id == bond.b.id) findings.add(say::site_same_ends(bond.a.id), bond.b.pointer);
}

/// Rules that hold for every struct of a kind, wherever it stands.
void check_everywhere(const Record& root, const void* object, Findings& findings,
                      const std::function<void(const Feed&, const string&)>& feed) {
  walk(root, object, "", [&](const Record& record, const void* inside, const string& pointer) {
    check_min_max(record, inside, findings);
    if (&record == &record_of<Feed>()) feed(*static_cast<const Feed*>(inside), pointer);
  });
}

}  // namespace

void check_rules(const Site& site, Findings& findings) {
  check_everywhere(record_of<Site>(), &site, findings,
                   [&](const Feed& feed, const string& pointer) { check_feed(site, feed, pointer, findings); });
  for (const auto& [id, part] : site.parts) check_part(part, pointer_child("/parts", id), findings);
  for (const auto& [id, book] : site.rulebooks) check_entries(book, pointer_child("/rulebooks", id), findings);
  for (const auto& [id, zone] : site.zones) check_zone(site, id, zone, findings);
  for (const auto& [id, output] : site.outputs) check_output(site, id, output, findings);
  for (const auto& entry : site.units) check_arming(entry.second.arming, findings);
  for (const auto& [id, trigger] : site.triggers) check_trigger(site, id, trigger, findings);
  for (const auto& entry : site.bonds) check_bond(entry.second, findings);
}

void check_parts(const PartsFile& file, Findings& findings) {
  check_everywhere(record_of<PartsFile>(), &file, findings, [](const Feed&, const string&) {});
  for (const auto& [id, part] : file.parts) check_part(part, pointer_child("/parts", id), findings);
}

void check_rulebook(const RulebookFile& file, Findings& findings) {
  check_everywhere(record_of<RulebookFile>(), &file, findings, [](const Feed&, const string&) {});
  check_entries(file.rulebook, "/rulebook", findings);
}

}  // namespace zoneproof::site
