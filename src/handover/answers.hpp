#pragma once
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "results/level_lines.hpp"
#include "results/levels.hpp"
#include "results/supply.hpp"
#include "site/model.hpp"

namespace zoneproof::handover {

/// A range of volts over every condition that the site can be in; nothing: not known.
using Volts = std::optional<results::VoltRange>;

/// What is read at one place at rest and in alarm.
struct RestAndAlarm {
  Volts rest, alarm;
  bool by_meter = false;  ///< the terminal comes and goes: what a direct-current meter shows of it
};

/// What the chapters take their figures from, computed once. Points into the site, which must live as long.
struct Answers {
  std::vector<results::ZoneLevels> levels;  ///< of every zone with each of its triggers, and without any
  results::SupplyAnswer supply;
  /// At the arming input, by unit: what `prove` tells lies inside, and reaches to an end of it but for a thousandth of
  /// the margin (electric/finding.hpp).
  std::map<std::string, Volts> armed, disarmed;
};

/// Cost: that of the questions levels and supply, and two networks for each unit and supply condition.
Answers answers_of(const site::Site& site, const results::Progress& progress = {});

/// At the input of the unit, running, against its negative: as `levels` tells it. `trigger`: its id.
RestAndAlarm at_unit(const Answers& answers, const std::string& zone, const std::string& trigger);
/// At the panel's terminal against what it refers to, with the wire (running unit), or, `trigger` empty, without any.
RestAndAlarm at_panel(const Answers& answers, const std::string& zone, const std::string& trigger);

/// The supply voltage at something that is fed, over the conditions in which its supply gives any.
Volts supply_at(const site::Site& site, const Answers& answers, const std::string& consumer);
/// How far the negative of a unit lies above that of a panel; nothing also where nothing joins the two.
Volts shift_of(const site::Site& site, const Answers& answers, const std::string& unit, const std::string& panel);

}  // namespace zoneproof::handover
