#pragma once
#include <map>
#include <mutex>
#include <optional>
#include <string>
#include <utility>

#include "electric/answers.hpp"
#include "results/level_lines.hpp"
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

/// What is read of a zone with one of its triggers, or without any.
struct ZoneReadings {
  RestAndAlarm at_unit;   ///< at the unit's input, running, against its negative
  RestAndAlarm at_panel;  ///< at the panel's terminal against what it refers to; without a trigger: as the panel was
};

/// By zone and trigger, which is empty where there is none.
using Readings = std::map<std::pair<std::string, std::string>, ZoneReadings>;

/// Takes the readings out of the levels of zones while they are solved; may be called from several threads.
class ReadingsTaken {
 public:
  void take(const std::string& zone, const electric::LevelsOfZone& levels);
  Readings readings() &&;

 private:
  std::mutex mutex_;
  Readings readings_;
};

/// Cost: that of the levels of every zone, which a proof solves as well (results/proof.hpp).
Readings readings_of(const site::Site& site);

/// What the chapters take their figures from, computed once. Points into the site, which must live as long.
struct Answers {
  Readings readings;
  results::SupplyAnswer supply;
  /// At the arming input, by unit: what `prove` tells lies inside, and reaches to an end of it but for a thousandth of
  /// the margin (electric/finding.hpp).
  std::map<std::string, Volts> armed, disarmed;
};

/// Cost: that of the question supply, and two networks for each unit and supply condition.
Answers answers_of(const site::Site& site, Readings readings);

/// At the input of the unit, running, against its negative: as `levels` tells it. `trigger`: its id.
RestAndAlarm at_unit(const Answers& answers, const std::string& zone, const std::string& trigger);
/// At the panel's terminal against what it refers to, with the wire (running unit), or, `trigger` empty, without any.
RestAndAlarm at_panel(const Answers& answers, const std::string& zone, const std::string& trigger);

/// The supply voltage at something that is fed, over the conditions in which its supply gives any.
Volts supply_at(const site::Site& site, const Answers& answers, const std::string& consumer);
/// How far the negative of a unit lies above that of a panel; nothing also where nothing joins the two.
Volts shift_of(const site::Site& site, const Answers& answers, const std::string& unit, const std::string& panel);

}  // namespace zoneproof::handover
