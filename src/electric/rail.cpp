#include "electric/rail.hpp"

#include "electric/drive.hpp"
#include "electric/terminal_readings.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

Tracked rail_volts(const site::Site& site, const std::string& panel) {
  const auto found = site.panels.find(panel);
  const std::string supply = found == site.panels.end() ? std::string() : site::supply_of(site, found->second.feed);
  const auto instance = site.supplies.find(supply);
  const site::SupplySpec* spec =
      instance == site.supplies.end() ? nullptr : site::spec_of(site, instance->second.part, &site::Part::supply);
  if (spec == nullptr) {
    const std::string pointer = found == site.panels.end() ? "/panels" : found->second.feed.from.pointer;
    return {circuit::Range{0.0, 0.0, 0.0}, {Basis{pointer, site::Origin::assumed, true, true, false}}};
  }
  Tracked volts = tracked(spec->mains_V, 0.0);
  for (const site::Value* other : {&spec->mains_no_battery_V, &spec->mains_flat_battery_V, &spec->cutoff_V}) {
    if (!other->none()) volts = spanning(volts, tracked(*other, 0.0));
  }
  return volts;
}

namespace {

Tracked rail_share(const site::Site& site, const site::ZoneTerminalSpec& spec, const std::string& panel) {
  return scaled(tracked(spec.source_pct, 100.0), 0.01) * rail_volts(site, panel);
}

/// All that a pulsed source can stand at: nothing where it lets go.
Tracked pulsed_volts(const site::Site& site, const site::ZoneTerminalSpec& spec, const std::string& panel) {
  Tracked on;
  if (spec.source.is(site::TerminalSource::raw_rail)) {
    on = rail_share(site, spec, panel);
  } else if (!spec.drive.is(site::TerminalDrive::alternating)) {
    on = tracked(spec.source_V, 0.0);
  }
  Tracked all = drive_volts(spec, DrivePart::on, on);
  for (DrivePart part : parts_of(spec)) {
    if (!lets_go(spec, part)) all = spanning(all, drive_volts(spec, part, on));
  }
  return all;
}

}  // namespace

Tracked open_volts(const site::Site& site, const site::ZoneTerminalSpec& spec, const std::string& panel) {
  if (pulsed(spec)) return pulsed_volts(site, spec, panel);
  if (spec.source.is(site::TerminalSource::raw_rail)) return rail_share(site, spec, panel);
  const std::optional<MeasuredSource> measured = measured_source(site, spec, panel);
  return measured && measured->volts ? *measured->volts : tracked(spec.source_V, 0.0);
}

}  // namespace zoneproof::electric
