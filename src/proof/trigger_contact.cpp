#include "proof/trigger_contact.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <optional>
#include <set>

#include "base/outward.hpp"
#include "messages/proof.hpp"
#include "proof/contact.hpp"
#include "proof/rule.hpp"
#include "site/relations.hpp"

namespace zoneproof::proof {

namespace {

using site::Site;
using site::Trigger;
using site::Value;

/// Which loops this detector stands in with an alarm contact. A tamper contact often stands in the loop of a neighbour
/// and says nothing of whose alarm it is.
struct Loops {
  std::set<std::string> zones;  ///< whose alarm it certainly gives
  std::string may_be_own;       ///< a datum without which it may give that of the zone asked about
};
Loops loops_of(const Site& site, const std::string& detector, const std::string& zone) {
  Loops loops;
  for (const auto& [id, owner] : site.zones) {
    for (const auto& [contact_id, contact] : owner.loop.contacts) {
      if (contact.detector.id != detector) continue;
      if (contact.role.known() && !contact.role.is(site::ContactRole::alarm)) continue;
      const std::string whose = zone_of_contact(site, id, contact);
      if (contact.role.known() && !whose.empty()) {
        loops.zones.insert(whose);
      } else if (whose.empty() ? site::loop_owner(site, zone) == id : whose == zone) {
        loops.may_be_own = contact.role.known() ? contact.zone.pointer : contact.role.pointer;
      }
    }
  }
  return loops;
}

/// A detector in no loop: that of a wired zone ought to stand in the zone's own, any other says whose it is.
chain::Evidence without_loop(const Site& site, const Trigger& trigger, const Rule& rule) {
  const site::Zone& zone = site.zones.at(trigger.zone.id);
  if (!zone.medium.known()) return open_question(rule, zone.medium.pointer);
  if (!zone.medium.is(site::Medium::wired)) {
    const site::Ref& stated = site.detectors.at(trigger.detector.id).zone;
    return stated.known() ? holds(rule) : open_question(rule, stated.pointer);
  }
  const std::string owner = site::loop_owner(site, trigger.zone.id);
  if (owner.empty()) return open_question(rule, zone.doubled_with.pointer);
  const site::Loop& loop = site.zones.at(owner).loop;
  for (const auto& [id, contact] : loop.contacts) {
    if (contact.detector.unknown()) return open_question(rule, contact.detector.pointer);
  }
  if (loop.contacts_complete.yes())
    return breaks(rule, say::contact_of_no_zone(site::called(site.detectors, trigger.detector.id)));
  chain::Evidence evidence = open_question(rule, loop.contacts_complete.pointer);
  evidence.gaps = {{loop.contacts_complete.pointer, "incomplete_list"}};
  return evidence;
}

/// A contact that reports what its own detector sees is of the zone that the detector is of.
chain::Evidence of_own_detector(const Site& site, const Trigger& trigger, const Rule& rule) {
  const Loops loops = loops_of(site, trigger.detector.id, trigger.zone.id);
  const site::Ref& stated = site.detectors.at(trigger.detector.id).zone;
  const auto of_other = [&](const std::string& zone) {
    return breaks(rule, say::contact_of_other_zone(site::called(site.detectors, trigger.detector.id),
                                                   site::called(site.zones, zone)));
  };
  if (stated.known() && stated.id != trigger.zone.id) return of_other(stated.id);
  if (loops.zones.count(trigger.zone.id) != 0) return holds(rule);
  if (!loops.may_be_own.empty()) return open_question(rule, loops.may_be_own);
  return loops.zones.empty() ? without_loop(site, trigger, rule) : of_other(*loops.zones.begin());
}

/// A programmable contact is of the zone that it is programmed to follow, wherever its receiver hangs.
chain::Evidence of_programmed_zone(const Site& site, const Trigger& trigger, const UsedContact& contact,
                                   const Rule& rule) {
  const FollowedZone follows = followed_zone(site, contact);
  if (!follows.missing.empty()) return open_question(rule, follows.missing);
  if (follows.zone != trigger.zone.id) {
    return breaks(rule,
                  say::contact_programmed_for_other_zone(contact.id, site::called(site.detectors, contact.detector.id),
                                                         site::called(site.zones, follows.zone)));
  }
  chain::Evidence evidence = holds(rule);
  evidence.says = say::contact_programmed_for_zone();
  return evidence;
}

chain::Evidence belongs(const Site& site, const Trigger& trigger, const UsedContact& contact, const Rule& rule) {
  const Reported reported = reported_by(site, contact);
  if (reported.programmable) return of_programmed_zone(site, trigger, contact, rule);
  return reported.what ? of_own_detector(site, trigger, rule) : open_question(rule, reported.missing);
}

chain::Evidence reports_alarm(const Site& site, const Trigger& trigger, const UsedContact& contact, const Rule& rule) {
  const std::string name = site::called(site.detectors, trigger.detector.id);
  const Reported reported = reported_by(site, contact);
  const site::Zone& zone = site.zones.at(trigger.zone.id);
  if (!reported.what) {
    chain::Evidence evidence = open_question(rule, reported.missing);
    evidence.says = say::contact_reports_what(trigger.contact, name);
    return evidence;
  }
  const std::optional<bool> alarm = is_alarm_of(*reported.what, zone);
  if (!alarm) return open_question(rule, zone.type.pointer);
  return *alarm ? holds(rule) : breaks(rule, say::contact_reports_no_alarm(trigger.contact, name));
}

chain::Evidence used_once(const Site& site, const UsedContact& contact, const Rule& rule) {
  const std::string name = site::called(site.detectors, contact.detector.id);
  const OtherUse use = other_use(site, contact);
  const std::string zone = site::called(site.zones, use.zone);
  switch (use.by) {
    case OtherUse::By::loop: return breaks(rule, say::contact_in_a_loop(contact.id, name, zone));
    case OtherUse::By::trigger: return breaks(rule, say::contact_used_twice(contact.id, name, zone));
    case OtherUse::By::nobody: break;
  }
  return use.missing.empty() ? holds(rule) : open_question(rule, use.missing);
}

// ---- Rating --------------------------------------------------------------------------------------------------------

/// Most voltage across the open contact and most current through the closed one, with what is missing or guessed.
struct Stress {
  double volts = 0.0;
  double amperes = 0.0;
  std::vector<chain::Gap> gaps;

  /// The value where it is known; what it rests on is named. None counts as unknown: there is no number.
  std::optional<double> rest_on(const Value& value, double Value::*end) {
    if (value.none()) chain::add_gap(gaps, {value.pointer, "unknown"});
    chain::add_if_weak(gaps, value);
    return value.known() ? std::optional(value.*end) : std::nullopt;
  }
  void lacks(const std::string& pointer) { chain::add_gap(gaps, {pointer, "unknown"}); }

  /// Current that `across` volts drive through a resistor at its lowest: 0 where there is none.
  double through(const Value& ohm, double across) {
    if (ohm.none()) return 0.0;
    return over(across, rest_on(ohm, &Value::low).value_or(0.0));
  }
  static double over(double across, double ohm) {
    return ohm > 0.0 ? across / ohm : std::numeric_limits<double>::infinity();
  }
};

/// Where it is missing what feeds a unit: at the unit, or at the junction nearest to the supply.
const std::string& root_pointer(const Site& site, const site::Feed& feed) {
  const std::vector<std::string> junctions = site::junctions_of(site, feed);
  return junctions.empty() ? feed.from.pointer : site.junctions.at(junctions.back()).feed.from.pointer;
}

/// Highest voltage at the root of the unit's feed, in every state of mains and battery.
double supply_volts(const Site& site, const site::Unit& unit, Stress& stress) {
  const auto supply = site.supplies.find(site::supply_of(site, unit.feed));
  if (supply == site.supplies.end()) {
    stress.lacks(root_pointer(site, unit.feed));
    return 0.0;
  }
  const auto* spec = site::spec_of(site, supply->second.part, &site::Part::supply);
  if (spec == nullptr) {
    stress.lacks(supply->second.part.pointer);
    return 0.0;
  }
  double most = 0.0;
  for (const Value* one : {&spec->mains_V, &spec->mains_no_battery_V, &spec->mains_flat_battery_V})
    most = std::max(most, stress.rest_on(*one, &Value::high).value_or(0.0));
  return most;
}

/// To the negative: the contact carries what the pull-ups drive and is open against the higher of what they go to.
void to_negative(const Site& site, const Trigger& trigger, const site::UnitInputSpec& input, const site::Unit& unit,
                 Stress& stress) {
  const auto pulled_up = [&](const Value& ohm, const std::function<double()>& to) {
    if (ohm.none()) return;
    const double volts = to();
    stress.volts = std::max(stress.volts, volts);
    stress.amperes += stress.through(ohm, volts);
  };
  pulled_up(input.pullup_ohm, [&] { return stress.rest_on(input.inner_rail_V, &Value::high).value_or(0.0); });
  pulled_up(trigger.pullup_ohm, [&] { return supply_volts(site, unit, stress); });
}

/// To the positive: it carries what the input, its pull-down and its clamp to the inner rail draw from the supply.
void to_positive(const Site& site, const Trigger& trigger, const site::UnitInputSpec& input, const site::Unit& unit,
                 Stress& stress) {
  stress.volts = supply_volts(site, unit, stress);
  stress.amperes = stress.through(trigger.pulldown_ohm, stress.volts);
  stress.amperes += stress.through(input.impedance_ohm, stress.volts);
  if (!input.pullup_ohm.none()) {
    const double above = stress.volts - stress.rest_on(input.inner_rail_V, &Value::low).value_or(0.0);
    stress.amperes += stress.through(input.pullup_ohm, std::max(0.0, above));
  }
  if (input.clamp_forward_V.none()) return;
  const double rail = stress.rest_on(input.inner_rail_V, &Value::low).value_or(0.0);
  const double over = stress.volts - rail - stress.rest_on(input.clamp_forward_V, &Value::low).value_or(0.0);
  double ohm = stress.rest_on(input.clamp_on_ohm, &Value::low).value_or(0.0);
  if (!trigger.series_ohm.none()) ohm += stress.rest_on(trigger.series_ohm, &Value::low).value_or(0.0);
  if (over > 0.0) stress.amperes += Stress::over(over, ohm);
}

Stress stress_on(const Site& site, const Trigger& trigger) {
  Stress stress;
  const auto unit = site.units.find(trigger.unit.id);
  const site::UnitSpec* spec = site::unit_spec(site, trigger.unit.id);
  if (unit == site.units.end()) {
    stress.lacks(trigger.unit.pointer);
  } else if (spec == nullptr) {
    stress.lacks(unit->second.part.pointer);
  } else if (!trigger.contact_to.known()) {
    stress.lacks(trigger.contact_to.pointer);
  } else if (trigger.contact_to.is(site::Level::low)) {
    to_negative(site, trigger, spec->input, unit->second, stress);
  } else {
    to_positive(site, trigger, spec->input, unit->second, stress);
  }
  return stress;
}

bool anything_unknown(const std::vector<chain::Gap>& gaps) {
  return std::any_of(gaps.begin(), gaps.end(), [](const chain::Gap& gap) { return gap.reason == "unknown"; });
}

/// Compares a bound of what the contact has to stand with its rating.
chain::Evidence rated(const Rule& rule, const char* quantity, const char* unit, double most, const Value& rating,
                      std::vector<chain::Gap> gaps) {
  chain::add_if_weak(gaps, rating);
  const bool numbers = !anything_unknown(gaps) && std::isfinite(most);
  if (!numbers && gaps.empty()) gaps.push_back({"", "undecided"});
  chain::Evidence evidence = judged(rule, chain::Verdict::unanswered);
  evidence.quantity = quantity;
  evidence.unit = unit;
  evidence.gaps = std::move(gaps);
  evidence.says = say::pairing_not_known();
  if (!numbers) return evidence;
  evidence.value = evidence.bound = most;
  evidence.limit = rating.low;
  evidence.margin = rating.low - most;
  evidence.kind = chain::BoundKind::bounded;
  evidence.origin = rating.origin;
  if (!evidence.gaps.empty()) return evidence;
  evidence.verdict = chain::judge(*evidence.margin, 0.0);
  evidence.says = evidence.verdict == chain::Verdict::broken
                      ? say::contact_overloaded(highest({most, unit}), {rating.low, unit})
                      : say::contact_strong_enough(highest({most, unit}), {rating.low, unit});
  return evidence;
}

using RuleOf = std::function<Rule(const char*)>;

/// Where the part does not hold the contact, its ratings are asked for at the detector's part.
std::vector<chain::Evidence> ratings(const Site& site, const Trigger& trigger, const RuleOf& rule) {
  const site::ContactSpec* contact = site::contact_spec(site, trigger.detector, trigger.contact);
  if (contact == nullptr) {
    const std::string& part = site.detectors.at(trigger.detector.id).part.pointer;
    return {open_question(rule("contact_voltage"), part), open_question(rule("contact_current"), part)};
  }
  const Stress stress = stress_on(site, trigger);
  return {rated(rule("contact_voltage"), "contact_voltage", "V", stress.volts, contact->max_V, stress.gaps),
          rated(rule("contact_current"), "contact_current", "A", stress.amperes, contact->max_A, stress.gaps)};
}

constexpr const char* kChecks[] = {"contact_of_zone", "contact_reports_alarm", "contact_used_once", "contact_voltage",
                                   "contact_current"};

}  // namespace

std::vector<chain::Evidence> check_trigger_contact(const Site& site, const std::string& id) {
  const Trigger& trigger = site.triggers.at(id);
  if (!uses_contact(trigger)) return {};
  const RuleOf rule = [&](const char* check) {
    return Rule{trigger.zone.id, chain::Link::trigger, check, say::rule_of_contacts()};
  };
  std::vector<chain::Evidence> all;
  const bool known = site.detectors.count(trigger.detector.id) != 0;
  if (!known || trigger.contact.empty()) {  // nothing can be asked of a contact before it is known which one it is
    const std::string missing = known ? "/triggers/" + id + "/contact" : trigger.detector.pointer;
    for (const char* check : kChecks) all.push_back(open_question(rule(check), missing));
    return all;
  }
  const UsedContact contact{trigger.detector, trigger.contact, "/triggers/" + id};
  all.push_back(belongs(site, trigger, contact, rule("contact_of_zone")));
  all.push_back(reports_alarm(site, trigger, contact, rule("contact_reports_alarm")));
  all.push_back(used_once(site, contact, rule("contact_used_once")));
  for (chain::Evidence& evidence : ratings(site, trigger, rule)) all.push_back(std::move(evidence));
  return all;
}

}  // namespace zoneproof::proof
