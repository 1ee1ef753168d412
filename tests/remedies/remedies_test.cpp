// Remedies on the demo sites with one thing wrong, and on changed ones. What is told of each is held against a fresh
// proof of the patched site: written, read again, all of it proven anew.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <optional>

#include "electric/levels.hpp"
#include "electric/tracked.hpp"
#include "proof/demo.hpp"
#include "remedies/held_against_proof.hpp"
#include "remedies/remedy.hpp"
#include "remedies/site_change.hpp"
#include "site/file.hpp"
#include "site/shelf.hpp"

namespace zoneproof::remedies {
namespace {

struct Case {
  const char* fault;
  const char* zone;
  const char* subject;
  chain::Link link;
  Kind kind;
};

class Answer : public testing::TestWithParam<Case> {};

/// The answer that a technician would give is the first of the list, and it is true.
TEST_P(Answer, is_the_first_of_the_list_and_true) {
  const Case& wanted = GetParam();
  const site::Site site = faulty(wanted.fault);
  const std::vector<Problem> problems = find_remedies(site, site::common_costs(), wanted.zone).problems;
  const Problem* problem = problem_of(problems, wanted.subject, wanted.link);
  ASSERT_NE(problem, nullptr);
  ASSERT_FALSE(problem->remedies.empty()) << listed(*problem);
  EXPECT_EQ(problem->remedies.front().kind, wanted.kind) << listed(*problem);
  EXPECT_EQ(problem->remedies.front().verdict, Verdict::proven);
  expect_true(site, *problem, problem->remedies.front());
}

INSTANTIATE_TEST_SUITE_P(
    all, Answer,
    testing::Values(Case{"input-range-too-narrow", "z4", "z4", chain::Link::trigger, Kind::other_range},
                    Case{"taps-swapped", "z1", "z1", chain::Link::trigger, Kind::other_terminal},
                    Case{"tap-on-wrong-terminal", "z2", "z2", chain::Link::trigger, Kind::other_terminal},
                    Case{"tap-on-empty-terminal", "z1", "z1", chain::Link::trigger, Kind::other_terminal},
                    Case{"arming-without-pull-up", "z1", "unit", chain::Link::trigger, Kind::pull_up},
                    Case{"arming-inverted", "z1", "unit", chain::Link::trigger, Kind::armed_level},
                    Case{"negative-not-joined", "z1", "unit_house", chain::Link::trigger, Kind::second_negative},
                    Case{"cable-too-thin", "z1", "unit_house", chain::Link::trigger, Kind::second_negative},
                    Case{"cable-too-thin", "z1", "unit_house", chain::Link::deliver, Kind::thicker_cable}),
    [](const auto& instance) {
      std::string name = instance.param.fault;
      for (char& c : name) c = c == '-' ? '_' : c;
      return name + "_" + chain::word(instance.param.link);
    });

TEST(Remedies, AllOfASiteAreTrue) {
  const site::Site site = site_of(kiln_yard());
  const std::vector<Problem> problems = find_remedies(site, site::common_costs()).problems;
  EXPECT_GE(problems.size(), 5u);
  std::size_t count = 0;
  for (const Problem& problem : problems) {
    EXPECT_TRUE(problem.verdict == Verdict::broken || problem.verdict == Verdict::thin);
    for (const Remedy& remedy : problem.remedies) {
      expect_true(site, problem, remedy);
      ++count;
    }
  }
  EXPECT_GE(count, 5u);
}

/// A battery that lasts is compared with a supply of its own for the unit; both are told, the cheaper first.
TEST(Remedies, LargerBatteryAndOwnSupplyAreComparedByWhatTheyCost) {
  const site::Site site = site_of(kiln_yard());
  const auto by_minutes = find_remedies(site, site::common_costs(), "z1").problems;
  const Problem* problem = problem_of(by_minutes, "panel_supply", chain::Link::deliver);
  ASSERT_NE(problem, nullptr);
  ASSERT_GE(problem->remedies.size(), 2u) << listed(*problem);
  EXPECT_FALSE(problem->by_money);
  EXPECT_EQ(problem->remedies.front().kind, Kind::larger_battery);
  const Remedy* supply = remedy_of(*problem, Kind::own_supply);
  ASSERT_NE(supply, nullptr);
  EXPECT_FALSE(supply->cost.money);

  site::Costs own;  // batteries are dear here, and work is cheap
  own.hourly_wage = site::Value::exactly(1.0, site::Origin::measured);
  for (const Remedy& remedy : problem->remedies) {
    for (const site::PartNeed& need : remedy.bill.parts)
      own.prices[need.part].price = site::Value::exactly(10.0, site::Origin::measured);
  }
  for (const site::PartNeed& need : problem->remedies.front().bill.parts)
    own.prices[need.part].price = site::Value::exactly(10000.0, site::Origin::measured);
  for (const site::PartNeed& need : supply->bill.parts)
    own.prices[need.part].price = site::Value::exactly(10.0, site::Origin::measured);
  const auto by_money = find_remedies(site, site::costs_over(site::common_costs(), own), "z1").problems;
  const Problem* again = problem_of(by_money, "panel_supply", chain::Link::deliver);
  ASSERT_NE(again, nullptr);
  EXPECT_TRUE(again->by_money);
  double last = 0.0;
  for (const Remedy& remedy : again->remedies) {
    ASSERT_TRUE(remedy.cost.money);
    EXPECT_GE(*remedy.cost.money, last);
    last = *remedy.cost.money;
  }
}

/// I R of the conductors, out and back, before and after: the drop of the yard's sounder, closed form. Its current at
/// the worst corner follows from the drop that was there; copper's resistance is that of the parts at the same heat.
TEST(Remedies, AThickerCableGivesBackWhatOhmsLawSays) {
  const site::Site site = site_of(kiln_yard());
  const auto problems = find_remedies(site, site::common_costs()).problems;
  const Problem* problem = problem_of(problems, "sounder_yard", chain::Link::deliver);
  ASSERT_NE(problem, nullptr);
  const Remedy* remedy = remedy_of(*problem, Kind::thicker_cable);
  ASSERT_NE(remedy, nullptr) << listed(*problem);
  const site::Site thick = patched(site, *remedy);
  const auto core = [](const site::Site& of) { return electric::conductor_ohm(of, "k_sounder_yard").range.high; };
  constexpr double most_A = 0.43;  // the sounder's sheet: 20 mA at rest and 410 mA more in alarm
  const double regained_V = remedy->decisive->value.value() - problem->evidence.front().value.value();
  EXPECT_NEAR(regained_V, most_A * 2.0 * (core(site) - core(thick)), 1e-3);
  const double before = site.parts.at(site.cables.at("k_sounder_yard").part.id).cable->conductor_mm2.nominal;
  const double after = thick.parts.at(thick.cables.at("k_sounder_yard").part.id).cable->conductor_mm2.nominal;
  EXPECT_GT(after, before);
  // No smaller section of the shelf does: each is tried.
  for (const std::string& id : shelf_cables()) {
    const site::CableSpec& spec = *site::parts_shelf().at(id).cable;
    if (!spec.conductor_mm2.known() || spec.conductor_awg.known() || spec.conductor_mm2.nominal >= after) continue;
    site::Site thin = site;
    ASSERT_TRUE(take_part(thin, id));
    thin.cables.at("k_sounder_yard").part.id = id;
    const Checks checks = checks_of(demo::prove_wiring(demo::site_of(site::write_site(thin), id)));
    EXPECT_NE(checks.at("sounder_yard/deliver/supply_voltage"), Verdict::proven) << id;
  }
}

/// The office's input, ten times as hard on its loop: the panel is disturbed, and a resistor in the wire is the answer.
Json loaded_loop() {
  Json json = kiln_yard();
  own_part(json, "unit_8_ranges_1m")["unit"]["input"]["impedance_ohm"] = {
      {"value", 100000}, {"min", 95000}, {"max", 105000}};
  return json;
}

/// Level of zone 3 at rest on mains, nominal, at the panel and at the unit.
std::pair<double, double> at_rest(const site::Site& site) {
  electric::LevelScope scope;
  scope.supplies = {electric::SupplyCondition::mains};
  scope.units = {electric::UnitCondition::powered};
  for (const electric::Level& level : electric::zone_levels(site, "z3", "t3", scope)) {
    if (level.situation.state.happening != electric::Happening::rest) continue;
    return {level.solved.cases.at(*level.panel).nominal, level.solved.cases.at(*level.unit).nominal};
  }
  ADD_FAILURE() << "no level at rest";
  return {};
}

/// Vs behind Rp, on it the loop and, across the loop, Rs and the input's Z in series: two dividers.
TEST(Remedies, ASeriesResistorIsTheSmallestThatLeavesThePanelInPeaceAndReadsAsTwoDividersSay) {
  const site::Site site = site_of(loaded_loop());
  const std::optional<Cure> cure = true_cure(site, "z3", "z3", chain::Link::loop, Kind::series_resistor);
  ASSERT_TRUE(cure);
  const site::Site& with = cure->with;
  const double series = with.triggers.at("t3").series_ohm.nominal;

  constexpr double source_V = 5.0, pullup = 5600.0, eol = 5600.0, input = 100000.0;
  const double tap = series + input, loop = eol * tap / (eol + tap);
  const double panel_V = source_V * loop / (pullup + loop);
  const auto [panel, unit] = at_rest(with);
  EXPECT_NEAR(panel, panel_V, 0.01 * panel_V);  // cable, joints, leakage and other zones' taps
  EXPECT_NEAR(unit, panel_V * input / tap, 0.01 * panel_V);

  // The next smaller one of the shelf proves less.
  const auto& shelf = shelf_resistors();
  const auto next =
      std::find_if(shelf.begin(), shelf.end(), [&](const ShelfResistor& one) { return one.ohm.nominal >= series; });
  ASSERT_NE(next, shelf.begin());
  site::Site smaller = site;
  smaller.triggers.at("t3").series_ohm = std::prev(next)->ohm;
  const Checks checks = checks_of(demo::prove_wiring(demo::site_of(site::write_site(smaller), "smaller")));
  std::vector<Verdict> verdicts;
  for (const chain::Evidence& evidence : cure->problem.evidence)
    verdicts.push_back(checks.at("z3/loop/" + evidence.id));
  EXPECT_LT(chain::rank(chain::together(verdicts)), chain::rank(cure->remedy.verdict));
}

/// An input that measures no further than 2.2 V cannot tell 2.4 V from 3.3 V: a divider brings both into its range.
TEST(Remedies, ADividerBringsLevelsIntoTheInputsRange) {
  Json json = kiln_yard();
  Json& input = own_part(json, "unit_8_ranges_1m")["unit"]["input"];
  input["measuring_max_V"] = 2.2;
  for (const char* fine : {"error_V", "hysteresis_V", "step_V"})
    input[fine] = 0.01;  // what is left of the levels is less
  const site::Site site = site_of(json);
  const std::optional<Cure> cure = true_cure(site, "z3", "z3", chain::Link::trigger, Kind::divider);
  ASSERT_TRUE(cure);
  const site::Site& with = cure->with;
  const site::Trigger& trigger = with.triggers.at("t3");
  const double lower = trigger.pulldown_ohm.nominal * 1e6 / (trigger.pulldown_ohm.nominal + 1e6);
  const auto [panel, unit] = at_rest(with);
  EXPECT_NEAR(unit, panel * lower / (trigger.series_ohm.nominal + lower), 0.01 * panel);
  EXPECT_LE(trigger.setting.normal_max_V.nominal, 2.2);
}

/// An input of 10 kohm can stand on no loop of 5.6 kohm; a second relay of the detector works it.
TEST(Remedies, ASpareContactWorksAnInputThatNoLoopCarries) {
  Json json = kiln_yard();
  take_from_shelf(json, "pir_wide_12m_spare");
  json["detectors"]["d_office"]["part"] = "pir_wide_12m_spare";
  // A relay tells an alarm and nothing else: a rulebook that also asks for pictures of tampering is another matter.
  Json& book = json["rulebooks"]["european_intruder"];
  book.erase("hash");
  for (auto& [state, rule] : book["states"].items()) {
    if (state != "rest" && state != "alarm") rule["trigger"] = "either";
  }
  own_part(json, "unit_8_ranges_1m")["unit"]["input"]["impedance_ohm"] = {
      {"value", 10000}, {"min", 9500}, {"max", 10500}};
  const site::Site site = site_of(json);
  const std::optional<Cure> cure = true_cure(site, "z3", "z3", chain::Link::loop, Kind::spare_contact);
  ASSERT_TRUE(cure);
  const site::Site& with = cure->with;
  EXPECT_TRUE(with.triggers.at("t3").source.is(site::TriggerSource::spare_contact));
  EXPECT_EQ(with.triggers.at("t3").detector.id, "d_office");
}

/// The battery that lasts takes the charger too long: it would cure the supply and break another check.
TEST(Remedies, WhatCuresOneThingAndWorsensAnotherIsRefusedAndSaysWhy) {
  const site::Site site = faulty("wrong-battery-size");
  const auto problems = find_remedies(site, site::common_costs(), "z1").problems;
  const Problem* problem = problem_of(problems, "video_supply", chain::Link::deliver);
  ASSERT_NE(problem, nullptr);
  EXPECT_EQ(remedy_of(*problem, Kind::larger_battery), nullptr) << listed(*problem);
  const auto refused = std::find_if(problem->refused.begin(), problem->refused.end(),
                                    [](const Refused& one) { return one.kind == Kind::larger_battery; });
  ASSERT_NE(refused, problem->refused.end()) << listed(*problem);
  EXPECT_THAT(text(refused->because), testing::HasSubstr("recharge"));
}

/// Wherever a datum that a cure rests on is unknown, it is no cure: what is told is answered after, whatever is blank.
TEST(Remedies, NothingUnknownCures) {
  for (const char* blank :
       {"/parts/unit_8_ranges_1m/unit/input/impedance_ohm", "/parts/unit_8_ranges_1m/unit/input/error_V",
        "/zones/z5/loop/eol_ohm", "/cables/k_unit/length_m", "/bonds_complete",
        "/parts/unit_8_ranges_1m/unit/input/hysteresis_V"}) {
    Json json = kiln_yard();
    ASSERT_TRUE(json.contains(Pointer(blank))) << blank;
    json[Pointer(blank)] = nullptr;
    const site::Site site = site_of(json);
    for (const Problem& problem : find_remedies(site, site::common_costs(), "z5").problems) {
      for (const Remedy& remedy : problem.remedies) {
        EXPECT_NE(remedy.verdict, Verdict::unanswered) << blank << ": " << text(remedy.says);
        expect_true(site, problem, remedy);
      }
      if (problem.subject != "z5") continue;
      EXPECT_TRUE(problem.remedies.empty()) << blank << ": " << listed(problem);
    }
  }
}

TEST(Remedies, AreTheSameEveryTime) {
  const site::Site site = faulty("input-range-too-narrow");
  const auto told = [&] {
    std::string all;
    for (const Problem& problem : find_remedies(site, site::common_costs()).problems) {
      for (const Remedy& remedy : problem.remedies) all += remedy.patch + text(remedy.says);
      all += listed(problem);
    }
    return all;
  };
  const std::string first = told();
  EXPECT_FALSE(first.empty());
  EXPECT_EQ(first, told());
}

}  // namespace
}  // namespace zoneproof::remedies
