#pragma once
#include <optional>
#include <string>
#include <vector>

#include "base/message.hpp"
#include "chain/evidence.hpp"
#include "electric/threshold.hpp"
#include "site/model.hpp"

/// How an input is set: what the file says, what it means at the unfavourable end, and whether the unit can take it.
namespace zoneproof::electric {

/// The setting in force: preset or ranges, in volts. A limit with a tolerance counts at the end that is worse.
struct Setting {
  NormalRange certainly_normal;              ///< what must not trigger has to lie inside
  NormalRange possibly_normal;               ///< what must trigger has to lie outside
  std::optional<NormalRange> certain_alarm;  ///< where an alarm range is set: what must trigger has to lie inside
  std::vector<chain::Gap> gaps;              ///< what is not set, or only guessed
};
Setting setting_of(const site::Site& site, const std::string& trigger);

/// Why a unit cannot be set as the file says, or a datum without which nobody can tell.
struct SettingFault {
  std::optional<Message> says;
  std::optional<chain::Gap> gap;
};

/// Against the unit's kind of judging, the range that it measures and the grid of its settings. Nothing to say about a
/// preset, which is the unit's own, nor where the unit is unknown.
std::vector<SettingFault> setting_faults(const site::Site& site, const std::string& trigger);

}  // namespace zoneproof::electric
