#include "proof/programming.hpp"

#include <set>

#include "messages/proof.hpp"
#include "proof/agreement.hpp"
#include "site/relations.hpp"

namespace zoneproof::proof {

namespace {

using chain::Evidence;
using site::KnownState;

constexpr const char* kProgrammable = "output_programmable";

/// The panels of the outputs that a trigger needs, and where it is missing which output or whose it is.
struct Programming {
  std::set<std::string> panels;
  std::set<std::string> missing;
};

Programming needed_by(const site::Site& site, const site::Trigger& trigger) {
  Programming needed;
  const auto add = [&](const site::Ref& ref) {
    if (ref.none()) return;
    const auto output = site.outputs.find(ref.id);
    if (output == site.outputs.end()) {
      needed.missing.insert(ref.pointer);
    } else if (!output->second.panel.known()) {
      needed.missing.insert(output->second.panel.pointer);
    } else {
      needed.panels.insert(output->second.panel.id);
    }
  };
  if (const auto unit = site.units.find(trigger.unit.id); unit != site.units.end()) add(unit->second.arming.output);
  if (trigger.source.is(site::TriggerSource::following_output)) add(trigger.output);
  return needed;
}

Evidence of_panel(const site::Site& site, const std::string& zone, const std::string& panel) {
  const site::Access& access = site.panels.at(panel).access;
  const std::string& name = site::called(site.panels, panel);
  if (access.locked.yes()) return breaks(zone, kProgrammable, say::panel_locked(name));
  if (access.installer_code.is(KnownState::unknown)) return breaks(zone, kProgrammable, say::panel_without_code(name));
  for (const std::string* missing :
       {access.locked.known() ? nullptr : &access.locked.pointer,
        access.installer_code.known() ? nullptr : &access.installer_code.pointer,
        access.free_outputs.is(KnownState::known) ? nullptr : &access.free_outputs.pointer}) {
    if (missing != nullptr) return open_question(zone, kProgrammable, *missing);
  }
  return holds(zone, kProgrammable);
}

}  // namespace

std::vector<Evidence> check_programming(const site::Site& site) {
  std::vector<Evidence> all;
  for (const auto& [id, trigger] : site.triggers) {
    if (site.zones.count(trigger.zone.id) == 0) continue;
    const Programming needed = needed_by(site, trigger);
    for (const std::string& panel : needed.panels) all.push_back(of_panel(site, trigger.zone.id, panel));
    for (const std::string& pointer : needed.missing)
      all.push_back(open_question(trigger.zone.id, kProgrammable, pointer));
  }
  return all;
}

}  // namespace zoneproof::proof
