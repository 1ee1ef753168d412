// An output of the panel that follows the zone, in the place of a tap: what it is programmed to and where its wire
// goes.
#include <algorithm>

#include "electric/naming.hpp"
#include "messages/remedies.hpp"
#include "remedies/candidate.hpp"
#include "remedies/site_change.hpp"
#include "site/relations.hpp"

namespace zoneproof::remedies {

namespace {

using electric::thing_words;
using electric::zone_words;
using site::OutputKind;
using site::Site;

/// Whether the panel may be programmed, as far as is known.
bool programmable(const site::Access& access) {
  return access.locked.known() && !access.locked.yes() && access.installer_code.is(site::KnownState::known) &&
         access.free_outputs.is(site::KnownState::known);
}

/// Outputs of the panel that can follow a zone, and of which it was found that nothing uses them.
std::vector<std::string> free_outputs(const Site& site, const std::string& panel) {
  const site::PanelSpec* spec = site::panel_spec(site, panel);
  if (spec == nullptr || !programmable(site.panels.at(panel).access)) return {};
  std::vector<std::string> ids;
  for (const auto& [id, found] : site.panels.at(panel).outputs_found) {
    const auto output = spec->outputs.find(id);
    if (output == spec->outputs.end() || !found.use.is(site::OutputUse::free)) continue;
    const site::PanelOutputSpec& own = output->second;
    if (!own.follows_zone.yes() || !own.number.known() || !own.output.kind.known()) continue;
    const bool entered = std::any_of(site.outputs.begin(), site.outputs.end(), [&, &has = own](const auto& entry) {
      return entry.second.panel.id == panel &&
             (!entry.second.number.known() || entry.second.number.value == has.number.value);
    });
    if (!entered) ids.push_back(id);
  }
  return ids;
}

class FollowingOutput {
 public:
  FollowingOutput(const Site& site, const std::string& trigger, const std::string& output)
      : site_(site),
        trigger_(trigger),
        panel_(site.triggers.at(trigger).at_panel.id),
        output_(output),
        spec_(site::panel_spec(site, panel_)->outputs.at(output)),
        relay_(spec_.output.kind.is(OutputKind::relay)) {}

  /// The wire goes from the zone's terminal to the output's; a relay's needs a second core for its way back.
  std::optional<Candidate> make(const ShelfResistor* resistor) const {
    const site::Trigger& now = site_.triggers.at(trigger_);
    const auto cable = site_.cables.find(now.cable.id);
    if (cable == site_.cables.end()) return std::nullopt;
    if (relay_ && spare_cores(site_, cable->first).value_or(0) < cable->second.cores_in_parallel.value.value_or(0))
      return std::nullopt;
    Candidate made{Kind::following_output,
                   words(resistor),
                   site_,
                   {{}, {{"choose_setting_panel"}, {"move_wire"}, {"choose_setting"}, {"test_zone"}}}};
    made.takes_wire_off = true;
    program(made.changed, add_part(made.changed));
    wire(made.changed.triggers.at(trigger_), resistor);
    if (resistor != nullptr) {
      made.bill.parts.push_back({resistor->part});
      made.bill.work.push_back({"fit_resistor"});
    }
    if (relay_) made.bill.work.push_back({"terminate", 2.0});
    made.to_fit = {trigger_};
    return made;
  }

 private:
  bool switches_positive() const { return spec_.output.kind.is(OutputKind::switched_positive); }
  const site::Panel& panel() const { return site_.panels.at(panel_); }
  const std::string& zone() const { return site_.triggers.at(trigger_).zone.id; }
  std::string name() const { return site::name_or_id(spec_.name, output_); }

  Message words(const ShelfResistor* resistor) const {
    const std::string unit = thing_words(site_, site_.triggers.at(trigger_).unit.id);
    const std::string panel = thing_words(site_, panel_), zone = zone_words(site_, this->zone());
    if (resistor == nullptr) return say::remedy_following(name(), panel, zone, unit);
    const Measure ohm{resistor->ohm.nominal, "ohm"};
    return switches_positive() ? say::remedy_following_pulldown(name(), panel, zone, unit, ohm)
                               : say::remedy_following_pullup(name(), panel, zone, unit, ohm);
  }

  /// What the panel's sheet says of its output, as a part of this site's own.
  std::string add_part(Site& site) const {
    const std::string id = fresh_id(site, panel().part.id + "_" + output_);
    const site::Part& of = site.parts.at(panel().part.id);
    site::Part part;
    part.name = text(say::remedy_output_part(of.name, name()));
    part.kind.value = site::PartKind::output;
    part.source = of.source;
    part.origin = of.origin;
    part.output = spec_.output;
    site.parts[id] = std::move(part);
    return id;
  }

  /// On at rest, so that a cut wire, a dead panel and an alarm look the same to the unit.
  void program(Site& site, const std::string& part) const {
    site::Output& output = site.outputs[output_id()];
    output.name = text(say::remedy_output_name(zone_words(site_, zone())));
    output.panel = to(panel_);
    output.number.value = spec_.number.value;
    output.part = to(part);
    output.follows.value = site::FollowedEvent::zone_state;
    output.zone = to(zone());
    output.active_when.value = site::ActiveWhen::normal;
    output.mode.value = site::OutputMode::level;
    output.hold_s = site::Value::absent();
    if (relay_) output.relay_contact_used.value = site::RestPosition::open;
    site.panels.at(panel_).outputs_found.at(output_).use.value = site::OutputUse::used;
  }

  void wire(site::Trigger& trigger, const ShelfResistor* resistor) const {
    take_off_loop(trigger);
    trigger.source.value = site::TriggerSource::following_output;
    trigger.output.id = output_id();
    if (relay_) trigger.contact_to.value = site::Level::low;
    if (resistor != nullptr)
      (switches_positive() ? trigger.pulldown_ohm : trigger.pullup_ohm).replace_with(resistor->ohm);
  }

  std::string output_id() const { return fresh_id(site_, panel_ + "_" + output_); }

  const Site& site_;
  std::string trigger_, panel_, output_;
  const site::PanelOutputSpec& spec_;
  bool relay_;
};

}  // namespace

void following_output_ladders(const Site& site, const std::string& trigger, std::vector<Ladder>& all) {
  const std::string panel = site.triggers.at(trigger).at_panel.id;
  const std::string owner = site::loop_owner(site, site.triggers.at(trigger).zone.id);
  if (owner.empty() || site.zones.at(owner).panel.id != panel || site.panels.count(panel) == 0) return;
  for (const std::string& output : free_outputs(site, panel)) {
    const std::size_t resistors = shelf_resistors().size();
    all.push_back({"following/" + trigger + "/" + output, resistors + 1,
                   [&site, trigger, output, resistors](std::size_t size) {
                     // Without a resistor first, then from the largest down: the smallest current that does.
                     const ShelfResistor* fitted = size == 0 ? nullptr : &shelf_resistors()[resistors - size];
                     return FollowingOutput(site, trigger, output).make(fitted);
                   },
                   Works::somewhere, true, true});
  }
}

}  // namespace zoneproof::remedies
