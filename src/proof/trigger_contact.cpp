#include "proof/trigger_contact.hpp"

#include <algorithm>
#include <array>
#include <limits>
#include <optional>
#include <set>

#include "messages/proof.hpp"
#include "proof/rule.hpp"
#include "site/relations.hpp"

namespace zoneproof::proof {

namespace {

using site::Site;
using site::Trigger;
using site::TriggerSource;
using site::Value;

constexpr std::array<std::string_view, 3> kAlarmIds = {"alarm", "spare", "relay"};
constexpr std::array<std::string_view, 3> kOtherIds = {"tamper", "mask", "fault"};

bool uses_contact(const Trigger& trigger) {
  return trigger.source.is(TriggerSource::spare_contact) || trigger.source.is(TriggerSource::receiver_relay);
}

template <std::size_t N>
bool begins_like(const std::string& id, const std::array<std::string_view, N>& words) {
  return std::any_of(words.begin(), words.end(), [&](std::string_view word) { return id.rfind(word, 0) == 0; });
}

/// Zones whose alarm this detector gives, by the contacts on their loops. A tamper contact often stands in the loop of
/// a neighbour and says nothing of whose alarm it is.
std::set<std::string> zones_of_detector(const Site& site, const std::string& detector) {
  std::set<std::string> zones;
  for (const auto& [id, zone] : site.zones) {
    for (const auto& [contact_id, contact] : zone.loop.contacts) {
      if (contact.detector.id != detector) continue;
      if (contact.role.known() && !contact.role.is(site::ContactRole::alarm)) continue;
      zones.insert(contact.zone.known() ? contact.zone.id : id);
    }
  }
  return zones;
}

chain::Evidence belongs(const Site& site, const Trigger& trigger, const Rule& rule) {
  const std::set<std::string> zones = zones_of_detector(site, trigger.detector.id);
  if (zones.count(trigger.zone.id) != 0) return holds(rule);
  if (!zones.empty()) {
    return breaks(rule, say::contact_of_other_zone(site::called(site.detectors, trigger.detector.id),
                                                   site::called(site.zones, *zones.begin())));
  }
  const site::Zone& zone = site.zones.at(trigger.zone.id);
  if (!zone.medium.known()) return open_question(rule, zone.medium.pointer);
  if (!zone.medium.is(site::Medium::wired)) return holds(rule);
  const std::string owner = site::loop_owner(site, trigger.zone.id);
  if (owner.empty()) return open_question(rule, zone.doubled_with.pointer);
  const site::Loop& loop = site.zones.at(owner).loop;
  if (loop.contacts_complete.yes())
    return breaks(rule, say::contact_of_no_zone(site::called(site.detectors, trigger.detector.id)));
  chain::Evidence evidence = open_question(rule, loop.contacts_complete.pointer);
  evidence.gaps = {{loop.contacts_complete.pointer, "incomplete_list"}};
  return evidence;
}

chain::Evidence reports_alarm(const Site& site, const std::string& id, const Trigger& trigger, const Rule& rule) {
  const std::string name = site::called(site.detectors, trigger.detector.id);
  std::optional<bool> alarm;
  if (begins_like(trigger.contact, kAlarmIds)) alarm = true;
  if (begins_like(trigger.contact, kOtherIds)) alarm = false;
  for (const auto& [zone_id, zone] : site.zones) {
    for (const auto& [contact_id, contact] : zone.loop.contacts) {
      const bool same = contact.detector.id == trigger.detector.id && contact.contact == trigger.contact;
      if (same && contact.role.known()) alarm = alarm.value_or(true) && contact.role.is(site::ContactRole::alarm);
    }
  }
  if (!alarm) {
    chain::Evidence evidence = open_question(rule, "/triggers/" + id + "/contact");
    evidence.says = say::contact_reports_what(trigger.contact, name);
    return evidence;
  }
  return *alarm ? holds(rule) : breaks(rule, say::contact_reports_no_alarm(trigger.contact, name));
}

chain::Evidence used_once(const Site& site, const std::string& id, const Trigger& trigger, const Rule& rule) {
  const std::string name = site::called(site.detectors, trigger.detector.id);
  for (const auto& [zone_id, zone] : site.zones) {
    for (const auto& [contact_id, contact] : zone.loop.contacts) {
      if (contact.detector.id == trigger.detector.id && contact.contact == trigger.contact)
        return breaks(rule, say::contact_in_a_loop(trigger.contact, name, site::called(site.zones, zone_id)));
    }
  }
  for (const auto& [other_id, other] : site.triggers) {
    if (other_id == id || !uses_contact(other)) continue;
    if (other.detector.id == trigger.detector.id && other.contact == trigger.contact)
      return breaks(rule, say::contact_used_twice(trigger.contact, name, site::called(site.zones, other.zone.id)));
  }
  return holds(rule);
}

// ---- Rating --------------------------------------------------------------------------------------------------------

/// Most voltage across the open contact and most current through the closed one.
struct Stress {
  double volts = 0.0;
  double amperes = 0.0;
};

/// Highest voltage at the root of the unit's feed, in every state of mains and battery.
std::optional<double> supply_volts(const Site& site, const site::Unit& unit) {
  const auto supply = site.supplies.find(site::supply_of(site, unit.feed));
  if (supply == site.supplies.end()) return std::nullopt;
  const auto* spec = site::spec_of(site, supply->second.part, &site::Part::supply);
  if (spec == nullptr) return std::nullopt;
  double most = 0.0;
  for (const Value* one : {&spec->mains_V, &spec->mains_no_battery_V, &spec->mains_flat_battery_V}) {
    if (!one->known()) return std::nullopt;
    most = std::max(most, one->high);
  }
  return most;
}

/// Current that a pull-up drives into the contact: 0 where there is none, nothing where it is unknown.
std::optional<double> through(const Value& ohm, double volts) {
  if (ohm.none()) return 0.0;
  if (!ohm.known()) return std::nullopt;
  return ohm.low > 0.0 ? volts / ohm.low : std::numeric_limits<double>::infinity();
}

/// To the negative: the contact carries what the pull-ups drive and is open against the higher of what they go to.
std::optional<Stress> to_negative(const Trigger& trigger, const site::UnitInputSpec& input,
                                  const std::optional<double>& supply) {
  if (input.pullup_ohm.unknown() || trigger.pullup_ohm.unknown()) return std::nullopt;
  const bool inner = input.pullup_ohm.known(), outer = trigger.pullup_ohm.known();
  if ((inner && !input.inner_rail_V.known()) || (outer && !supply)) return std::nullopt;
  const double rail = inner ? input.inner_rail_V.high : 0.0;
  const double fed = outer ? *supply : 0.0;
  return Stress{std::max(rail, fed), *through(input.pullup_ohm, rail) + *through(trigger.pullup_ohm, fed)};
}

/// To the positive: it carries what the input, its pull-down and its clamp to the inner rail draw from the supply.
std::optional<Stress> to_positive(const Trigger& trigger, const site::UnitInputSpec& input,
                                  const std::optional<double>& supply) {
  if (!supply || trigger.series_ohm.unknown() || input.clamp_forward_V.unknown()) return std::nullopt;
  const std::optional<double> down = through(trigger.pulldown_ohm, *supply);
  const std::optional<double> measured = through(input.impedance_ohm, *supply);
  if (!down || !measured) return std::nullopt;
  Stress stress = {*supply, *down + *measured};
  if (input.clamp_forward_V.none()) return stress;
  if (!input.inner_rail_V.known() || !input.clamp_on_ohm.known()) return std::nullopt;
  const double over = *supply - input.inner_rail_V.low - input.clamp_forward_V.low;
  const double ohm = (trigger.series_ohm.known() ? trigger.series_ohm.low : 0.0) + input.clamp_on_ohm.low;
  if (over > 0.0) stress.amperes += ohm > 0.0 ? over / ohm : std::numeric_limits<double>::infinity();
  return stress;
}

std::optional<Stress> stress_on(const Site& site, const Trigger& trigger) {
  const auto unit = site.units.find(trigger.unit.id);
  const site::UnitSpec* spec = site::unit_spec(site, trigger.unit.id);
  if (unit == site.units.end() || spec == nullptr || !trigger.contact_to.known()) return std::nullopt;
  const std::optional<double> supply = supply_volts(site, unit->second);
  return trigger.contact_to.is(site::Level::low) ? to_negative(trigger, spec->input, supply)
                                                 : to_positive(trigger, spec->input, supply);
}

/// Compares a bound of what the contact has to stand with its rating.
std::optional<chain::Evidence> rated(const Rule& rule, const char* quantity, const char* unit, double most,
                                     const Value& rating) {
  if (!rating.known() || most == std::numeric_limits<double>::infinity()) return std::nullopt;
  chain::Evidence evidence = judged(rule, chain::judge(rating.low - most, 0.0));
  evidence.quantity = quantity;
  evidence.unit = unit;
  evidence.value = evidence.bound = most;
  evidence.limit = rating.low;
  evidence.margin = rating.low - most;
  evidence.kind = chain::BoundKind::bounded;
  evidence.origin = rating.origin;
  evidence.says = evidence.verdict == chain::Verdict::broken
                      ? say::contact_overloaded({most, unit}, {rating.low, unit})
                      : say::contact_strong_enough({most, unit}, {rating.low, unit});
  return evidence;
}

}  // namespace

std::vector<chain::Evidence> check_trigger_contact(const Site& site, const std::string& id) {
  const Trigger& trigger = site.triggers.at(id);
  if (!uses_contact(trigger)) return {};
  const auto rule = [&](const char* check) {
    return Rule{trigger.zone.id, chain::Link::trigger, check, say::rule_of_contacts()};
  };
  if (!trigger.detector.known()) return {open_question(rule("contact_of_zone"), trigger.detector.pointer)};
  std::vector<chain::Evidence> all = {belongs(site, trigger, rule("contact_of_zone"))};
  if (trigger.contact.empty()) {
    all.push_back(open_question(rule("contact_reports_alarm"), "/triggers/" + id + "/contact"));
    return all;
  }
  all.push_back(reports_alarm(site, id, trigger, rule("contact_reports_alarm")));
  all.push_back(used_once(site, id, trigger, rule("contact_used_once")));
  const site::ContactSpec* contact = site::contact_spec(site, trigger.detector, trigger.contact);
  const std::optional<Stress> stress = stress_on(site, trigger);
  if (contact == nullptr || !stress) return all;
  if (auto volts = rated(rule("contact_voltage"), "contact_voltage", "V", stress->volts, contact->max_V))
    all.push_back(*std::move(volts));
  if (auto amperes = rated(rule("contact_current"), "contact_current", "A", stress->amperes, contact->max_A))
    all.push_back(*std::move(amperes));
  return all;
}

}  // namespace zoneproof::proof
