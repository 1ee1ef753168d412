#include "timeline/arming_edge.hpp"

#include <algorithm>

namespace zoneproof::timeline {

using std::string;

namespace {

constexpr ArmingPhase kPhases[] = {ArmingPhase::disarmed, ArmingPhase::leaving, ArmingPhase::armed,
                                   ArmingPhase::entering};

class Edge {
 public:
  Edge(const site::Site& site, const site::Trigger& trigger) : site_(site), trigger_(trigger) {
    const auto zone = site.zones.find(trigger.zone.id);
    if (zone != site.zones.end()) zone_ = &zone->second;
    const auto unit = site.units.find(trigger.unit.id);
    if (unit != site.units.end()) unit_ = &unit->second;
  }

  EdgeRow row(ArmingPhase phase) const {
    EdgeRow row;
    row.phase = phase;
    row.alarm = alarm(phase, row.gaps);
    row.clip = clip(phase, row.gaps);
    row.lasts = lasts(phase);
    return row;
  }

 private:
  static Does missing(const string& pointer, std::vector<chain::Gap>& gaps) {
    chain::add_gap(gaps, {pointer, "unknown"});
    return Does::open;
  }

  Does alarm(ArmingPhase phase, std::vector<chain::Gap>& gaps) const {
    if (zone_ == nullptr) return missing(trigger_.zone.pointer, gaps);
    if (!zone_->type.known()) return missing(zone_->type.pointer, gaps);
    switch (*zone_->type.value) {
      case site::ZoneType::intruder: return of_intruder(phase, gaps);
      case site::ZoneType::entry_exit: return on_the_way(phase, Does::later);
      case site::ZoneType::follower: return on_the_way(phase, phase == ArmingPhase::entering ? Does::later : Does::yes);
      case site::ZoneType::access: return Does::no;
      case site::ZoneType::twenty_four_hour:
      case site::ZoneType::tamper:
      case site::ZoneType::fire:
      case site::ZoneType::hold_up:
      case site::ZoneType::technical: break;
    }
    return Does::yes;
  }

  Does of_intruder(ArmingPhase phase, std::vector<chain::Gap>& gaps) const {
    if (phase == ArmingPhase::disarmed) return Does::no;
    if (phase != ArmingPhase::leaving) return Does::yes;
    chain::add_gap(gaps, {zone_->type.pointer, "undecided"});
    return Does::open;
  }

  static Does on_the_way(ArmingPhase phase, Does when_armed) {
    return phase == ArmingPhase::disarmed || phase == ArmingPhase::leaving ? Does::no : when_armed;
  }

  Does clip(ArmingPhase phase, std::vector<chain::Gap>& gaps) const {
    if (unit_ == nullptr) return missing(trigger_.unit.pointer, gaps);
    const site::Ref& wired = unit_->arming.output;
    if (wired.none() || trigger_.setting.at_any_hour.yes()) return Does::yes;
    const auto output = site_.outputs.find(wired.id);
    if (output == site_.outputs.end()) return missing(wired.pointer, gaps);
    if (!output->second.follows.known()) return missing(output->second.follows.pointer, gaps);
    if (!output->second.follows.is(site::FollowedEvent::armed)) return Does::no;
    if (phase == ArmingPhase::disarmed) return Does::no;
    if (phase != ArmingPhase::leaving) return Does::yes;
    const auto& moment = output->second.moment;
    if (!moment.known()) return missing(moment.pointer, gaps);
    return moment.is(site::ArmingMoment::exit_start) ? Does::yes : Does::no;
  }

  Told lasts(ArmingPhase phase) const {
    Told open = not_told("");
    open.gaps.clear();
    if (phase == ArmingPhase::disarmed || phase == ArmingPhase::armed) return open;
    const auto partition = zone_ == nullptr ? site_.partitions.end() : site_.partitions.find(zone_->partition.id);
    if (partition == site_.partitions.end()) return open;
    return told(phase == ArmingPhase::leaving ? partition->second.exit_s : partition->second.entry_s);
  }

  const site::Site& site_;
  const site::Trigger& trigger_;
  const site::Zone* zone_ = nullptr;
  const site::Unit* unit_ = nullptr;
};

}  // namespace

std::vector<EdgeRow> arming_edge(const site::Site& site, const string& trigger) {
  const Edge edge(site, site.triggers.at(trigger));
  std::vector<EdgeRow> rows;
  for (const ArmingPhase phase : kPhases) rows.push_back(edge.row(phase));
  return rows;
}

}  // namespace zoneproof::timeline
