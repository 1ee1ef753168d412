#include "electric/fault_view.hpp"

#include <algorithm>
#include <cmath>

#include "electric/element_name.hpp"
#include "electric/setting.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

namespace {

using circuit::Node;

class Viewer {
 public:
  Viewer(const site::Site& site, const SiteCircuit& circuit, const std::vector<double>& voltage)
      : site_(site), circuit_(circuit), voltage_(voltage) {}

  SiteView run() {
    supplies();
    for (const auto& [zone, terminal] : circuit_.terminals) view_.panel[zone] = panel_reads(zone, terminal);
    for (const auto& [id, input] : circuit_.inputs) view_.triggers[id] = outside_of_normal(id, input);
    for (const auto& [unit, entry] : site_.units) view_.armed[unit] = armed(unit);
    return std::move(view_);
  }

 private:
  double volts(Node node) const { return voltage_.at(static_cast<std::size_t>(node)); }
  double volts(Node plus, Node minus) const { return volts(plus) - volts(minus); }

  /// NaN (nothing feeds it) counts as none.
  void fed(const std::string& id, const site::Value& min, const site::Value& max) {
    const auto poles = circuit_.backbone.poles.find(id);
    if (poles == circuit_.backbone.poles.end()) return;
    const double over = volts(poles->second.plus, poles->second.minus);
    const bool low = min.known() && !(over >= min.nominal), high = max.known() && over > max.nominal;
    if (low || high) view_.without_supply.insert(id);
  }

  void supplies() {
    for (const auto& [id, panel] : site_.panels) {
      const site::PanelSpec* spec = site::spec_of(site_, panel.part, &site::Part::panel);
      if (spec == nullptr) spec = site::spec_of(site_, panel.part, &site::Part::expander);
      if (spec != nullptr) fed(id, spec->supply_min_V, spec->supply_max_V);
    }
    for (const auto& [id, unit] : site_.units) {
      if (const site::UnitSpec* spec = site::unit_spec(site_, id)) fed(id, spec->supply_min_V, spec->supply_max_V);
    }
    for (const auto& [id, detector] : site_.detectors) {
      const site::DetectorSpec* spec = site::spec_of(site_, detector.part, &site::Part::detector);
      if (spec != nullptr && spec->supply_min_V.known()) fed(id, spec->supply_min_V, spec->supply_max_V);
    }
  }

  std::optional<site::Reading> panel_reads(const std::string& zone, const Terminal& terminal) const {
    if (view_.without_supply.count(site_.zones.at(zone).panel.id) != 0) return std::nullopt;
    const double level = terminal.sign * volts(terminal.sense, terminal.against);
    const double scale = terminal.sign * volts(terminal.source, terminal.against);
    for (const auto& [id, window] : terminal.spec->windows) {
      const double min = window.min_pct.known() ? window.min_pct.nominal / 100.0 * scale
                         : window.min_V.known() ? window.min_V.nominal
                                                : -HUGE_VAL;
      const double max = window.max_pct.known() ? window.max_pct.nominal / 100.0 * scale
                         : window.max_V.known() ? window.max_V.nominal
                                                : HUGE_VAL;
      if (window.means.known() && level >= min && level <= max) return *window.means.value;
    }
    return std::nullopt;
  }

  /// As the setting stands at its nominal values; a unit without supply sees nothing.
  bool outside_of_normal(const std::string& id, const UnitInput& input) const {
    const site::Trigger& trigger = site_.triggers.at(id);
    if (view_.without_supply.count(trigger.unit.id) != 0) return false;
    const double level = volts(input.point, input.minus);
    if (std::isnan(level)) return false;
    const Setting setting = setting_of(site_, id);
    if (setting.certain_alarm) return inside(*setting.certain_alarm, level);
    return !inside(setting.certainly_normal, level);
  }
  static bool inside(const NormalRange& range, double level) {
    return level >= range.min_V.value_or(-HUGE_VAL) && level <= range.max_V.value_or(HUGE_VAL);
  }

  std::optional<bool> armed(const std::string& unit) const {
    const site::UnitSpec* spec = site::unit_spec(site_, unit);
    const auto input = circuit_.wiring.network.find_node(part_name(unit, "arm"));
    const auto poles = circuit_.backbone.poles.find(unit);
    const site::Arming& arming = site_.units.at(unit).arming;
    if (spec == nullptr || !input || poles == circuit_.backbone.poles.end() || !arming.armed_level.known())
      return std::nullopt;
    const double level = volts(*input, poles->second.minus);
    const bool high = spec->arming.high_min_V.known() && level >= spec->arming.high_min_V.nominal;
    const bool low = spec->arming.low_max_V.known() && level <= spec->arming.low_max_V.nominal;
    if (high == low) return std::nullopt;  // between both, or no voltage at all
    return high == arming.armed_level.is(site::Level::high);
  }

  const site::Site& site_;
  const SiteCircuit& circuit_;
  const std::vector<double>& voltage_;
  SiteView view_;
};

}  // namespace

SiteView view_of(const site::Site& site, const SiteCircuit& circuit, const std::vector<double>& voltage) {
  return Viewer(site, circuit, voltage).run();
}

SolvedSite::SolvedSite(const site::Site& site, const SiteSituation& situation)
    : site_(&site),
      circuit_(std::make_unique<SiteCircuit>(build_site_circuit(site, situation))),
      variations_(std::make_unique<circuit::Variations>(circuit_->wiring.network)) {}

SiteView SolvedSite::view(const std::vector<circuit::Change>& changes, long long& fresh) const {
  const circuit::Varied varied = variations_->with(changes);
  fresh += varied.fresh ? 1 : 0;
  return view_of(*site_, *circuit_, varied.voltage);
}

std::optional<std::vector<circuit::Change>> movement_of(const SiteCircuit& rest, const SiteCircuit& moved) {
  const auto& before = rest.wiring.network.elements();
  const auto& after = moved.wiring.network.elements();
  if (before.size() != after.size()) return std::nullopt;
  std::vector<circuit::Change> changes;
  for (std::size_t e = 0; e < before.size(); ++e) {
    if (before[e].name != after[e].name || before[e].kind != after[e].kind || before[e].from != after[e].from ||
        before[e].to != after[e].to)
      return std::nullopt;
    if (before[e].value.nominal == after[e].value.nominal) continue;
    if (before[e].kind != circuit::Kind::resistor) return std::nullopt;
    changes.push_back(circuit::Change::of(static_cast<circuit::ElementIndex>(e), after[e].value.nominal));
  }
  return changes;
}

}  // namespace zoneproof::electric
