#include "electric/situation.hpp"

#include <array>

namespace zoneproof::electric {

std::string ZoneState::name() const {
  return contact.empty() ? word(happening) : std::string(word(happening)) + "_" + contact;
}

const char* word(SupplyCondition condition) {
  static constexpr std::array<const char*, 6> words = {"mains",        "mains_no_battery", "mains_flat_battery",
                                                       "battery_full", "battery_cutoff",   "supplies_apart"};
  return words[static_cast<std::size_t>(condition)];
}

const char* word(UnitCondition condition) {
  static constexpr std::array<const char*, 5> words = {"powered", "booting", "unpowered", "negative_broken",
                                                       "detached"};
  return words[static_cast<std::size_t>(condition)];
}

const char* word(Happening happening) {
  static constexpr std::array<const char*, 8> words = {"rest",   "alarm", "second_alarm", "both_alarm",
                                                       "masked", "fault", "tamper_open",  "shorted"};
  return words[static_cast<std::size_t>(happening)];
}

const std::vector<SupplyCondition>& all_supply_conditions() {
  static const std::vector<SupplyCondition> all = {
      SupplyCondition::mains,        SupplyCondition::mains_no_battery, SupplyCondition::mains_flat_battery,
      SupplyCondition::battery_full, SupplyCondition::battery_cutoff,   SupplyCondition::supplies_apart};
  return all;
}

const std::vector<UnitCondition>& all_unit_conditions() {
  static const std::vector<UnitCondition> all = {UnitCondition::powered, UnitCondition::booting,
                                                 UnitCondition::unpowered, UnitCondition::negative_broken,
                                                 UnitCondition::detached};
  return all;
}

bool on_battery(SupplyCondition condition) {
  return condition == SupplyCondition::battery_full || condition == SupplyCondition::battery_cutoff;
}

}  // namespace zoneproof::electric
