// A spare contact follows its detector, not the pair: it moves in alarm and in nothing else.
#include <gtest/gtest.h>

#include "electric/hand_deck.hpp"
#include "electric/levels.hpp"

namespace zoneproof::electric {
namespace {

/// Zone z1 with a spare relay contact, closed at rest, that holds the input at the unit's negative; pull-up at the
/// unit.
site::Site spare_contact() {
  return base_site_with(R"({
    "zones": {"z1": {"loop": {"arrangement": "double_eol", "eol_ohm": 4700, "alarm_ohm": 4700, "contacts": {
      "a": {"detector": "da", "contact": "closed", "role": "alarm", "shunt_ohm": "none"},
      "c": {"detector": "dc", "contact": "closed", "role": "tamper", "shunt_ohm": "none"}}}}},
    "triggers": {"t1": {"source": "spare_contact", "at_panel": null, "at_input": null, "detector": "da", "contact": "closed",
      "contact_to": "low", "pullup_ohm": 10000}}})");
}

double input_V(Happening happening, const std::string& contact) {
  ZoneSituation situation;
  situation.zone = "z1";
  situation.trigger = "t1";
  situation.state = {happening, contact};
  const Level level = solve_level(spare_contact(), situation);
  return level.solved.cases.at(level.unit.value()).nominal;
}

TEST(SpareContact, OpensInAlarmAndStaysWhereItIsWhenThePairIsCutOrShorted) {
  EXPECT_LT(input_V(Happening::rest, ""), 0.1);
  EXPECT_GT(input_V(Happening::alarm, "a"), 5.0);
  EXPECT_LT(input_V(Happening::tamper_open, ""), 0.1);
  EXPECT_LT(input_V(Happening::tamper_open, "c"), 0.1);
  EXPECT_LT(input_V(Happening::shorted, ""), 0.1);
}

TEST(RelayOutput, WithoutAWordOnWhatItsContactSwitchesToLeavesTheLevelsOpen) {
  site::Site site = deck_site("output_relay_trigger");
  site.triggers.at("t1").contact_to = {};
  site.triggers.at("t1").contact_to.pointer = "/triggers/t1/contact_to";
  ZoneSituation situation;
  situation.zone = "z1";
  situation.trigger = "t1";
  const Level level = solve_level(site, situation);
  EXPECT_FALSE(level.unit.has_value());
  ASSERT_EQ(level.solved.gaps.size(), 1U);
  EXPECT_EQ(level.solved.gaps[0].pointer, "/triggers/t1/contact_to");
}

}  // namespace
}  // namespace zoneproof::electric
