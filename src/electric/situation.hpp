#pragma once
#include <string>
#include <vector>

/// The circumstances in which the one network is solved. Each has a word that appears in results and decks.
namespace zoneproof::electric {

/// What feeds the site. All supplies are in the same condition, as when mains fail for the whole building; but for
/// `supplies_apart`.
enum class SupplyCondition {
  mains,               ///< charged battery, the regulator's whole tolerance (temperature compensated or not)
  mains_no_battery,    ///< battery missing or dead: ripple valleys count
  mains_flat_battery,  ///< mains back onto an empty battery, which holds the rail low
  battery_full,        ///< mains gone, battery charged
  battery_cutoff,      ///< mains gone, battery where the supply disconnects it (or empty where it does not)
  supplies_apart       ///< each supply for itself anywhere between its battery's end and its highest on mains
};

/// The interface unit whose trigger wire is looked at.
enum class UnitCondition {
  powered,
  booting,          ///< takes its starting current, its inner rail anywhere from zero to full
  unpowered,        ///< no supply at all, the negative still joined
  negative_broken,  ///< the negative of its supply pair is open; bonds and taps remain
  detached          ///< the trigger wire is not connected: the panel as it was
};

/// What happens on the zone's pair. `alarm` is this zone's; the other two are for two zones on one pair.
enum class Happening { rest, alarm, second_alarm, both_alarm, masked, fault, tamper_open, shorted };

/// One reachable state of a zone: what happens, and which contact makes it (empty for rest, cut and short).
/// Other contacts of the same role are free: every reachable subset is a vertex of their ranges
/// (docs/methods/loops.md).
struct ZoneState {
  Happening happening = Happening::rest;
  std::string contact;

  std::string name() const;  ///< "rest", "alarm_pir", "tamper_open" ...: unique for a zone, fit for a deck
};

const char* word(SupplyCondition condition);
const char* word(UnitCondition condition);
const char* word(Happening happening);

/// Every condition there is; those that a site can be in are fewer: supply_conditions() of backbone.hpp.
const std::vector<SupplyCondition>& all_supply_conditions();
const std::vector<UnitCondition>& all_unit_conditions();

bool on_battery(SupplyCondition condition);

}  // namespace zoneproof::electric
