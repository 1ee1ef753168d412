#include "proof/armed_by.hpp"

#include <algorithm>
#include <optional>

#include "messages/proof.hpp"
#include "proof/agreement.hpp"
#include "site/relations.hpp"

namespace zoneproof::proof {

namespace {

using chain::Evidence;

constexpr const char* kArmedWithZone = "armed_with_zone";

/// Whether a zone of that type is only looked at while its partition is armed.
bool sleeps_when_disarmed(site::ZoneType type) {
  return type == site::ZoneType::intruder || type == site::ZoneType::entry_exit || type == site::ZoneType::follower;
}

/// Whether a zone of that type alarms also while nobody has armed anything. Access is no alarm at all.
bool alarms_at_any_hour(site::ZoneType type) { return !sleeps_when_disarmed(type) && type != site::ZoneType::access; }

/// The first datum that the question rests on and that is not known; empty where all are.
std::string first_unknown(const site::Zone& zone, const site::Output& output) {
  if (!output.follows.known()) return output.follows.pointer;
  if (!output.follows.is(site::FollowedEvent::armed)) return "";  // wrong, whatever the rest is
  if (!output.mode.known()) return output.mode.pointer;
  if (!output.moment.known()) return output.moment.pointer;
  if (!zone.partition.known()) return zone.partition.pointer;
  for (const site::Ref& partition : output.partitions) {
    if (!partition.known()) return partition.pointer;
  }
  const bool several = output.partitions.size() > 1;
  return several && !output.partition_rule.known() ? output.partition_rule.pointer : "";
}

class ArmedBy {
 public:
  explicit ArmedBy(const site::Site& site) : site_(site) {}

  Evidence of(const std::string& zone_id, const site::Output& output, const std::string& output_id) const {
    const site::Zone& zone = site_.zones.at(zone_id);
    if (const std::string missing = first_unknown(zone, output); !missing.empty())
      return open_question(zone_id, kArmedWithZone, missing);
    const std::string& name = site::name_or_id(output.name, output_id);
    if (!output.follows.is(site::FollowedEvent::armed))
      return breaks(zone_id, kArmedWithZone, say::armed_by_other_event(name));
    if (output.mode.is(site::OutputMode::pulse)) return breaks(zone_id, kArmedWithZone, say::armed_by_pulse(name));
    if (output.partitions.empty())
      return open_question(zone_id, kArmedWithZone, "/outputs/" + output_id + "/partitions");
    const bool own = std::any_of(output.partitions.begin(), output.partitions.end(),
                                 [&](const site::Ref& partition) { return partition.id == zone.partition.id; });
    if (!own)
      return breaks(zone_id, kArmedWithZone,
                    say::armed_by_other_partition(name, site::called(site_.partitions, zone.partition.id)));
    if (output.partitions.size() > 1 && output.partition_rule.is(site::PartitionRule::all))
      return breaks(zone_id, kArmedWithZone,
                    say::armed_by_all_partitions(name, site::called(site_.partitions, zone.partition.id)));
    return holds(zone_id, kArmedWithZone);
  }

 private:
  const site::Site& site_;
};

/// An alarm that comes at any hour finds the unit disarmed by day, unless the unit acts on its input all the same.
Evidence heard_at_any_hour(const std::string& zone, const site::Trigger& trigger) {
  const site::Flag& at_any_hour = trigger.setting.at_any_hour;
  if (!at_any_hour.known()) return open_question(zone, kArmedWithZone, at_any_hour.pointer);
  Evidence evidence = holds(zone, kArmedWithZone);
  if (!at_any_hour.yes()) return breaks(zone, kArmedWithZone, say::armed_not_at_any_hour());
  evidence.says = say::heard_at_any_hour();
  return evidence;
}

}  // namespace

std::vector<Evidence> check_armed_by(const site::Site& site) {
  std::vector<Evidence> all;
  const ArmedBy armed(site);
  for (const auto& [id, trigger] : site.triggers) {
    const auto zone = site.zones.find(trigger.zone.id);
    const auto unit = site.units.find(trigger.unit.id);
    if (zone == site.zones.end() || unit == site.units.end()) continue;  // said by the pairing rules
    if (!zone->second.type.known()) {
      all.push_back(open_question(zone->first, kArmedWithZone, zone->second.type.pointer));
      continue;
    }
    const site::Ref& wired = unit->second.arming.output;
    if (wired.none()) continue;  // said by the arming check
    if (alarms_at_any_hour(*zone->second.type.value)) {
      all.push_back(heard_at_any_hour(zone->first, trigger));
      continue;
    }
    if (!sleeps_when_disarmed(*zone->second.type.value)) continue;
    const auto output = site.outputs.find(wired.id);
    if (output == site.outputs.end()) {
      all.push_back(open_question(zone->first, kArmedWithZone, wired.pointer));
      continue;
    }
    all.push_back(armed.of(zone->first, output->second, output->first));
  }
  return all;
}

}  // namespace zoneproof::proof
