#pragma once
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "site/model.hpp"

/// What hangs on what: questions that the site file answers by following references. No physics.
namespace zoneproof::site {

/// The part of a reference, if the site holds it; else null.
const Part* part_of(const Site& site, const Ref& part);

/// What the part's sheet says of it as a part of that kind, e.g. `spec_of(site, battery.part, &Part::battery)`; null
/// where the part is unknown or of another kind.
template <class Spec>
const Spec* spec_of(const Site& site, const Ref& ref, std::optional<Spec> Part::*kind) {
  const Part* part = part_of(site, ref);
  return part != nullptr && part->*kind ? &*(part->*kind) : nullptr;
}

/// The lens that a camera looks through, one of its own or the built-in one; null where it is not known.
const LensSpec* lens_of(const Site& site, const Camera& camera);

/// One contact of a detector, or null where detector, part or contact is unknown.
const ContactSpec* contact_spec(const Site& site, const Ref& detector, const std::string& contact);

/// What a person calls an object: its name, or its id where it has none.
inline const std::string& name_or_id(const std::string& name, const std::string& id) {
  return name.empty() ? id : name;
}
template <class T>
const std::string& called(const Map<T>& collection, const std::string& id) {
  const auto found = collection.find(id);
  return found == collection.end() ? id : name_or_id(found->second.name, id);
}

/// The supply at the root of a feed, through its junctions; empty where a reference is missing.
std::string supply_of(const Site& site, const Feed& feed);
/// The output of that supply which the feed hangs on; empty where unknown.
std::string output_of(const Site& site, const Feed& feed);

/// The junctions that a feed comes through, nearest first; a circle of them is gone through once.
std::vector<std::string> junctions_of(const Site& site, const Feed& feed);

/// Whether `supply` has any battery in the file.
bool has_battery(const Site& site, const std::string& supply);

/// Why `supply` may have another battery than those that name it: a battery that does not say whose it is, or a list
/// that is not marked as complete. Nothing where there certainly is none.
struct OpenList {
  std::string pointer;
  bool incomplete = false;  ///< the list; else what stands at the pointer is unknown
};
std::optional<OpenList> other_battery_possible(const Site& site, const std::string& supply);

/// Zones in the order in which people tell them: by number, those without one last, by id.
std::vector<std::string> zones_in_order(const Site& site);

/// The zone in whose entry the loop of `zone` stands: itself, or the other of two zones on a pair; empty: none.
std::string loop_owner(const Site& site, const std::string& zone);

/// The zone that really is on the terminal a loop tap is wired to; empty where unknown or where no zone is.
std::string tapped_zone(const Site& site, const Trigger& trigger);

/// Triggers meant for `zone`, and taps that hang on its terminal whatever they are meant for; in id order.
std::vector<std::string> triggers_of_zone(const Site& site, const std::string& zone);
std::vector<std::string> triggers_of_unit(const Site& site, const std::string& unit);

/// The panel or expander that has an output; empty where either is not known.
std::string panel_of_output(const Site& site, const Ref& output);
/// The thing at the far end of a trigger's wire: the panel of a loop that is tapped or of an output, the detector of a
/// contact; empty where it is not known, or no wire.
std::string source_of(const Site& site, const Trigger& trigger);

/// The area in which a device stands, whatever it is; empty: not known. Cameras have a mount and no area.
std::string area_of(const Site& site, const std::string& device);

/// Whether the source of the trigger is known and a wire: not a camera's analytics, nor nothing at all.
bool has_wire(const Trigger& trigger);

/// The first trigger, in id order, whose wire is on the same input of the same unit; itself where it is alone or its
/// input is unknown.
std::string first_on_input(const Site& site, const std::string& trigger);

/// Zones of these types are there to be verified by a picture; fire, technical and access zones are not.
bool wants_picture(ZoneType type);
/// Whether the alarm of `zone` is to reach the operator with a picture: a zone of such a type or of unknown type, and
/// any that a trigger names.
bool has_chain(const Site& site, const std::string& zone);

/// Detectors whose contacts stand in the loop of `zone` as its own, or feed one of its triggers, or that are of the
/// zone without a loop; in id order.
std::vector<std::string> detectors_of_zone(const Site& site, const std::string& zone);

/// The same the other way round, for all at once: the zones of each detector, in id order. Cost: linear in the site.
std::map<std::string, std::vector<std::string>> zones_of_detectors(const Site& site);

/// Those of them whose alarm is that of the zone: a lid switch says nothing of where somebody is, and a receiver stands
/// for detectors elsewhere.
std::vector<std::string> alarming_detectors_of_zone(const Site& site, const std::string& zone);

/// The part that describes the zone's terminal: its own, else its panel's.
Ref zone_terminal_of(const Site& site, const std::string& zone);

/// The data sheet of a panel or expander, or null where unknown.
const PanelSpec* panel_spec(const Site& site, const std::string& panel);

/// The unit's data sheet, or null where unknown.
const UnitSpec* unit_spec(const Site& site, const std::string& unit);

}  // namespace zoneproof::site
