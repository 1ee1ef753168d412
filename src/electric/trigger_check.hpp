#pragma once
#include <optional>
#include <string>
#include <vector>

#include "electric/levels.hpp"
#include "electric/setting.hpp"
#include "electric/threshold.hpp"

namespace zoneproof::electric {

/// The electrical part of link `trigger` for one trigger: the unit reads every state that must not trigger as normal
/// ("unit_reads_rest" ...) and every state that must as an alarm ("unit_reads_alarm" ...), error and hysteresis paid,
/// under every supply condition; and no state in any condition of the unit leaves the input's limits ("input_limits").
/// On a pulsed terminal also whether the unit can read it at all ("unit_meets_pulses", pulse_tap_check.hpp).
/// `levels` are those of the zone with this trigger attached.
std::vector<chain::Evidence> check_trigger(const site::Site& site, const std::string& trigger,
                                           const std::vector<Level>& levels);

/// Where the unit's reading certainly counts as alarm: of the bands that the setting leaves, the one that this level
/// lies deepest in, the unit's error paid. `level.unit` must hold. Without sides where the setting has no limit at all.
Band certain_alarm_band(const site::UnitInputSpec& input, const Setting& setting, const Level& level);

/// The band that the level must lie in at the unit's input, the unit's error paid, for what the rulebook asks in its
/// state; what it rests on and is not known, or only guessed, as gaps. Nothing where either reading will do. Without
/// sides and gaps where the setting has no limit at all.
std::optional<Band> right_input_band(const site::Site& site, const Level& level);

/// The spans that a setting has to tell apart: readings of the powered unit by the rulebook's class of their states.
InputSpans input_spans(const site::Site& site, const std::vector<Level>& levels);

}  // namespace zoneproof::electric
