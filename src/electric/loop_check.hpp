#pragma once
#include <optional>
#include <string>
#include <vector>

#include "electric/finding.hpp"
#include "electric/levels.hpp"

namespace zoneproof::electric {

/// Link `loop` of one zone: the panel reads every state rightly without the trigger wire ("panel_reads_STATE_before")
/// and with it in every condition of the unit ("panel_reads_STATE"), and the wire leaves the panel most of its margin
/// ("disturbance_STATE"). `before` are the levels without, `after` those with each trigger wire.
///
/// A cut pair counts as a state, a short between the cores does not: an end-of-line resistor fitted in the panel reads
/// right in every state, and only the fault analysis can tell it (docs/methods/loops.md).
std::vector<chain::Evidence> check_loop(const site::Site& site, const std::string& zone,
                                        const std::vector<Level>& before, const std::vector<Level>& after);

/// No contact of the pair of `subject.id` can bring that zone into alarm: broken, unless the list or a contact's role
/// is not known.
chain::Evidence no_alarm_contact(const site::Site& site, const Subject& subject);

/// The window (or windows that touch) in which the panel reads the level rightly and that the level lies deepest in, or
/// is least far outside of; `level.panel` must hold. Nothing where the terminal has no such window.
std::optional<Band> right_band(const Level& level);

/// The windows in which the panel may read a zone where `happening` holds, in the words of the terminal (of two zones
/// on a pair the first one's alarm is `alarm`); empty where any reading but secure will do is not stated by the
/// terminal.
std::vector<site::Reading> right_readings(Happening happening);

}  // namespace zoneproof::electric
