#include "electric/rail.hpp"

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

Tracked open_volts(const site::Site& site, const site::ZoneTerminalSpec& spec, const std::string& panel) {
  if (spec.source.is(site::TerminalSource::raw_rail)) {
    return scaled(tracked(spec.source_pct, 100.0), 0.01) * rail_volts(site, panel);
  }
  const std::optional<MeasuredSource> measured = measured_source(site, spec, panel);
  return measured && measured->volts ? *measured->volts : tracked(spec.source_V, 0.0);
}

}  // namespace zoneproof::electric
