#pragma once
#include <vector>

#include "chain/evidence.hpp"
#include "site/model.hpp"

namespace zoneproof::carriage {

/// "clock_error" of every unit and recorder and of every camera that sends a stream: the most by which its clock may be
/// wrong, against the rulebook's `clock_error_s`. A clip whose time is wrong by more than its pre-roll shows another
/// moment, and as evidence it contradicts the panel's log. A source alone proves nothing, an error without a source
/// does not either; a clock that runs free keeps no error, so one that was read is only what it was then: never proven.
std::vector<chain::Evidence> check_clocks(const site::Site& site);

}  // namespace zoneproof::carriage
