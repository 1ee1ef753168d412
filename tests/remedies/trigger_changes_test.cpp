// Changes of what triggers: presets, buffers, outputs that follow a zone, against dividers and by trying every other
// choice; and a change that is refused for another zone.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "electric/levels.hpp"
#include "proof/demo.hpp"
#include "remedies/held_against_proof.hpp"
#include "site/file.hpp"
#include "site/shelf.hpp"

namespace zoneproof::remedies {
namespace {

using testing::HasSubstr;

/// The office's and the store's triggers alone, on a unit so hard on its loops that the panel misreads them: 10 kohm
/// beside loops of 5.6 kohm.
Json with_hard_input() {
  Json json = kiln_yard();
  for (const char* id : {"t1", "t2", "t4", "t5", "t6", "t8"}) json["triggers"].erase(id);
  own_part(json, "unit_8_ranges_1m")["unit"]["input"]["impedance_ohm"] = {
      {"value", 10000}, {"min", 9500}, {"max", 10500}};
  return json;
}

/// Nominal levels of zone 3 on mains, the unit running, at the panel and at the unit.
struct Read {
  double panel_V = 0.0, unit_V = 0.0;
};
Read read_of(const site::Site& site, electric::Happening happening) {
  electric::LevelScope scope;
  scope.supplies = {electric::SupplyCondition::mains};
  scope.units = {electric::UnitCondition::powered};
  for (const electric::Level& level : electric::zone_levels(site, "z3", "t3", scope)) {
    if (level.situation.state.happening != happening) continue;
    return {level.solved.cases.at(*level.panel).nominal, level.solved.cases.at(*level.unit).nominal};
  }
  ADD_FAILURE() << "no such level";
  return {};
}

// --- presets ---------------------------------------------------------------------------------------------------------

/// Of the presets that the unit has the one is told that leaves the most: each is set and proven.
TEST(TriggerChanges, ThePresetThatIsToldIsTheBestOfAll) {
  Json json = kiln_yard();
  for (const char* id : {"t1", "t2", "t4", "t5", "t6", "t8"}) json["triggers"].erase(id);
  take_from_shelf(json, "unit_8_presets");
  json["units"]["unit"]["part"] = "unit_8_presets";
  for (auto& [id, trigger] : json["triggers"].items()) {
    Json& setting = trigger["setting"];
    for (const char* limit : {"normal_min_V", "normal_max_V", "alarm_min_V", "alarm_max_V"}) setting.erase(limit);
    setting["preset"] = "middle_5v";
  }
  json["triggers"]["t3"]["setting"]["preset"] = "open_high";
  const site::Site site = site_of(json);
  const auto margin_with = [&](const std::string& preset) {
    site::Site tried = site;
    tried.triggers.at("t3").setting.preset = preset;
    double least = 1e9;
    for (const proof::Chain& chain : demo::prove_wiring(tried).chains) {
      if (chain.zone != "z3") continue;
      for (const proof::LinkAnswer& link : chain.links) {
        for (const chain::Evidence& evidence : link.evidence) {
          if (evidence.id.rfind("unit_reads_", 0) == 0 && evidence.margin) least = std::min(least, *evidence.margin);
        }
      }
    }
    return least;
  };
  std::string best;
  double most = -1e9;
  for (const auto& [id, preset] : site.parts.at("unit_8_presets").unit->input.presets) {
    const double margin = margin_with(id);
    if (margin > most) {
      most = margin;
      best = id;
    }
  }
  const std::optional<Cure> cure = true_cure(site, "z3", "z3", chain::Link::trigger, Kind::other_range);
  ASSERT_TRUE(cure);
  EXPECT_EQ(cure->with.triggers.at("t3").setting.preset, best);
  EXPECT_NE(best, "open_high");
}

// --- a buffer --------------------------------------------------------------------------------------------------------

/// Vs behind Rp on the loop with Z across it: Z is 10 Mohm then, and the unit reads what the panel does.
TEST(TriggerChanges, ABufferLeavesTheLoopAloneAndPassesItsLevelOn) {
  const site::Site site = site_of(with_hard_input());
  const std::optional<Cure> cure = true_cure(site, "z3", "z3", chain::Link::loop, Kind::buffer);
  ASSERT_TRUE(cure);
  const site::Site& with = cure->with;

  const auto level = [](double input) {
    constexpr double source_V = 5.0, pullup = 5600.0, eol = 5600.0;
    const double loop = eol * input / (eol + input);
    return source_V * loop / (pullup + loop);
  };
  EXPECT_NEAR(read_of(site, electric::Happening::rest).panel_V, level(1e4), 0.02);
  const Read rest = read_of(with, electric::Happening::rest);
  EXPECT_NEAR(rest.panel_V, level(1e7), 0.02);
  EXPECT_NEAR(rest.unit_V, rest.panel_V, 0.03);  // the unit's negative stands some 20 mV above the panel's

  // Its sheet beside the unit's: error added, current added, the narrower supply.
  const site::UnitSpec& bare = *site.parts.at("unit_8_ranges_1m").unit;
  const site::UnitSpec& both = *with.parts.at(with.units.at("unit").part.id).unit;
  EXPECT_NEAR(both.input.error_V.high, 0.05 + 0.03, 1e-12);
  EXPECT_NEAR(both.power_W.high, bare.power_W.high + 0.01 * 15.0, 1e-9);
  EXPECT_NEAR(both.power_W.low, bare.power_W.low + 0.003 * 9.0, 1e-9);
  EXPECT_NEAR(both.input.measuring_max_V.nominal, 8.0, 1e-12);
  EXPECT_EQ(both.inputs.value, bare.inputs.value);
}

/// An input of 4 kohm asks more of a buffer than the 5 kohm that it drives: it is not proposed.
TEST(TriggerChanges, NoBufferIsProposedThatCannotDriveTheInput) {
  Json json = with_hard_input();
  json["parts"]["unit_8_ranges_1m"]["unit"]["input"]["impedance_ohm"] = {{"value", 4000}, {"min", 3900}, {"max", 4100}};
  const site::Site site = site_of(json);
  const auto problems = find_remedies(site, site::common_costs(), "z3").problems;
  const Problem* problem = problem_of(problems, "z3", chain::Link::loop);
  ASSERT_NE(problem, nullptr);
  EXPECT_EQ(remedy_of(*problem, Kind::buffer), nullptr) << listed(*problem);
  EXPECT_EQ(refused_of(*problem, Kind::buffer), nullptr) << listed(*problem);
}

/// The buffer cures the office's loop. The store's contact is read by a preset with just the margin that is asked for:
/// the buffer's error takes 30 mV of it, by which another zone's trigger becomes thin.
TEST(TriggerChanges, WhatCuresAZoneAndWorsensAnotherZonesLinkIsRefusedAndNamesThatZone) {
  Json json = with_hard_input();
  take_from_shelf(json, "pir_wide_12m_spare");
  json["detectors"]["d_store"]["part"] = "pir_wide_12m_spare";
  Json& book = json["rulebooks"]["european_intruder"];
  book.erase("hash");
  for (auto& [state, rule] : book["states"].items()) {  // a relay tells an alarm and nothing else
    if (state != "rest" && state != "alarm") rule["trigger"] = "either";
  }
  Json& input = json["parts"]["unit_8_ranges_1m"]["unit"]["input"];
  input["judging"] = "presets";
  // Closed, the contact is at the negative but for some millivolts. Below 0.22 V: 0.05 V of error, 0.05 V of
  // hysteresis, 0.1 V of margin, 0.02 V to spare.
  input["presets"] = {{"loop", {{"name", "Loop"}, {"normal_min_V", 1.3}, {"normal_max_V", 2.87}}},
                      {"contact", {{"name", "Contact"}, {"normal_min_V", "none"}, {"normal_max_V", 0.22}}}};
  json["cables"]["k_store_contact"] = json["cables"]["k_z7"];
  json["cables"]["k_store_contact"]["name"] = "Contact of the store";
  for (auto& [id, trigger] : json["triggers"].items()) {
    for (const char* limit : {"normal_min_V", "normal_max_V"}) trigger["setting"].erase(limit);
    trigger["setting"]["preset"] = id == "t7" ? "contact" : "loop";
  }
  Json& store = json["triggers"]["t7"];
  store["source"] = "spare_contact";
  store.erase("at_panel");
  store.erase("at_input");
  store["detector"] = "d_store";
  store["contact"] = "spare";
  store["contact_to"] = "low";
  store["cable"] = "k_store_contact";
  store["pullup_ohm"] = {{"value", 47000}, {"tolerance_pct", 1}, {"origin", "data_sheet"}, {"tempco_ppm_K", 100}};
  const site::Site site = site_of(json);
  const auto before = demo::verdicts_of(site, demo::prove_wiring(site));
  ASSERT_EQ(before.at({"z7", "trigger"}).verdict, "proven")
      << testing::PrintToString(before.at({"z7", "trigger"}).checks);

  const auto problems = find_remedies(site, site::common_costs(), "z3").problems;
  const Problem* problem = problem_of(problems, "z3", chain::Link::loop);
  ASSERT_NE(problem, nullptr);
  EXPECT_EQ(remedy_of(*problem, Kind::buffer), nullptr) << listed(*problem);
  const Refused* refused = refused_of(*problem, Kind::buffer);
  ASSERT_NE(refused, nullptr) << listed(*problem);
  EXPECT_THAT(text(refused->because), HasSubstr("trigger of Zone 7 (Store) thin")) << text(refused->because);
}

// --- an output that follows the zone
// -----------------------------------------------------------------------------------

Json with_outputs(const char* free) {
  Json json = with_hard_input();
  Json& panel = own_part(json, "panel_8_old")["panel"];
  site::Site carrier;
  carrier.parts["panel_8_outputs"] = *site::part_for_site("panel_8_outputs");
  panel["outputs"] = Json::parse(site::write_site(carrier))["parts"]["panel_8_outputs"]["panel"]["outputs"];
  for (const char* id : {"pgm_1", "pgm_2", "pgm_3", "pgm_4"})
    json["panels"]["panel"]["outputs_found"][id]["use"] = std::string(id) == free ? "free" : "used";
  return json;
}

const Remedy* following(const std::vector<Problem>& problems) {
  const Problem* problem = problem_of(problems, "z3", chain::Link::trigger);
  return problem == nullptr ? nullptr : remedy_of(*problem, Kind::following_output);
}

/// Open collector, on at rest: rest is its saturation and what the pull-up drives through 1 ohm; alarm is the unit's
/// supply over pull-up and input. Both by hand.
TEST(TriggerChanges, AnOpenCollectorThatFollowsTheZoneReadsAsADividerSays) {
  const site::Site site = site_of(with_outputs("pgm_3"));
  const auto problems = find_remedies(site, site::common_costs(), "z3").problems;
  const Remedy* remedy = following(problems);
  ASSERT_NE(remedy, nullptr);
  expect_true(site, *problem_of(problems, "z3", chain::Link::trigger), *remedy);
  const site::Site with = patched(site, *remedy);
  const site::Trigger& trigger = with.triggers.at("t3");
  ASSERT_TRUE(trigger.source.is(site::TriggerSource::following_output));
  const site::Output& output = with.outputs.at(trigger.output.id);
  EXPECT_EQ(output.number.value, 3);
  EXPECT_TRUE(output.active_when.is(site::ActiveWhen::normal)) << "a cut wire has to read as alarm";
  EXPECT_TRUE(with.panels.at("panel").outputs_found.at("pgm_3").use.is(site::OutputUse::used));
  EXPECT_TRUE(trigger.at_panel.unknown());
  EXPECT_FALSE(trigger.at_input.known());
  const double pullup = trigger.pullup_ohm.nominal, supply_V = 13.7;
  EXPECT_NEAR(read_of(with, electric::Happening::rest).unit_V, 0.5, 0.02);
  EXPECT_NEAR(read_of(with, electric::Happening::alarm).unit_V, supply_V * 1e4 / (1e4 + pullup), 0.1);
  EXPECT_GT(pullup, 0.0);
}

/// A switched positive drives the input by itself: 13.7 V less 0.5 V at rest, nothing in alarm.
TEST(TriggerChanges, ASwitchedPositiveThatFollowsTheZoneNeedsNoResistor) {
  const site::Site site = site_of(with_outputs("pgm_4"));
  const auto problems = find_remedies(site, site::common_costs(), "z3").problems;
  const Remedy* remedy = following(problems);
  ASSERT_NE(remedy, nullptr);
  expect_true(site, *problem_of(problems, "z3", chain::Link::trigger), *remedy);
  const site::Site with = patched(site, *remedy);
  EXPECT_TRUE(with.triggers.at("t3").pullup_ohm.none());
  EXPECT_TRUE(with.triggers.at("t3").pulldown_ohm.none());
  EXPECT_NEAR(read_of(with, electric::Happening::rest).unit_V, 13.7 - 0.5, 0.1);
  EXPECT_NEAR(read_of(with, electric::Happening::alarm).unit_V, 0.0, 0.05);
}

/// Only what is known to be free, can follow a zone and may be programmed is proposed.
TEST(TriggerChanges, NoOutputIsProposedThatIsNotKnownToBeFreeAndAble) {
  const auto proposed = [](const Json& json) {
    const site::Site site = site_of(json);
    const auto problems = find_remedies(site, site::common_costs(), "z3").problems;
    return following(problems) != nullptr;
  };
  EXPECT_TRUE(proposed(with_outputs("pgm_4")));
  EXPECT_FALSE(proposed(with_outputs("pgm_1"))) << "cannot follow a zone, and number 1 is in use";
  EXPECT_FALSE(proposed(with_outputs("none")));
  Json json = with_outputs("pgm_4");
  json["panels"]["panel"]["outputs_found"]["pgm_4"]["use"] = nullptr;
  EXPECT_FALSE(proposed(json)) << "not known to be free";
  json = with_outputs("pgm_4");
  json["parts"]["panel_8_old"]["panel"]["outputs"]["pgm_4"]["follows_zone"] = nullptr;
  EXPECT_FALSE(proposed(json)) << "not known to be able";
  json = with_outputs("pgm_4");
  json["panels"]["panel"]["access"]["installer_code"] = "unknown";
  EXPECT_FALSE(proposed(json)) << "nobody can program it";
}

}  // namespace
}  // namespace zoneproof::remedies
