#include "electric/levels.hpp"

#include <algorithm>

#include "base/parallel_for.hpp"
#include "electric/drive.hpp"
#include "electric/narrowed.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

namespace {

/// Every distinct percentage at which a window of the terminal ends.
std::vector<double> window_shares(const site::ZoneTerminalSpec& spec) {
  std::vector<double> shares;
  for (const auto& [id, window] : spec.windows) {
    if (window.min_pct.known()) shares.push_back(window.min_pct.high);
    if (window.max_pct.known()) shares.push_back(window.max_pct.low);
  }
  std::sort(shares.begin(), shares.end());
  shares.erase(std::unique(shares.begin(), shares.end()), shares.end());
  return shares;
}

/// Reading - pct/100 (source - against): zero where the reading stands exactly at that share.
circuit::Quantity less_share(const Terminal& terminal, double pct) {
  circuit::Quantity quantity = panel_reading(terminal);
  const double share = pct / 100.0;
  // Read downward from the positive, the whole source is the panel's negative seen from above.
  const circuit::Node top = terminal.source;
  const circuit::Node bottom = terminal.sign > 0 ? terminal.against : terminal.pulled_to;
  quantity.terms.push_back({top, -share});
  quantity.terms.push_back({bottom, share});
  return quantity;
}

bool panel_dead(const site::Site& site, const std::string& zone, SupplyCondition condition) {
  const auto panel = site.panels.find(site.zones.at(zone).panel.id);
  return panel != site.panels.end() && certainly_dead(site, panel->second.feed, condition);
}

/// Whether the unit of `trigger` has no supply in `condition`: then it is neither running nor starting.
bool unit_dead(const site::Site& site, const std::string& trigger, SupplyCondition condition) {
  const auto wire = site.triggers.find(trigger);
  const auto unit = wire == site.triggers.end() ? site.units.end() : site.units.find(wire->second.unit.id);
  return unit != site.units.end() && certainly_dead(site, unit->second.feed, condition);
}

/// What to solve for a zone: every state in every condition, the condition without the wire only once.
std::vector<ZoneSituation> situations_of(const site::Site& site, const std::string& zone, const std::string& trigger,
                                         const LevelScope& scope) {
  std::vector<ZoneSituation> all;
  for (SupplyCondition supply : scope.supplies.empty() ? supply_conditions(site) : scope.supplies) {
    if (panel_dead(site, zone, supply)) continue;
    for (UnitCondition unit : scope.units) {
      if (trigger.empty() && unit != UnitCondition::detached) continue;
      const bool alive_only = unit == UnitCondition::powered || unit == UnitCondition::booting;
      if (alive_only && unit_dead(site, trigger, supply)) continue;
      for (const ZoneState& state : reachable_states(site, zone)) all.push_back({zone, state, supply, trigger, unit});
    }
  }
  return all;
}

/// Leaves only what the readings rest on; nodes of terminal and input that are gone with the rest become -1.
void narrow_to(Level& level) {
  const std::vector<circuit::Node> now = narrow(level.circuit.wiring, level.quantities);
  const auto rename = [&](circuit::Node& node) { node = now.at(static_cast<std::size_t>(node)); };
  if (std::optional<Terminal>& terminal = level.circuit.terminal) {
    for (circuit::Node* node : {&terminal->point, &terminal->sense, &terminal->common, &terminal->source,
                                &terminal->against, &terminal->pulled_to})
      rename(*node);
  }
  if (std::optional<UnitInput>& input = level.circuit.input) {
    rename(input->point);
    rename(input->minus);
  }
}

}  // namespace

bool tells_alarm(const std::vector<Level>& levels) {
  return std::any_of(levels.begin(), levels.end(),
                     [](const Level& level) { return level.situation.state.happening == Happening::alarm; });
}

namespace {

Level level_on(const site::Site& site, const ZoneSituation& situation, Base base) {
  Level level;
  level.situation = situation;
  const std::string owner = site::loop_owner(site, situation.zone);
  level.second_of_pair = !owner.empty() && owner != situation.zone;
  level.circuit = build_zone_circuit(site, situation, DrivePart::on, std::move(base));
  if (level.circuit.terminal) {
    level.panel = level.quantities.size();
    level.quantities.push_back(panel_reading(*level.circuit.terminal));
    level.share_pct = window_shares(*level.circuit.terminal->spec);
    for (double pct : level.share_pct) {
      level.shares.push_back(level.quantities.size());
      level.quantities.push_back(less_share(*level.circuit.terminal, pct));
    }
  }
  if (level.circuit.input) {
    level.unit = level.quantities.size();
    level.quantities.push_back(unit_reading(*level.circuit.input));
  }
  // The parts of a period are networks of their own, in which the same nodes are read.
  if (!level.circuit.terminal || !pulsed(*level.circuit.terminal->spec)) narrow_to(level);
  level.solved = solve_wiring(level.circuit.wiring, level.quantities);
  follow_pulses(site, level);
  return level;
}

/// Situations that differ in the zone's state alone stand side by side: where each such run begins, and the end.
std::vector<std::size_t> runs_of(const std::vector<ZoneSituation>& situations) {
  std::vector<std::size_t> begins;
  for (std::size_t i = 0; i < situations.size(); ++i) {
    const bool same =
        i > 0 && situations[i].supply == situations[i - 1].supply && situations[i].unit == situations[i - 1].unit;
    if (!same) begins.push_back(i);
  }
  begins.push_back(situations.size());
  return begins;
}

}  // namespace

Level solve_level(const site::Site& site, const ZoneSituation& situation) {
  return level_on(site, situation, build_zone_base(site, situation));
}

std::vector<Level> zone_levels(const site::Site& site, const std::string& zone, const std::string& trigger,
                               const LevelScope& scope) {
  const std::vector<ZoneSituation> situations = situations_of(site, zone, trigger, scope);
  const std::vector<std::size_t> begins = runs_of(situations);
  std::vector<Level> levels(situations.size());
  parallel_for(begins.size() - 1, [&](std::size_t run) {
    const Base base = build_zone_base(site, situations[begins[run]]);
    for (std::size_t i = begins[run]; i < begins[run + 1]; ++i) levels[i] = level_on(site, situations[i], base);
  });
  return levels;
}

}  // namespace zoneproof::electric
