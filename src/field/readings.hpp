#pragma once
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "electric/ohmmeter.hpp"
#include "electric/zone_circuit.hpp"
#include "field/step.hpp"

/// What meters are to show, from the one circuit at all corners (Expected of step.hpp).
namespace zoneproof::field {

/// The site before any unit was brought to it: no units, no trigger wires, nothing that joins their negatives.
site::Site without_units(const site::Site& site);
/// The site once one unit is gone again, its trigger wires and what joined its negative with it.
site::Site without_unit(const site::Site& site, const std::string& unit);

/// The site just after its mains went off: the open-circuit voltage of each battery is anything from charged and rested
/// up to what its supply held it at, for the charge on its plates' surface goes within minutes to hours. The upper end
/// is the charging voltage itself, which no battery exceeds: safe, whatever the age and the load.
site::Site just_off_mains(const site::Site& site);
/// The site just after its mains came back: the output of each supply with a battery is anything from what it gives
/// onto a flat battery up to what it gives with a charged one.
site::Site just_on_mains(const site::Site& site);

/// At the two screws of a zone and at the input of its trigger; nothing where there is no such place. At a pulsed
/// terminal what a direct-current meter shows, the mean over a period.
struct ZoneReadings {
  std::optional<Expected> panel, unit;
};
ZoneReadings zone_readings(const site::Site& site, const electric::ZoneSituation& situation);

/// The probes at the panel: which screw is the higher one.
bool reads_downward(const site::Site& site, const std::string& zone);

/// The supplies of a site and all that they feed, for many readings of the same site: what they have in common is built
/// once for each condition. Of one thread; the site is referred to.
class SupplySide {
 public:
  explicit SupplySide(const site::Site& site) : site_(site) {}

  /// Between the poles of something that is fed, or of a supply. Several conditions: anything from the lowest to the
  /// highest of them. Cost: linear in the site, and a worst case of what hangs on that supply.
  Expected volts_at(const std::string& thing, const std::vector<electric::SupplyCondition>& conditions);
  /// The negative of a unit against that of a panel.
  Expected negative_shift(const std::string& unit, const std::string& panel, electric::SupplyCondition condition);

 private:
  struct Built {
    electric::Base base;
    std::map<std::string, int> parts;  ///< of each supply: which others hang together with it
  };
  const Built& built(electric::SupplyCondition condition);

  const site::Site& site_;
  std::map<electric::SupplyCondition, Built> built_;
};

/// One reading, where no other of the same site is wanted.
Expected volts_at(const site::Site& site, const std::string& thing,
                  const std::vector<electric::SupplyCondition>& conditions);
/// At the end of the supply pair of a unit that is not plugged in.
Expected volts_at_plug(const site::Site& site, const std::string& unit, electric::SupplyCondition condition);
Expected negative_shift(const site::Site& site, const std::string& unit, const std::string& panel,
                        electric::SupplyCondition condition);
/// At the arming input of a unit.
Expected arming_volts(const site::Site& site, const std::string& unit, bool armed);
/// At the posts of a battery that has just been taken off, in a state in which it can go back.
Expected battery_volts(const site::Site& site, const std::string& battery);

Expected expected_of(const electric::Ohms& ohms);
/// At least the lowest: of what is to be open.
Expected at_least(Expected expected);
/// Of what hangs on a reference that nobody filled: a part, a supply.
Expected not_filled(const site::Ref& ref, const std::string& unit);
/// Up to the highest of a value, in its unit.
Expected up_to(const site::Value& value, const std::string& unit);

}  // namespace zoneproof::field
