#include "proof/pairing.hpp"

#include <functional>
#include <optional>

#include "carriage/route.hpp"
#include "chain/channels.hpp"
#include "messages/proof.hpp"
#include "proof/agreement.hpp"
#include "proof/loop_contact.hpp"
#include "proof/terminals.hpp"
#include "proof/trigger_contact.hpp"
#include "site/relations.hpp"

namespace zoneproof::proof {

namespace {

using chain::Evidence;
using chain::Verdict;
using site::TriggerSource;
using site::ZoneType;

class Pairing {
 public:
  explicit Pairing(const site::Site& site) : site_(site), routes_(site) {}

  std::vector<Evidence> run() {
    for (const auto& [id, zone] : site_.zones) present(id, zone);
    for (const auto& [id, trigger] : site_.triggers) {
      if (site_.zones.count(trigger.zone.id) == 0) continue;
      possible(id, trigger);
      right_terminal(trigger);
      input(id, trigger);
      channel(id, trigger);
      output(id, trigger);
      for (Evidence& evidence : check_trigger_contact(site_, id)) add(std::move(evidence));
      names(id, trigger);
    }
    for (const auto& [id, zone] : site_.zones) {
      if (!site::triggers_of_zone(site_, id).empty()) told_apart(id);
    }
    for (Evidence& evidence : check_terminals(site_)) add(std::move(evidence));
    for (Evidence& evidence : check_loop_contacts(site_)) add(std::move(evidence));
    return std::move(all_);
  }

 private:
  void add(Evidence evidence) { all_.push_back(std::move(evidence)); }

  void present(const std::string& id, const site::Zone& zone) {
    bool any = false;
    for (const auto& [trigger_id, trigger] : site_.triggers) any = any || trigger.zone.id == id;
    if (any) return add(holds(id, "trigger_present"));
    if (!zone.type.known()) return add(open_question(id, "trigger_present", zone.type.pointer));
    if (*zone.type.value == ZoneType::hold_up) {
      Evidence evidence = about(id, "trigger_present", Verdict::unanswered);
      evidence.says = say::hold_up_without_picture();
      return add(evidence);
    }
    if (!site::wants_picture(*zone.type.value)) return;
    for (const auto& [trigger_id, trigger] : site_.triggers) {  // one that may be this zone's
      if (trigger.zone.unknown()) return add(open_question(id, "trigger_present", trigger.zone.pointer));
    }
    add(breaks(id, "trigger_present", say::no_trigger()));
  }

  /// What the zone can give at all. A circuit for fire or hold-up is never tapped: a tap can stop it from calling help.
  void possible(const std::string& id, const site::Trigger& trigger) {
    const site::Zone& zone = site_.zones.at(trigger.zone.id);
    const char* check = "source_possible";
    if (!trigger.source.known()) return add(open_question(trigger.zone.id, check, trigger.source.pointer));
    if (trigger.source.is(TriggerSource::loop_tap)) {  // what is broken whatever is unknown beside it comes first
      if (zone.type.is(ZoneType::fire)) return add(breaks(trigger.zone.id, check, say::never_tap_fire()));
      if (zone.type.is(ZoneType::hold_up)) return add(breaks(trigger.zone.id, check, say::never_tap_hold_up()));
      if (zone.medium.is(site::Medium::wireless)) return add(breaks(trigger.zone.id, check, say::no_loop_wireless()));
      if (zone.medium.is(site::Medium::addressable))
        return add(breaks(trigger.zone.id, check, say::no_loop_addressable()));
    }
    if (!zone.type.known()) return add(open_question(trigger.zone.id, check, zone.type.pointer));
    if (!zone.medium.known()) return add(open_question(trigger.zone.id, check, zone.medium.pointer));
    if (trigger.source.is(TriggerSource::live_view))
      return add(breaks(trigger.zone.id, check, say::live_view_triggers_nothing()));
    if (trigger.source.is(TriggerSource::camera_analytics)) return analytics(id, trigger);
    if (!trigger.source.is(TriggerSource::loop_tap)) return add(holds(trigger.zone.id, check));
    terminal_can(id, trigger);
  }

  /// Terminals whose level a steady measuring input cannot read, whatever the ranges.
  void terminal_can(const std::string& id, const site::Trigger& trigger) {
    const site::Part* part = site::part_of(site_, site::zone_terminal_of(site_, trigger.zone.id));
    const char* check = "source_possible";
    if (part == nullptr || !part->zone_terminal)
      return add(holds(trigger.zone.id, check));  // its levels are unanswered
    const site::ZoneTerminalSpec& spec = *part->zone_terminal;
    if (spec.refers_to.is(site::TerminalReference::matrix))
      return add(breaks(trigger.zone.id, check, say::matrix_cannot_be_tapped()));
    if (!spec.drive.known()) return add(open_question(trigger.zone.id, check, spec.drive.pointer));
    if (spec.drive.is(site::TerminalDrive::steady)) return add(holds(trigger.zone.id, check));
    // What can be read of a pulsed terminal its levels tell; of a source that is no voltage behind a resistance they do
    // not.
    const bool source = !spec.refers_to.is(site::TerminalReference::current_source) &&
                        !spec.refers_to.is(site::TerminalReference::optocoupled);
    if (source) return add(holds(trigger.zone.id, check));
    add(later(id, trigger, say::pulsed_terminal_not_judged()));
  }

  /// The camera has to have analytics, the unit to take their triggers, and the one to reach the other.
  void analytics(const std::string& id, const site::Trigger& trigger) {
    const char* check = "source_possible";
    std::vector<chain::Gap> gaps;
    const std::vector<std::string> cameras = chain::cameras_of_trigger(site_, id, gaps);
    const site::UnitSpec* unit = site::unit_spec(site_, trigger.unit.id);
    if (cameras.empty() || unit == nullptr)
      return add(open_question(trigger.zone.id, check, gaps.empty() ? trigger.unit.pointer : gaps.front().pointer));
    const site::Camera& camera = site_.cameras.at(cameras.front());
    const auto* spec = site::spec_of(site_, camera.part, &site::Part::camera);
    if (spec == nullptr) return add(open_question(trigger.zone.id, check, camera.part.pointer));
    const std::string name = site::called(site_.cameras, cameras.front());
    if (spec->analytics_s.none()) return add(breaks(trigger.zone.id, check, say::no_analytics(name)));
    if (unit->network_triggers.known() && !unit->network_triggers.yes())
      return add(breaks(trigger.zone.id, check, say::no_network_triggers(site::called(site_.units, trigger.unit.id))));
    const carriage::Reach reach = routes_.reach(cameras.front(), trigger.unit.id);
    if (reach.how == carriage::Reach::How::no_way)
      return add(breaks(trigger.zone.id, check,
                        say::analytics_do_not_reach(name, site::called(site_.units, trigger.unit.id))));
    if (!spec->analytics_s.known()) return add(open_question(trigger.zone.id, check, spec->analytics_s.pointer));
    if (!unit->network_triggers.known())
      return add(open_question(trigger.zone.id, check, unit->network_triggers.pointer));
    if (!reach.gaps.empty()) return add(open_question(trigger.zone.id, check, reach.gaps.front().pointer));
    add(holds(trigger.zone.id, check));
  }

  /// A source of which no engine of this version says whether it works.
  static Evidence later(const std::string& id, const site::Trigger& trigger, Message says) {
    Evidence evidence = about(trigger.zone.id, "source_possible", Verdict::unanswered);
    evidence.gaps.push_back({"/triggers/" + id + "/source", "later_issue"});
    evidence.says = std::move(says);
    return evidence;
  }

  void right_terminal(const site::Trigger& trigger) {
    if (!trigger.source.is(TriggerSource::loop_tap)) return;
    const char* check = "right_terminal";
    if (!trigger.at_panel.known()) return add(open_question(trigger.zone.id, check, trigger.at_panel.pointer));
    if (!trigger.at_input.known()) return add(open_question(trigger.zone.id, check, trigger.at_input.pointer));
    const std::string there = site::tapped_zone(site_, trigger);
    const std::string owner = site::loop_owner(site_, trigger.zone.id);
    if (owner.empty()) return add(open_question(trigger.zone.id, check, site_.zones.at(trigger.zone.id).panel.pointer));
    if (there == owner) return add(holds(trigger.zone.id, check));
    const site::Zone& zone = site_.zones.at(owner);
    const bool other_panel = zone.panel.known() && zone.panel.id != trigger.at_panel.id;
    if (there.empty() && !other_panel && !(zone.panel.known() && zone.input.known())) {
      return add(open_question(trigger.zone.id, check, zone.panel.known() ? zone.input.pointer : zone.panel.pointer));
    }
    if (there.empty()) return add(breaks(trigger.zone.id, check, say::tap_on_empty_terminal(*trigger.at_input.value)));
    add(breaks(trigger.zone.id, check, say::tap_on_other_zone(*trigger.at_input.value, site_.zones.at(there).name)));
  }

  void input(const std::string& id, const site::Trigger& trigger) {
    if (!site::has_wire(trigger)) return;
    const site::UnitSpec* spec = site::unit_spec(site_, trigger.unit.id);
    if (!trigger.input.known()) {
      add(open_question(trigger.zone.id, "input_exists", trigger.input.pointer));
    } else if (spec == nullptr || !spec->inputs.known()) {
      add(open_question(trigger.zone.id, "input_exists",
                        spec == nullptr ? unit_pointer(trigger) : spec->inputs.pointer));
    } else if (*trigger.input.value < 1 || *trigger.input.value > *spec->inputs.value) {
      add(breaks(trigger.zone.id, "input_exists", say::no_such_input(*trigger.input.value, *spec->inputs.value)));
    } else {
      add(holds(trigger.zone.id, "input_exists"));
    }
    used_once(id, trigger);
  }

  /// A trigger with a wire whose input or unit is not known may be on the same input.
  void used_once(const std::string& id, const site::Trigger& trigger) {
    const char* check = "input_used_once";
    if (!trigger.unit.known() || !trigger.input.known()) {
      const std::string& missing = trigger.unit.known() ? trigger.input.pointer : trigger.unit.pointer;
      return add(open_question(trigger.zone.id, check, missing));
    }
    const auto other = another(id, [&](const site::Trigger& t) {
      return site::has_wire(t) && t.unit.id == trigger.unit.id && t.input.value == trigger.input.value;
    });
    if (other) return add(breaks(trigger.zone.id, check, say::input_used_twice(*trigger.input.value, *other)));
    add(held_unless(trigger, check, may_share(id, trigger, [&](const site::Trigger& t) -> const std::string* {
                      if (t.source.known() && !site::has_wire(t)) return nullptr;
                      if (!t.input.known()) return &t.input.pointer;
                      return t.input.value == trigger.input.value ? missing_unit_or_source(t) : nullptr;
                    })));
  }

  void channel(const std::string& id, const site::Trigger& trigger) {
    add(channel_as_bound(trigger));
    const char* check = "channel_used_once";
    if (!trigger.channel.known() || !trigger.unit.known()) {
      const std::string& missing = trigger.unit.known() ? trigger.channel.pointer : trigger.unit.pointer;
      return add(open_question(trigger.zone.id, check, missing));
    }
    const auto other = another(id, [&](const site::Trigger& t) {
      return t.unit.id == trigger.unit.id && t.channel.value == trigger.channel.value;
    });
    if (other) return add(breaks(trigger.zone.id, check, say::channel_used_twice(*trigger.channel.value, *other)));
    add(held_unless(trigger, check, may_share(id, trigger, [&](const site::Trigger& t) -> const std::string* {
                      if (!t.channel.known()) return &t.channel.pointer;
                      return t.channel.value == trigger.channel.value && !t.unit.known() ? &t.unit.pointer : nullptr;
                    })));
  }

  static const std::string* missing_unit_or_source(const site::Trigger& trigger) {
    if (!trigger.source.known()) return &trigger.source.pointer;
    return trigger.unit.known() ? nullptr : &trigger.unit.pointer;
  }

  /// What is missing of another trigger on the same unit, or on one that is not known; null where none may share.
  const std::string* may_share(const std::string& id, const site::Trigger& trigger,
                               const std::function<const std::string*(const site::Trigger&)>& missing) const {
    for (const auto& [other_id, other] : site_.triggers) {
      if (other_id == id || (other.unit.known() && other.unit.id != trigger.unit.id)) continue;
      if (const std::string* pointer = missing(other)) return pointer;
    }
    return nullptr;
  }

  static Evidence held_unless(const site::Trigger& trigger, const char* check, const std::string* missing) {
    return missing == nullptr ? holds(trigger.zone.id, check) : open_question(trigger.zone.id, check, *missing);
  }

  Evidence channel_as_bound(const site::Trigger& trigger) const {
    const char* check = "channel_as_bound";
    const std::string& zone = trigger.zone.id;
    const site::UnitSpec* spec = site::unit_spec(site_, trigger.unit.id);
    if (!trigger.channel.known()) return open_question(zone, check, trigger.channel.pointer);
    if (spec == nullptr) return open_question(zone, check, unit_pointer(trigger));
    const long long channel = *trigger.channel.value;
    if (spec->channels.known() && (channel < 1 || channel > *spec->channels.value))
      return breaks(zone, check, say::no_such_channel(channel, *spec->channels.value));
    if (!spec->channel_binding.known()) return open_question(zone, check, spec->channel_binding.pointer);
    if (spec->channel_binding.is(site::ChannelBinding::fixed) && site::has_wire(trigger)) {
      if (!trigger.input.known()) return open_question(zone, check, trigger.input.pointer);
      if (*trigger.input.value != channel)
        return breaks(zone, check, say::channel_is_fixed(*trigger.input.value, channel));
    }
    if (!spec->channels.known()) return open_question(zone, check, spec->channels.pointer);
    for (const site::Ref& more : trigger.more_channels) {  // a unit keeps clips of its own channels
      const auto found = site_.channels.find(more.id);
      const site::Ref& unit = found == site_.channels.end() ? more : found->second.unit;
      if (!unit.known()) return open_question(zone, check, unit.pointer);
      if (unit.id != trigger.unit.id)
        return breaks(zone, check, say::channel_of_other_unit(more.id, site::called(site_.units, unit.id)));
    }
    return holds(zone, check);
  }

  /// What is missing where there is no data sheet: which unit it is, or which part the unit is.
  const std::string& unit_pointer(const site::Trigger& trigger) const {
    const auto unit = site_.units.find(trigger.unit.id);
    return unit == site_.units.end() ? trigger.unit.pointer : unit->second.part.pointer;
  }

  void output(const std::string& id, const site::Trigger& trigger) {
    if (!trigger.source.is(TriggerSource::following_output)) return;
    if (!trigger.output.known()) {
      add(open_question(trigger.zone.id, "output_follows_zone", trigger.output.pointer));
      return add(open_question(trigger.zone.id, "output_used_once", trigger.output.pointer));
    }
    follows(trigger);
    output_once(id, trigger);
  }

  /// Another entry of the same numbered output of the same panel: one screw, entered twice.
  std::optional<std::string> same_screw(const std::string& id) const {
    const auto own = site_.outputs.find(id);
    if (own == site_.outputs.end() || !own->second.number.known() || !own->second.panel.known()) return std::nullopt;
    for (const auto& [other, output] : site_.outputs) {
      if (other != id && output.panel.id == own->second.panel.id && output.number.value == own->second.number.value)
        return site::name_or_id(output.name, other);
    }
    return std::nullopt;
  }

  /// Another trigger or unit whose output is not known may be on the same one.
  void output_once(const std::string& id, const site::Trigger& trigger) {
    const char* check = "output_used_once";
    const auto follower = another(id, [&](const site::Trigger& t) { return t.output.id == trigger.output.id; });
    if (follower) return add(breaks(trigger.zone.id, check, say::output_used_twice(*follower)));
    if (const auto twin = same_screw(trigger.output.id))
      return add(breaks(trigger.zone.id, check, say::output_entered_twice(*twin)));
    const std::string* missing = nullptr;
    for (const auto& [unit_id, unit] : site_.units) {
      if (unit.arming.output.unknown()) missing = &unit.arming.output.pointer;
      if (unit.arming.output.id != trigger.output.id) continue;
      const std::string& arms = site::name_or_id(unit.name, unit_id);
      return add(breaks(trigger.zone.id, check, say::output_used_twice(arms)));
    }
    for (const auto& [other_id, other] : site_.triggers) {
      if (other_id != id && other.source.is(TriggerSource::following_output) && other.output.unknown())
        missing = &other.output.pointer;
    }
    add(held_unless(trigger, check, missing));
  }

  /// An output that follows something else triggers for the wrong cause; alarm memory stays on after the first alarm.
  void follows(const site::Trigger& trigger) {
    const char* check = "output_follows_zone";
    const auto found = site_.outputs.find(trigger.output.id);
    if (found == site_.outputs.end()) return add(open_question(trigger.zone.id, check, trigger.output.pointer));
    const site::Output& output = found->second;
    if (!output.follows.known()) return add(open_question(trigger.zone.id, check, output.follows.pointer));
    if (!output.follows.is(site::FollowedEvent::zone_state))
      return add(breaks(trigger.zone.id, check, say::output_follows_no_zone(output.name)));
    if (!output.zone.known()) return add(open_question(trigger.zone.id, check, output.zone.pointer));
    if (output.zone.id == trigger.zone.id) return add(holds(trigger.zone.id, check));
    add(breaks(trigger.zone.id, check,
               say::output_follows_other_zone(output.name, site_.zones.at(output.zone.id).name)));
  }

  /// What people call the zone of another trigger that fits; nothing where there is none.
  std::optional<std::string> another(const std::string& id,
                                     const std::function<bool(const site::Trigger&)>& fits) const {
    for (const auto& [other, trigger] : site_.triggers) {
      if (other == id || !fits(trigger)) continue;
      const auto zone = site_.zones.find(trigger.zone.id);
      return zone == site_.zones.end() || zone->second.name.empty() ? other : zone->second.name;
    }
    return std::nullopt;
  }

  /// Whether both zones are numbered by one panel: all are, but for those of two panels that are no expanders.
  bool numbered_together(const site::Zone& a, const site::Zone& b) const {
    const auto main_panel = [&](const site::Zone& zone) {
      const auto panel = site_.panels.find(zone.panel.id);
      const site::Part* part = panel == site_.panels.end() ? nullptr : site::part_of(site_, panel->second.part);
      return part != nullptr && part->kind.is(site::PartKind::panel);
    };
    return !(a.panel.known() && b.panel.known() && a.panel.id != b.panel.id && main_panel(a) && main_panel(b));
  }

  /// By its number the operator tells a zone from the others; its name alone may be that of another, but that misleads.
  void told_apart(const std::string& id) {
    const site::Zone& zone = site_.zones.at(id);
    if (!zone.number.known()) return;  // zone_number_agrees asks for it
    std::optional<Evidence> number, name;
    for (const auto& [other_id, other] : site_.zones) {
      if (other_id == id || !numbered_together(zone, other)) continue;
      const std::string called = other.name.empty() ? other_id : other.name;
      if (other.number.known() && other.number.value == zone.number.value)
        number = breaks(id, "zone_number_own", say::number_used_twice(*zone.number.value, called));
      if (!other.number.known() && !number) number = open_question(id, "zone_number_own", other.number.pointer);
      if (!zone.name.empty() && other.name == zone.name) {
        name = about(id, "zone_name_own", Verdict::thin);
        name->says = say::name_used_twice(zone.name, id, other_id);
      }
    }
    add(number.value_or(holds(id, "zone_number_own")));
    add(name.value_or(holds(id, "zone_name_own")));
  }

  /// The operator reads number, name and type from the unit; they must be the panel's own.
  void names(const std::string& trigger_id, const site::Trigger& trigger) {
    const site::Zone& zone = site_.zones.at(trigger.zone.id);
    const std::string& id = trigger.zone.id;
    const site::InputSetting& set = trigger.setting;
    if (!zone.number.known() || !set.zone_number.known()) {
      add(open_question(id, "zone_number_agrees", zone.number.known() ? set.zone_number.pointer : zone.number.pointer));
    } else if (zone.number.value != set.zone_number.value) {
      add(breaks(id, "zone_number_agrees", say::number_differs(*set.zone_number.value, *zone.number.value)));
    } else {
      add(holds(id, "zone_number_agrees"));
    }
    if (zone.name.empty() || set.zone_name.empty()) {
      add(open_question(
          id, "zone_name_agrees",
          zone.name.empty() ? "/zones/" + id + "/name" : "/triggers/" + trigger_id + "/setting/zone_name"));
    } else if (zone.name != set.zone_name) {
      add(breaks(id, "zone_name_agrees", say::name_differs(set.zone_name, zone.name)));
    } else {
      add(holds(id, "zone_name_agrees"));
    }
    if (!zone.type.known() || !set.zone_type.known()) {
      add(open_question(id, "zone_type_agrees", zone.type.known() ? set.zone_type.pointer : zone.type.pointer));
    } else if (zone.type.value != set.zone_type.value) {
      add(breaks(id, "zone_type_agrees", say::type_differs()));
    } else {
      add(holds(id, "zone_type_agrees"));
    }
  }

  const site::Site& site_;
  carriage::Routes routes_;
  std::vector<Evidence> all_;
};

}  // namespace

std::vector<Evidence> check_pairing(const site::Site& site) { return Pairing(site).run(); }

}  // namespace zoneproof::proof
