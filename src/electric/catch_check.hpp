#pragma once
#include <string>
#include <vector>

#include "electric/finding.hpp"
#include "electric/levels.hpp"

/// Whether an alarm lasts long enough for those who watch the pair (catch_time.hpp has the theory).
///
/// An alarm contact that holds for a stated time is in alarm for at least that long. One that follows its cause may be
/// so short that nobody wants it counted: of it, the rulebook's shortest alarm counts ("shortest_alarm_s").
namespace zoneproof::electric {

/// Link `loop` of a wired zone: the panel catches the shortest alarm of each alarm contact ("panel_catches_alarm"), in
/// every condition of supply and unit. `before` are the levels without trigger wires, `after` those with each.
std::vector<chain::Evidence> check_panel_catch(const site::Site& site, const std::string& zone,
                                               const std::vector<Level>& before, const std::vector<Level>& after);

/// Link `trigger`: the running unit catches every alarm that must count, and of a contact that follows its cause also
/// every shorter one that the panel may count: that alarm would reach the operator without a picture
/// ("unit_catches_alarm"). What an output gives lasts as long as the output holds, or, where it follows its zone, as
/// what the panel leaves of the alarm. `levels` are those of the zone with this trigger attached.
std::vector<chain::Evidence> check_unit_catch(const site::Site& site, const std::string& trigger,
                                              const std::vector<Level>& levels);

}  // namespace zoneproof::electric
