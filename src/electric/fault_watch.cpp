#include "electric/fault_watch.hpp"

#include <algorithm>
#include <cmath>

#include "electric/element_name.hpp"
#include "electric/setting.hpp"

namespace zoneproof::electric {

namespace {

using circuit::Node;

std::optional<double> known(const site::Value& value) {
  return value.known() ? std::optional(value.nominal) : std::nullopt;
}

class Watcher {
 public:
  Watcher(const site::Site& site, const SiteCircuit& circuit) : site_(site), circuit_(circuit) {}

  Watch run() {
    feeds();
    for (const auto& [zone, terminal] : circuit_.terminals) watch_.terminals[zone] = watched(terminal);
    for (const auto& [id, input] : circuit_.inputs) {
      const Setting setting = setting_of(site_, id);
      watch_.inputs[id] = {input.point, input.minus, setting.certain_alarm.value_or(setting.certainly_normal),
                           setting.certain_alarm.has_value()};
    }
    for (const auto& [unit, entry] : site_.units) arming(unit, entry.arming);
    return std::move(watch_);
  }

 private:
  void feed(const std::string& id, const site::Value& min, const site::Value& max) {
    const auto poles = circuit_.backbone.poles.find(id);
    if (poles == circuit_.backbone.poles.end()) return;
    watch_.feeds[id] = {poles->second.plus, poles->second.minus, known(min), known(max)};
  }

  void feeds() {
    for (const auto& entry : site_.panels) {
      if (const site::PanelSpec* spec = site::panel_spec(site_, entry.first))
        feed(entry.first, spec->supply_min_V, spec->supply_max_V);
    }
    for (const auto& [id, unit] : site_.units) {
      if (const site::UnitSpec* spec = site::unit_spec(site_, id)) feed(id, spec->supply_min_V, spec->supply_max_V);
    }
    for (const auto& [id, detector] : site_.detectors) {
      const site::DetectorSpec* spec = site::spec_of(site_, detector.part, &site::Part::detector);
      if (spec != nullptr && spec->supply_min_V.known()) feed(id, spec->supply_min_V, spec->supply_max_V);
    }
  }

  static WatchedTerminal watched(const Terminal& terminal) {
    WatchedTerminal made{terminal.sense, terminal.against, terminal.source, terminal.sign, {}};
    for (const auto& [id, window] : terminal.spec->windows) {
      WatchedTerminal::Window seen;
      if (window.means.known()) seen.means = *window.means.value;
      seen.min_is_share = window.min_pct.known();
      seen.max_is_share = window.max_pct.known();
      seen.min = seen.min_is_share ? window.min_pct.nominal / 100.0 : known(window.min_V).value_or(-HUGE_VAL);
      seen.max = seen.max_is_share ? window.max_pct.nominal / 100.0 : known(window.max_V).value_or(HUGE_VAL);
      made.windows.push_back(seen);
    }
    return made;
  }

  void arming(const std::string& unit, const site::Arming& arming) {
    const site::UnitSpec* spec = site::unit_spec(site_, unit);
    const auto input = circuit_.wiring.network.find_node(part_name(unit, "arm"));
    const auto poles = circuit_.backbone.poles.find(unit);
    if (spec == nullptr || !input || poles == circuit_.backbone.poles.end() || !arming.armed_level.known()) return;
    watch_.arming[unit] = {*input, poles->second.minus, known(spec->arming.high_min_V), known(spec->arming.low_max_V),
                           arming.armed_level.is(site::Level::high)};
  }

  const site::Site& site_;
  const SiteCircuit& circuit_;
  Watch watch_;
};

/// Gives each node that is looked at a position.
class Positions {
 public:
  explicit Positions(std::vector<Node>& nodes) : nodes_(nodes) {}

  void move(int& node) {
    const auto found = std::find(nodes_.begin(), nodes_.end(), node);
    const auto position = found - nodes_.begin();
    if (found == nodes_.end()) nodes_.push_back(node);
    node = static_cast<int>(position);
  }
  template <class... Nodes>
  void move(int& first, Nodes&... others) {
    move(first);
    (move(others), ...);
  }

 private:
  std::vector<Node>& nodes_;
};

}  // namespace

/// NaN (nothing feeds it) counts as none.
bool WatchedFeed::without_supply(Volts& volts) const {
  const bool low = min_V && !volts.at_least(volts.over(plus, minus), *min_V);
  return low || too_high(volts);
}

bool WatchedFeed::too_high(Volts& volts) const {
  const double level = volts.over(plus, minus);
  return max_V && !std::isnan(level) && !volts.at_most(level, *max_V);
}

std::optional<site::Reading> WatchedTerminal::reads(Volts& volts) const {
  const double level = sign * volts.over(sense, against);
  const double scale = sign * volts.over(source, against);
  for (const Window& window : windows) {
    const double min = window.min_is_share ? window.min * scale : window.min;
    const double max = window.max_is_share ? window.max * scale : window.max;
    if (window.means && volts.at_least(level, min) && volts.at_most(level, max)) return window.means;
  }
  return std::nullopt;
}

/// As the setting stands at its nominal values.
bool WatchedInput::outside_of_normal(Volts& volts) const {
  const double level = volts.over(point, minus);
  if (std::isnan(level)) return false;
  const bool inside =
      volts.at_least(level, range.min_V.value_or(-HUGE_VAL)) && volts.at_most(level, range.max_V.value_or(HUGE_VAL));
  return inside == of_alarm;
}

std::optional<bool> WatchedArming::armed(Volts& volts) const {
  const double level = volts.over(point, minus);
  const bool high = high_min_V && volts.at_least(level, *high_min_V);
  const bool low = low_max_V && volts.at_most(level, *low_max_V);
  if (high == low) return std::nullopt;  // between both, or no voltage at all
  return high == armed_is_high;
}

bool ZoneWatch::panel_right(Volts& volts) const {
  if (panel && panel->without_supply(volts)) return false;
  if (!terminal) return true;
  const std::optional<site::Reading> reading = terminal->reads(volts);
  return reading && std::find(right.begin(), right.end(), *reading) != right.end();
}

bool ZoneWatch::pictured(Volts& volts) const {
  return std::any_of(pictures.begin(), pictures.end(), [&](const Picture& picture) {
    if (picture.unit && picture.unit->without_supply(volts)) return false;
    return picture.arming.armed(volts) == true && (!picture.input || picture.input->outside_of_normal(volts));
  });
}

Unsupplied FeedWatch::without_supply(Volts& volts) const {
  Unsupplied unsupplied;
  for (const auto& [id, feed] : feeds) {
    if (!feed.without_supply(volts)) continue;
    unsupplied.all.insert(id);
    if (feed.too_high(volts)) unsupplied.too_high.insert(id);
  }
  return unsupplied;
}

FeedWatch feed_watch(const Watch& watch) {
  FeedWatch made;
  made.feeds = watch.feeds;
  Positions positions(made.nodes);
  for (auto& [id, feed] : made.feeds) positions.move(feed.plus, feed.minus);
  return made;
}

std::vector<PartOfWatch> parts_of(const site::Site& site, const Watch& watch) {
  std::map<std::string, Watch> parts;
  for (const auto& [id, feed] : watch.feeds) {
    const auto detector = site.detectors.find(id);
    parts[detector == site.detectors.end() ? id : site::supply_of(site, detector->second.feed)].feeds[id] = feed;
  }
  for (const auto& [zone, terminal] : watch.terminals) parts[site.zones.at(zone).panel.id].terminals[zone] = terminal;
  for (const auto& [id, input] : watch.inputs) parts[site.triggers.at(id).unit.id].inputs[id] = input;
  for (const auto& [unit, arming] : watch.arming) parts[unit].arming[unit] = arming;
  std::vector<PartOfWatch> made;
  for (auto& [id, part] : parts) {
    PartOfWatch& one = made.emplace_back(PartOfWatch{{}, std::move(part)});
    Positions positions(one.nodes);
    for (auto& [of, feed] : one.watch.feeds) positions.move(feed.plus, feed.minus);
    for (auto& [of, terminal] : one.watch.terminals) positions.move(terminal.sense, terminal.against, terminal.source);
    for (auto& [of, input] : one.watch.inputs) positions.move(input.point, input.minus);
    for (auto& [of, arming] : one.watch.arming) positions.move(arming.point, arming.minus);
  }
  return made;
}

Watch watch_of(const site::Site& site, const SiteCircuit& circuit) { return Watcher(site, circuit).run(); }

ZoneWatch zone_watch(const site::Site& site, const Watch& watch, const std::string& zone,
                     std::vector<site::Reading> right, const std::vector<std::string>& quiet) {
  ZoneWatch made;
  made.right = std::move(right);
  Positions positions(made.nodes);
  const auto fed = [&](const std::string& id) -> std::optional<WatchedFeed> {
    const auto feed = watch.feeds.find(id);
    if (feed == watch.feeds.end()) return std::nullopt;
    WatchedFeed moved = feed->second;
    positions.move(moved.plus, moved.minus);
    return moved;
  };
  made.panel = fed(site.zones.at(zone).panel.id);
  auto terminal = watch.terminals.find(zone);  // of two zones on a pair, it stands under the one looked at
  if (terminal == watch.terminals.end()) terminal = watch.terminals.find(site::loop_owner(site, zone));
  if (terminal != watch.terminals.end()) {
    made.terminal = terminal->second;
    positions.move(made.terminal->sense, made.terminal->against, made.terminal->source);
  }
  for (const auto& [id, trigger] : site.triggers) {
    const auto arming = watch.arming.find(trigger.unit.id);
    if (trigger.zone.id != zone || arming == watch.arming.end()) continue;
    ZoneWatch::Picture picture{id, fed(trigger.unit.id), arming->second, std::nullopt};
    positions.move(picture.arming.point, picture.arming.minus);
    if (site::has_wire(trigger)) {
      const auto input = watch.inputs.find(id);
      if (input == watch.inputs.end() || std::find(quiet.begin(), quiet.end(), id) == quiet.end()) continue;
      picture.input = input->second;
      positions.move(picture.input->point, picture.input->minus);
    }
    made.pictures.push_back(picture);
  }
  return made;
}

}  // namespace zoneproof::electric
