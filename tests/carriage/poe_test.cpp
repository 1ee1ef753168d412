// Power over data cables on a site: by hand, and what must not be proven.
#include "carriage/poe.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "carriage/network_site.hpp"

namespace zoneproof::carriage {
namespace {

using chain::Verdict;

std::vector<chain::Evidence> poe_answers(const std::string& patch = "[]") {
  return check_power_over_data(network_of(small_network(), patch));
}

TEST(Poe, ACameraOnAGoodCableIsProvenWithTheNumbersOfTheHand) {
  const auto all = poe_answers();
  const auto volts = only(all, "poe_voltage", "yard");
  // 50 m of 100 ohm/km: 5 ohm a core, and two joints of 0.05: 5.1 ohm there and back over two pairs.
  const double root = (44 + std::sqrt(44.0 * 44 - 4 * 6.5 * 5.1)) / 2;
  EXPECT_EQ(volts.verdict, Verdict::proven);
  EXPECT_NEAR(*volts.value, root, 1e-9);
  EXPECT_EQ(volts.limit, 37.0);
  EXPECT_NEAR(*volts.margin, root - 37, 1e-9);
  EXPECT_EQ(volts.required_margin, 1.0);
  EXPECT_FALSE(volts.limit_verified);
  EXPECT_EQ(volts.link, chain::Link::deliver);
  EXPECT_EQ(volts.kind, chain::BoundKind::exact);
  EXPECT_NEAR(*only(all, "poe_loop", "yard").value, 5.1, 1e-9);
  EXPECT_EQ(only(all, "poe_loop", "yard").limit, 20.0);
  EXPECT_EQ(only(all, "poe_power", "yard").value, 6.5);
  EXPECT_EQ(only(all, "poe_power", "yard").limit, 12.95);
  EXPECT_EQ(only(all, "poe_class", "yard").value, 30.0);
  EXPECT_EQ(only(all, "poe_class", "yard").limit, 15.4);
  EXPECT_EQ(only(all, "cable_run", "l_yard").value, 50.0);
  for (const auto& one : all) EXPECT_EQ(one.verdict, Verdict::proven) << one.id << one.subject;
}

TEST(Poe, ACableWithoutThePairsOfTheClassIsBroken) {
  const auto loop = [](const std::string& cores, int poe_class) {
    return only(poe_answers(R"([{"op": "replace", "path": "/parts/pairs/cable/cores", "value": )" + cores +
                            R"(}, {"op": "replace", "path": "/parts/eye/camera/poe_class", "value": )" +
                            std::to_string(poe_class) + "}]"),
                "poe_loop", "yard");
  };
  EXPECT_EQ(loop("8", 6).verdict, Verdict::proven);
  EXPECT_EQ(loop("4", 3).verdict, Verdict::proven) << "two pairs carry class 3";
  EXPECT_EQ(loop("2", 3).verdict, Verdict::broken);
  EXPECT_EQ(loop("4", 6).verdict, Verdict::broken) << "four pairs are asked for";
  EXPECT_EQ(loop("4", 6).says->code, "poe_too_few_cores");
  EXPECT_EQ(loop("null", 3).verdict, Verdict::unanswered);
  EXPECT_TRUE(lacks(loop("null", 3), "/parts/pairs/cable/cores"));
}

TEST(Poe, EveryNumberTellsItsCorner) {
  const auto volts = only(poe_answers(), "poe_voltage", "yard");
  ASSERT_EQ(volts.corner.size(), 3u);
  EXPECT_EQ(volts.corner[0].pointer, "/parts/giver/network_switch/poe_min_V");
  EXPECT_EQ(volts.corner[0].value, 44.0);
  EXPECT_EQ(volts.corner[1].pointer, "/cables/k_yard");
  EXPECT_NEAR(volts.corner[1].value, 5.1, 1e-9);
  EXPECT_EQ(volts.corner[2].pointer, "/parts/eye/camera/power_W");
  EXPECT_EQ(volts.corner[2].value, 6.5);
}

TEST(Poe, TheWorstCornerCounts) {
  const auto volts = only(poe_answers(R"([
    {"op": "replace", "path": "/parts/giver/network_switch/poe_min_V", "value": {"value": 48, "min": 44, "max": 57}},
    {"op": "replace", "path": "/parts/eye/camera/power_W", "value": {"value": 6, "min": 5, "max": 7}},
    {"op": "replace", "path": "/areas/house/temperature_max_degC", "value": 60}])"),
                          "poe_voltage", "yard");
  // 40 K above 20 degC: 5 ohm times 1 + 40 * 3930e-6, and the joints, which the temperature does not move.
  const double loop = 5 * (1 + 40 * 3930e-6) + 0.1;
  EXPECT_NEAR(*volts.value, (44 + std::sqrt(44.0 * 44 - 4 * 7 * loop)) / 2, 1e-9);
  EXPECT_NEAR(*volts.nominal, (48 + std::sqrt(48.0 * 48 - 4 * 6 * 5.1)) / 2, 1e-9);
}

TEST(Poe, FourPairsHalveTheLoop) {
  const auto all = poe_answers(R"([
    {"op": "replace", "path": "/parts/eye/camera/poe_class", "value": 5},
    {"op": "replace", "path": "/parts/giver/network_switch/poe_class", "value": 6}])");
  EXPECT_NEAR(*only(all, "poe_loop", "yard").value, 2.55, 1e-9);
}

TEST(Poe, AClassThatIsNotServedIsBroken) {
  const auto high = only(poe_answers(R"([{"op": "replace", "path": "/parts/eye/camera/poe_class", "value": 4}])"),
                         "poe_class", "hall");  // its injector serves class 3
  EXPECT_EQ(high.verdict, Verdict::broken);
  EXPECT_FALSE(high.remedies.empty());
}

TEST(Poe, ClassZeroAsksForAsMuchAsClassThree) {
  const char* const patch = R"([
    {"op": "replace", "path": "/parts/eye/camera/poe_class", "value": 0},
    {"op": "replace", "path": "/parts/adder/injector/poe_class", "value": 2}])";
  EXPECT_EQ(only(poe_answers(patch), "poe_class", "hall").verdict, Verdict::broken);
}

TEST(Poe, ASwitchWithoutPowerGivesNone) {
  const auto all = poe_answers(R"([{"op": "replace", "path": "/parts/giver/network_switch/poe_ports", "value": 0}])");
  EXPECT_EQ(only(all, "poe_class", "yard").verdict, Verdict::broken);
  EXPECT_EQ(only(all, "poe_ports", "switch").verdict, Verdict::broken);
}

TEST(Poe, AVoltageThatFallsIsBrokenWithoutANumber) {
  const auto volts = only(poe_answers(R"([{"op": "replace", "path": "/parts/eye/camera/power_W", "value": 12.95},
    {"op": "replace", "path": "/parts/pairs/cable/resistance_ohm_per_km", "value": 800}])"),
                          "poe_voltage", "yard");  // 44^2 / (4 * 40.1) = 12.07 W
  EXPECT_EQ(volts.verdict, Verdict::broken);
  EXPECT_FALSE(volts.value.has_value());
  EXPECT_FALSE(volts.remedies.empty());
}

TEST(Poe, ACableBelowTheMarginIsThin) {
  // 37.5 V is reached where I = 6.5 W / 37.5 V drops 6.5 V: 37.5 ohm, over 50 m less the joints.
  const auto volts = only(poe_answers(R"([{"op": "replace", "path": "/parts/pairs/cable/resistance_ohm_per_km",
    "value": 748}])"),
                          "poe_voltage", "yard");
  EXPECT_NEAR(*volts.value, 37.5, 1e-9);
  EXPECT_EQ(volts.verdict, Verdict::thin);
}

TEST(Poe, ACameraThatTakesMoreThanItsClassIsBroken) {
  EXPECT_EQ(only(poe_answers(R"([{"op": "replace", "path": "/parts/eye/camera/poe_class", "value": 2},
    {"op": "replace", "path": "/parts/eye/camera/power_W", "value": 6.5}])"),
                 "poe_power", "yard")
                .verdict,
            Verdict::broken);  // class 2 may take 6.49 W
}

TEST(Poe, TheBudgetCountsClassesAndKeepsItsHeadroom) {
  const auto budget = [](double watts) {
    return only(poe_answers(R"([{"op": "replace", "path": "/parts/giver/network_switch/poe_budget_W", "value": )" +
                            std::to_string(watts) + "}]"),
                "poe_budget", "switch");
  };
  EXPECT_EQ(budget(60).value, 15.4);  // class 3, though the camera takes 6.5 W
  EXPECT_EQ(budget(15.3).verdict, Verdict::broken);
  EXPECT_EQ(budget(15.4).verdict, Verdict::thin);
  EXPECT_EQ(budget(17.1).verdict, Verdict::thin);
  EXPECT_EQ(budget(17.2).verdict, Verdict::proven);  // 15.4 of it leave a tenth
}

TEST(Poe, ABudgetThatIsBrokenAlreadyIsBrokenWhateverElseHangsOnIt) {
  const auto over = only(poe_answers(R"([{"op": "remove", "path": "/switches/switch/powers_complete"},
    {"op": "replace", "path": "/parts/giver/network_switch/poe_budget_W", "value": 12}])"),
                         "poe_budget", "switch");
  EXPECT_EQ(over.verdict, Verdict::broken);
  EXPECT_TRUE(lacks(over, "/switches/switch/powers_complete", "incomplete_list"));
}

TEST(Poe, MoreLinksThanPortsAreAFinding) {
  EXPECT_FALSE(any(poe_answers(), "switch_ports", "switch"));
  EXPECT_EQ(only(poe_answers(R"([{"op": "replace", "path": "/parts/giver/network_switch/ports", "value": 4}])"),
                 "switch_ports", "switch")
                .verdict,
            Verdict::broken);  // yard, injector, recorder, unit, router
}

TEST(Poe, AnInjectorJoinsTwoCablesToOneRun) {
  const auto all = poe_answers(R"([
    {"op": "add", "path": "/cables/k_a", "value": {"part": "pairs", "length_m": 60, "areas": ["house"], "joints": 2, "joint_ohm": 0}},
    {"op": "add", "path": "/cables/k_b", "value": {"part": "pairs", "length_m": 45, "areas": ["house"], "joints": 2, "joint_ohm": 0}},
    {"op": "replace", "path": "/data_links/l_injector/cable", "value": "k_a"},
    {"op": "replace", "path": "/data_links/l_hall/cable", "value": "k_b"}])");
  for (const char* link : {"l_injector", "l_hall"}) {
    EXPECT_EQ(only(all, "cable_run", link).value, 105.0);
    EXPECT_EQ(only(all, "cable_run", link).verdict, Verdict::broken);
  }
  EXPECT_NEAR(*only(all, "poe_loop", "hall").value, 4.5, 1e-9) << "only the cable behind the injector carries power";
}

TEST(Poe, GuessesNeverProve) {
  for (const char* origin : {"typical", "assumed"}) {
    const auto volts = only(poe_answers(R"([{"op": "replace", "path": "/parts/eye/camera/power_W",
      "value": {"value": 6.5, "origin": ")" +
                                        std::string(origin) + "\"}}]"),
                            "poe_voltage", "yard");
    EXPECT_EQ(volts.verdict, Verdict::unanswered);
    EXPECT_TRUE(lacks(volts, "/parts/eye/camera/power_W", origin));
  }
}

TEST(Poe, WhatIsMissingIsNamed) {
  expect_unanswered(check_power_over_data,
                    {{"/parts/eye/camera/poe_class", "poe_class", "yard"},
                     {"/parts/eye/camera/poe_class", "poe_voltage", "yard"},
                     {"/parts/eye/camera/poe_class", "poe_loop", "yard"},
                     {"/parts/eye/camera/poe_class", "poe_power", "yard"},
                     {"/parts/eye/camera/poe_class", "poe_budget", "switch"},
                     {"/parts/eye/camera/power_W", "poe_voltage", "yard"},
                     {"/parts/eye/camera/power_W", "poe_power", "hall"},
                     {"/parts/giver/network_switch/poe_class", "poe_class", "yard"},
                     {"/parts/giver/network_switch/poe_min_V", "poe_voltage", "yard"},
                     {"/parts/giver/network_switch/poe_budget_W", "poe_budget", "switch"},
                     {"/parts/giver/network_switch/poe_ports", "poe_ports", "switch"},
                     {"/parts/adder/injector/poe_class", "poe_class", "hall"},
                     {"/parts/adder/injector/poe_min_V", "poe_voltage", "hall"},
                     {"/switches/switch/powers_complete", "poe_budget", "switch", nullptr, "incomplete_list"},
                     {"/switches/switch/powers_complete", "poe_ports", "switch", nullptr, "incomplete_list"},
                     {"/switches/switch/part", "poe_class", "yard"},
                     {"/switches/switch/part", "poe_budget", "switch"},
                     {"/cameras/yard/part", "poe_voltage", "yard"},
                     {"/cables/k_yard/length_m", "poe_voltage", "yard"},
                     {"/cables/k_yard/length_m", "cable_run", "l_yard"},
                     {"/cables/k_yard/joints", "poe_loop", "yard"},
                     {"/cables/k_yard/part", "poe_loop", "yard"},
                     {"/data_links/l_yard/cable", "poe_voltage", "yard"},
                     {"/data_links/l_yard/cable", "cable_run", "l_yard"},
                     {"/data_links/l_yard/a", "poe_class", "yard"}});
  for (const auto& [rule, check] : std::vector<std::pair<std::string, const char*>>{{"poe_device_min_V", "poe_voltage"},
                                                                                    {"poe_margin_V", "poe_voltage"},
                                                                                    {"poe_pairs", "poe_loop"},
                                                                                    {"poe_loop_ohm", "poe_loop"},
                                                                                    {"poe_device_W", "poe_power"},
                                                                                    {"poe_port_W", "poe_class"}}) {
    const std::string pointer = "/rulebooks/european_intruder/entries/" + rule;
    const auto open = only(poe_answers(without(pointer)), check, "yard");
    EXPECT_EQ(open.verdict, Verdict::unanswered) << rule;
    EXPECT_TRUE(lacks(open, pointer, "no_rule")) << rule;
  }
}

}  // namespace
}  // namespace zoneproof::carriage
