// Pairing rules that no demo site breaks: what a zone's terminal cannot give, and what is unknown or has no name.
#include "proof/pairing.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "electric/answers.hpp"
#include "proof/demo.hpp"

namespace zoneproof::proof {
namespace {

site::Site kiln_yard_with_terminals(site::TerminalReference refers_to) {
  site::Site site = demo::site_of(demo::bytes("kiln-yard.site.json"), "kiln-yard.site.json");
  for (auto& [id, part] : site.parts) {
    if (part.zone_terminal) part.zone_terminal->refers_to.value = refers_to;
  }
  return site;
}

TEST(Pairing, RefusesEveryTapOnAMatrixAndSaysWhatWorks) {
  const site::Site site = kiln_yard_with_terminals(site::TerminalReference::matrix);
  const std::vector<chain::Evidence> all = check_pairing(site);
  std::size_t taps = 0;
  for (const auto& [id, trigger] : site.triggers) {
    if (!trigger.source.is(site::TriggerSource::loop_tap)) continue;
    const auto refused = std::find_if(all.begin(), all.end(), [&, &of = trigger](const chain::Evidence& e) {
      return e.subject == of.zone.id && e.id == "source_possible";
    });
    ASSERT_NE(refused, all.end()) << id;
    EXPECT_EQ(refused->verdict, chain::Verdict::broken) << id;
    EXPECT_EQ(refused->says->code, "matrix_cannot_be_tapped") << id;
    ++taps;
  }
  EXPECT_GT(taps, 3U);
}

TEST(Pairing, AllowsTheSameTapsWhereTheTerminalRefersToTheNegative) {
  for (const chain::Evidence& e : check_pairing(kiln_yard_with_terminals(site::TerminalReference::negative))) {
    if (e.id == "source_possible") {
      EXPECT_EQ(e.verdict, chain::Verdict::proven) << e.subject;
    }
  }
}

/// The evidence of one check of one zone; fails the test where there is not exactly one.
chain::Evidence pairing_of(const site::Site& site, const std::string& zone, const std::string& check) {
  std::vector<chain::Evidence> found;
  for (const chain::Evidence& e : check_pairing(site)) {
    if (e.subject == zone && e.id == check) found.push_back(e);
  }
  EXPECT_EQ(found.size(), 1U) << zone << " " << check;
  return found.empty() ? chain::Evidence{} : found.front();
}

testing::AssertionResult broken_by(const chain::Evidence& e, const std::string& code) {
  if (e.verdict == chain::Verdict::broken && e.says && e.says->code == code) return testing::AssertionSuccess();
  return testing::AssertionFailure() << chain::word(e.verdict) << " " << (e.says ? text(*e.says) : "");
}

testing::AssertionResult asks_for(const chain::Evidence& e, const std::string& pointer) {
  if (e.verdict == chain::Verdict::unanswered && e.gaps.size() == 1 && e.gaps.front().pointer == pointer)
    return testing::AssertionSuccess();
  return testing::AssertionFailure() << chain::word(e.verdict) << " " << (e.gaps.empty() ? "" : e.gaps.front().pointer);
}

TEST(Pairing, TwoZonesOfOneNumberAreNotToldApart) {
  site::Site site = demo::kiln_yard();
  const auto first = site.zones.begin(), second = std::next(first);
  EXPECT_EQ(pairing_of(site, first->first, "zone_number_own").verdict, chain::Verdict::proven);
  second->second.number.value = first->second.number.value;
  EXPECT_TRUE(broken_by(pairing_of(site, first->first, "zone_number_own"), "number_used_twice"));
  EXPECT_TRUE(broken_by(pairing_of(site, second->first, "zone_number_own"), "number_used_twice"));
  second->second.number.value.reset();
  EXPECT_TRUE(asks_for(pairing_of(site, first->first, "zone_number_own"), second->second.number.pointer));
}

TEST(Pairing, TwoZonesOfOneNameAreToldApartByTheirNumbersOnly) {
  site::Site site = demo::kiln_yard();
  const auto first = site.zones.begin(), second = std::next(first);
  EXPECT_EQ(pairing_of(site, first->first, "zone_name_own").verdict, chain::Verdict::proven);
  second->second.name = first->second.name;
  EXPECT_EQ(pairing_of(site, first->first, "zone_name_own").verdict, chain::Verdict::thin);
}

TEST(Pairing, RefusesATapOnAFireOrHoldUpCircuitWhileItsMediumIsUnknown) {
  site::Site site = demo::kiln_yard();
  site.zones.at("z1").medium.value.reset();
  site.zones.at("z1").type.value = site::ZoneType::fire;
  EXPECT_TRUE(broken_by(pairing_of(site, "z1", "source_possible"), "never_tap_fire"));
  site.zones.at("z1").type.value = site::ZoneType::hold_up;
  EXPECT_TRUE(broken_by(pairing_of(site, "z1", "source_possible"), "never_tap_hold_up"));
  site.zones.at("z1").type.value = site::ZoneType::intruder;
  EXPECT_TRUE(asks_for(pairing_of(site, "z1", "source_possible"), "/zones/z1/medium"));
}

TEST(Pairing, RefusesATapOnAWirelessZoneWhileItsTypeIsUnknown) {
  site::Site site = demo::kiln_yard();
  site.zones.at("z1").medium.value = site::Medium::wireless;
  site.zones.at("z1").type.value.reset();
  EXPECT_TRUE(broken_by(pairing_of(site, "z1", "source_possible"), "no_loop_wireless"));
}

TEST(Pairing, NeverProvesAChannelWhileTheNumberOfChannelsIsUnknown) {
  site::Site site = demo::kiln_yard();
  site::Trigger& trigger = site.triggers.at("t1");
  const std::string part = site.units.at(trigger.unit.id).part.id;
  site::UnitSpec& unit = *site.parts.at(part).unit;
  unit.channel_binding.value = site::ChannelBinding::free;
  unit.channels.value.reset();
  trigger.channel.value = 999;
  EXPECT_TRUE(asks_for(pairing_of(site, "z1", "channel_as_bound"), "/parts/" + part + "/unit/channels"));
  unit.channels.value = 8;
  EXPECT_TRUE(broken_by(pairing_of(site, "z1", "channel_as_bound"), "no_such_channel"));
}

TEST(Pairing, AUnitsTriggerKeepsNoClipOfAnotherUnitsChannel) {
  site::Site site = demo::kiln_yard();
  const std::string zone = site.triggers.at("t1").zone.id;
  site.units["other"] = site.units.begin()->second;
  site.channels["beside"] = site.channels.at("ch3");
  site.triggers.at("t1").more_channels = {site::Ref{"beside", "/triggers/t1/more_channels/0"}};
  EXPECT_EQ(pairing_of(site, zone, "channel_as_bound").verdict, chain::Verdict::proven);
  site.channels.at("beside").unit.id = "other";
  EXPECT_TRUE(broken_by(pairing_of(site, zone, "channel_as_bound"), "channel_of_other_unit"));
  site.channels.at("beside").unit.id = "";
  EXPECT_EQ(pairing_of(site, zone, "channel_as_bound").verdict, chain::Verdict::unanswered);
}

TEST(Pairing, AsksForTheInputThatAFixedChannelIsHeldAgainst) {
  site::Site site = demo::kiln_yard();
  site::Trigger& trigger = site.triggers.at("t1");
  site.parts.at(site.units.at(trigger.unit.id).part.id).unit->channel_binding.value = site::ChannelBinding::fixed;
  trigger.channel.value = 1;
  trigger.input.value.reset();
  EXPECT_TRUE(asks_for(pairing_of(site, "z1", "channel_as_bound"), "/triggers/t1/input"));
}

TEST(Pairing, AsksForTheZonesTerminalBeforeATapIsCalledWrong) {
  site::Site site = demo::kiln_yard();
  site.zones.at("z1").input.value.reset();
  EXPECT_TRUE(asks_for(pairing_of(site, "z1", "right_terminal"), "/zones/z1/input"));
  site.triggers.at("t1").at_input.value = 2;  // there stands another zone: wrong wherever z1 is
  EXPECT_TRUE(broken_by(pairing_of(site, "z1", "right_terminal"), "tap_on_other_zone"));
}

TEST(Pairing, LetsNoTwoTriggersClashWhoseUnitsAreUnknown) {
  site::Site site = demo::kiln_yard();
  for (const char* id : {"t1", "t2"}) {
    site.triggers.at(id).unit.id.clear();
    site.triggers.at(id).input.value = 1;
    site.triggers.at(id).channel.value = 1;
  }
  EXPECT_TRUE(asks_for(pairing_of(site, "z1", "input_used_once"), "/triggers/t1/unit"));
  EXPECT_TRUE(asks_for(pairing_of(site, "z1", "channel_used_once"), "/triggers/t1/unit"));
}

TEST(Pairing, NeverProvesAnInputOrChannelWhileThatOfAnotherTriggerIsUnknown) {
  site::Site site = demo::kiln_yard();
  site.triggers.at("t2").input.value.reset();
  site.triggers.at("t2").channel.value.reset();
  EXPECT_TRUE(asks_for(pairing_of(site, "z1", "input_used_once"), "/triggers/t2/input"));
  EXPECT_TRUE(asks_for(pairing_of(site, "z1", "channel_used_once"), "/triggers/t2/channel"));
  EXPECT_TRUE(asks_for(pairing_of(site, "z2", "input_used_once"), "/triggers/t2/input"));
  EXPECT_TRUE(asks_for(pairing_of(site, "z2", "channel_used_once"), "/triggers/t2/channel"));
  site.triggers.at("t3").input.value = site.triggers.at("t1").input.value;  // a clash that is known comes first
  EXPECT_TRUE(broken_by(pairing_of(site, "z1", "input_used_once"), "input_used_twice"));
}

TEST(Pairing, AsksForTheUnitOfAnotherTriggerOnlyWhereItMayClash) {
  site::Site site = demo::kiln_yard();
  site.triggers.at("t2").unit.id.clear();
  EXPECT_EQ(pairing_of(site, "z1", "input_used_once").verdict, chain::Verdict::proven);  // t2 is on another number
  site.triggers.at("t2").input.value = site.triggers.at("t1").input.value;
  EXPECT_TRUE(asks_for(pairing_of(site, "z1", "input_used_once"), "/triggers/t2/unit"));
  site.triggers.at("t2").source.value = site::TriggerSource::camera_analytics;  // that has no wire
  EXPECT_EQ(pairing_of(site, "z1", "input_used_once").verdict, chain::Verdict::proven);
}

TEST(Pairing, ACameraThatTriggersHasToHaveAnalyticsAndToReachAUnitThatTakesThem) {
  site::Site site = demo::kiln_yard();
  site.triggers.at("t2").source.value = site::TriggerSource::camera_analytics;
  EXPECT_EQ(pairing_of(site, "z2", "source_possible").verdict, chain::Verdict::proven);
  const std::string part = site.cameras.at("c_shop").part.id;
  site::Site without = site;
  without.parts.at(part).camera->analytics_s = site::Value::absent();
  EXPECT_TRUE(broken_by(pairing_of(without, "z2", "source_possible"), "no_analytics"));
  site::Site deaf = site;
  deaf.parts.at(deaf.units.at("unit").part.id).unit->network_triggers.value = false;
  EXPECT_TRUE(broken_by(pairing_of(deaf, "z2", "source_possible"), "no_network_triggers"));
  site::Site apart = site;
  apart.addresses.at("a_shop").network.id = "n_house";
  EXPECT_TRUE(broken_by(pairing_of(apart, "z2", "source_possible"), "analytics_do_not_reach"));
  site::Site unknown = site;
  unknown.parts.at(unknown.units.at("unit").part.id).unit->network_triggers.value.reset();
  EXPECT_EQ(pairing_of(unknown, "z2", "source_possible").verdict, chain::Verdict::unanswered);
}

TEST(Pairing, ACameraThatTriggersIsNotReadAtAnInput) {
  site::Site site = demo::kiln_yard();
  site.triggers.at("t2").source.value = site::TriggerSource::camera_analytics;
  for (const chain::Evidence& e : electric::electrical_answers(site, "z2")) {
    EXPECT_FALSE(e.subject == "z2" && e.link == chain::Link::trigger) << e.id;
  }
  site.triggers.at("t2").source = {};  // there may be a wire: then its reading is asked for
  const std::vector<chain::Evidence> unknown = electric::electrical_answers(site, "z2");
  EXPECT_TRUE(std::any_of(unknown.begin(), unknown.end(), [](const chain::Evidence& e) {
    return e.id == "unit_reads_alarm" && e.verdict == chain::Verdict::unanswered;
  }));
}

TEST(Pairing, AChannelForLiveViewTriggersNothing) {
  site::Site site = demo::kiln_yard();
  site.triggers.at("t2").source.value = site::TriggerSource::live_view;
  EXPECT_TRUE(broken_by(pairing_of(site, "z2", "source_possible"), "live_view_triggers_nothing"));
  EXPECT_EQ(pairing_of(site, "z1", "source_possible").verdict, chain::Verdict::proven);
}

TEST(Pairing, NeverProvesAnOutputFreeWhileThatOfAUnitOrOfAnotherTriggerIsUnknown) {
  site::Site site = demo::tern_hollow();
  site.triggers.at("t9").output.id.clear();
  EXPECT_TRUE(asks_for(pairing_of(site, "z10", "output_used_once"), "/triggers/t9/output"));
  EXPECT_TRUE(asks_for(pairing_of(site, "z9", "output_used_once"), "/triggers/t9/output"));
  site = demo::tern_hollow();
  site.units.at("unit_vault").arming.output.id.clear();
  EXPECT_TRUE(asks_for(pairing_of(site, "z10", "output_used_once"), "/units/unit_vault/arming/output"));
}

TEST(Pairing, ATriggerOfNoKnownZoneMayBeThatOfAZoneWithoutOne) {
  site::Site site = demo::kiln_yard();
  site.triggers.at("t2").zone.id.clear();
  EXPECT_TRUE(asks_for(pairing_of(site, "z2", "trigger_present"), "/triggers/t2/zone"));
  EXPECT_EQ(pairing_of(site, "z1", "trigger_present").verdict, chain::Verdict::proven);
}

TEST(Pairing, FindsAnOutputUsedTwiceByThingsWithoutAName) {
  site::Site site = demo::tern_hollow();
  const site::Ref output = site.triggers.at("t10").output;
  for (auto& [id, unit] : site.units) {
    unit.name.clear();
    unit.arming.output.id = output.id;
  }
  EXPECT_TRUE(broken_by(pairing_of(site, "z10", "output_used_once"), "output_used_twice"));
}

TEST(Pairing, AsksWhichOutputFollowsTheZone) {
  site::Site site = demo::tern_hollow();
  site.triggers.at("t10").output.id.clear();
  EXPECT_TRUE(asks_for(pairing_of(site, "z10", "output_follows_zone"), "/triggers/t10/output"));
}

}  // namespace
}  // namespace zoneproof::proof
