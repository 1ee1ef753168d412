// Changes of what is fed: cores, outputs, supplies, batteries, against Ohm's law and by trying every other choice.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "electric/supply_check.hpp"
#include "electric/tracked.hpp"
#include "proof/demo.hpp"
#include "remedies/held_against_proof.hpp"
#include "remedies/site_change.hpp"
#include "site/file.hpp"
#include "site/shelf.hpp"

namespace zoneproof::remedies {
namespace {

using testing::HasSubstr;

constexpr double kSounder_A = 0.43;  // its sheet: at most 30 mA at rest and 400 mA more in alarm

/// Resistance of one conductor of the yard sounder's cable at the worst corner.
double conductor(const site::Site& site) { return electric::conductor_ohm(site, "k_sounder_yard").range.high; }

Json& output(Json& json, const char* id) { return own_part(json, "panel_supply_3a")["supply"]["outputs"][id]; }

const chain::Evidence& worst(const Problem& problem) { return problem.evidence.front(); }

/// The panel's battery so large that it is no problem.
Json with_large_battery() {
  Json json = kiln_yard();
  take_from_shelf(json, "battery_38ah");
  json["batteries"]["panel_battery"]["part"] = "battery_38ah";
  return json;
}

/// Two cores in parallel have half the copper's resistance; the joints at the ends stay. By the table: 20 ohm/km (IEC
/// 60228, class 5, 1 mm2, tinned), 24 m, 34 degC in the workshop, 0.00393 / K (IEC 60028).
TEST(FeedChanges, TwoCoresInParallelGiveBackHalfOfTheDropOfTheCopper) {
  Json json = with_large_battery();
  take_from_shelf(json, "cable_4x1_0_flexible");
  json["cables"]["k_sounder_yard"]["part"] = "cable_4x1_0_flexible";
  const site::Site site = site_of(json);
  const auto problems = find_remedies(site, site::common_costs()).problems;
  const Problem* problem = problem_of(problems, "sounder_yard", chain::Link::deliver);
  ASSERT_NE(problem, nullptr);
  const Remedy* remedy = remedy_of(*problem, Kind::more_cores);
  ASSERT_NE(remedy, nullptr) << listed(*problem);
  expect_true(site, *problem, *remedy);
  const site::Site with = patched(site, *remedy);
  EXPECT_EQ(with.cables.at("k_sounder_yard").cores_in_parallel.value, 2);
  const double copper = 20.0e-3 * 24.0 * (1.0 + 0.00393 * (34.0 - 20.0));
  EXPECT_NEAR(conductor(site) - conductor(with), 0.5 * copper, 1e-6);
  const double regained_V = remedy->decisive->value.value() - worst(*problem).value.value();
  EXPECT_NEAR(regained_V, kSounder_A * copper, 1e-3);
  EXPECT_EQ(problem->remedies.front().kind, Kind::more_cores) << "cores that are there cost less than a cable";
}

/// A worn output, 1 ohm more than its neighbour: what is moved to the neighbour regains I times what they differ by.
TEST(FeedChanges, AnotherOutputGivesBackWhatItsResistanceIsSmaller) {
  Json json = with_large_battery();
  output(json, "sounder")["series_ohm"] = {{"value", 1.0}, {"min", 0.9}, {"max", 1.12}};
  json["loads"]["sounder_shop"]["feed"]["output"] = "aux3";  // alone on its output, so that its own current is all
  json["cables"]["k_sounder_yard"]["length_m"] = 14;
  const site::Site site = site_of(json);
  const auto problems = find_remedies(site, site::common_costs()).problems;
  const Problem* problem = problem_of(problems, "sounder_yard", chain::Link::deliver);
  ASSERT_NE(problem, nullptr);
  const Remedy* remedy = remedy_of(*problem, Kind::other_output);
  ASSERT_NE(remedy, nullptr) << listed(*problem);
  expect_true(site, *problem, *remedy);
  // Its neighbours carry other things: the drop there is theirs too. Aux 1 carries the unit.
  const site::Site with = patched(site, *remedy);
  const std::string to = with.loads.at("sounder_yard").feed.output;
  double others_A = -kSounder_A;
  const electric::SupplyPoint point = electric::solve_supply(with, electric::SupplyCondition::battery_cutoff);
  others_A += electric::drawn_from(with, point, "panel_supply", to).most_A;
  const double regained_V = remedy->decisive->value.value() - worst(*problem).value.value();
  EXPECT_NEAR(regained_V, kSounder_A * 1.12 - (kSounder_A + others_A) * 0.12, 5e-3) << to;
}

/// The unit's output is worn; on the detectors' it gets what it needs, and takes it from them: 5.6 W at some 9.6 V over
/// at most 0.3 ohm are 175 mV, and the farthest detector has less than that over the margin that is asked for.
TEST(FeedChanges, AnOutputThatStarvesTheDetectorsOfAnotherZoneIsRefusedAndNamesThem) {
  Json json = with_large_battery();
  const Json worn = {{"value", 2.0}, {"min", 1.9}, {"max", 2.1}};
  for (const char* id : {"aux1", "aux3", "sounder"}) output(json, id)["series_ohm"] = worn;
  Json& good = output(json, "aux2");
  good["series_ohm"] = {{"value", 0.29}, {"min", 0.28}, {"max", 0.3}};
  good["rating_A"] = 2;
  good["limit_A"] = {{"value", 4}, {"min", 3.5}, {"max", 4.5}};
  for (const char* id : {"sounder_yard", "sounder_shop"}) json["loads"].erase(id);
  const site::Site site = site_of(json);
  const auto problems = find_remedies(site, site::common_costs(), "z5").problems;
  const Problem* problem = problem_of(problems, "unit", chain::Link::deliver);
  ASSERT_NE(problem, nullptr);
  const Refused* refused = refused_of(*problem, Kind::other_output);
  ASSERT_NE(refused, nullptr) << listed(*problem);
  EXPECT_THAT(text(refused->says), HasSubstr("Auxiliary 2"));
  EXPECT_THAT(text(refused->because), HasSubstr("supply_voltage of Back window"));

  site::Site moved = site;
  moved.units.at("unit").feed.output = "aux2";
  const proof::Proof before = demo::prove_wiring(site), after = demo::prove_wiring(moved);
  const Checks then = checks_of(before), now = checks_of(after);
  EXPECT_EQ(then.at("unit/deliver/supply_voltage"), Verdict::broken);
  EXPECT_EQ(now.at("unit/deliver/supply_voltage"), Verdict::proven);
  EXPECT_EQ(then.at("d_back_window/sense/supply_voltage"), Verdict::proven);
  EXPECT_EQ(now.at("d_back_window/sense/supply_voltage"), Verdict::thin);
}

/// What feeds the unit no more has its current to spare: the panel's supply gives what it gave, less the unit's.
TEST(FeedChanges, ASupplyOfItsOwnTakesTheUnitsCurrentOffTheOld) {
  const site::Site site = site_of(kiln_yard());
  const std::optional<Cure> cure = true_cure(site, "z1", "panel_supply", chain::Link::deliver, Kind::own_supply);
  ASSERT_TRUE(cure);
  const site::Site& with = cure->with;
  EXPECT_NE(with.units.at("unit").feed.from.id, "panel_supply");
  const auto drawn = [](const site::Site& of) {
    return electric::drawn_from(of, electric::solve_supply(of, electric::SupplyCondition::mains), "panel_supply", "");
  };
  // At most 5.6 W at the lowest voltage on mains, 13.4 V less the drop of some tens of millivolts in its feed.
  EXPECT_NEAR(drawn(site).most_A - drawn(with).most_A, 5.6 / 13.4, 0.01);
  EXPECT_EQ(with.bonds.size(), site.bonds.size() + 1);
}

/// Life by the rulebook is what ends: a battery of its kind, new, begins it again.
TEST(FeedChanges, ANewBatteryOfItsKindIsEnoughWhereOnlyItsAgeIsWrong) {
  Json json = with_large_battery();
  json["batteries"]["panel_battery"]["age_years"] = 9;
  const site::Site site = site_of(json);
  const auto problems = find_remedies(site, site::common_costs(), "z1").problems;
  const Problem* problem = problem_of(problems, "panel_supply", chain::Link::deliver);
  ASSERT_NE(problem, nullptr);
  ASSERT_TRUE(std::any_of(problem->evidence.begin(), problem->evidence.end(),
                          [](const chain::Evidence& evidence) { return evidence.id == "battery_age"; }));
  const Remedy* remedy = remedy_of(*problem, Kind::new_battery);
  ASSERT_NE(remedy, nullptr) << listed(*problem);
  expect_true(site, *problem, *remedy);
  const site::Site with = patched(site, *remedy);
  EXPECT_EQ(with.batteries.at("panel_battery").part.id, "battery_38ah");
  EXPECT_EQ(with.batteries.at("panel_battery").age_years.nominal, 0.0);
}

/// A worn output and a thin cable: a good output alone leaves the cable's drop, the thickest cable the output's.
Json worn_and_thin() {
  Json json = with_large_battery();
  take_from_shelf(json, "cable_2x0_5_flexible");
  json["cables"]["k_sounder_yard"]["part"] = "cable_2x0_5_flexible";
  output(json, "sounder")["series_ohm"] = {{"value", 1.5}, {"min", 1.4}, {"max", 1.6}};
  return json;
}

/// Whether the sounder gets enough from that output over that cable, and nothing else of the supply is worse.
bool cures(const site::Site& site, const std::string& on, const std::string& cable) {
  site::Site tried = site;
  EXPECT_TRUE(take_part(tried, cable));
  tried.cables.at("k_sounder_yard").part.id = cable;
  tried.loads.at("sounder_yard").feed.output = on;
  const auto verdicts = [](const site::Site& of) {
    Checks all;
    for (const chain::Evidence& one : electric::check_supply(of)) all[one.subject + "/" + one.id] = one.verdict;
    return all;
  };
  Checks then = verdicts(site);
  for (const auto& [check, verdict] : verdicts(tried)) {
    if (chain::rank(verdict) < chain::rank(then[check])) return false;
    if (check == "sounder_yard/supply_voltage" && verdict != Verdict::proven) return false;
  }
  return true;
}

TEST(Pairs, TwoChangesThatOnlyTogetherGiveEnoughAreFoundAndTold) {
  const site::Site site = site_of(worn_and_thin());
  // By trying them all: no cable alone, no output alone, but some cable with some output.
  const std::string old_cable = "cable_2x0_5_flexible", old_output = "sounder";
  bool together = false;
  for (const std::string on : {"sounder", "aux1", "aux2", "aux3"}) {
    for (const std::string& cable : shelf_cables()) {
      if (site::parts_shelf().at(cable).cable->conductor_awg.known()) continue;
      const bool does = cures(site, on, cable);
      if (on == old_output || cable == old_cable) {
        EXPECT_FALSE(does) << on << " " << cable;
      }
      together = together || does;
    }
  }
  ASSERT_TRUE(together);

  const auto problems = find_remedies(site, site::common_costs()).problems;
  const Problem* problem = problem_of(problems, "sounder_yard", chain::Link::deliver);
  ASSERT_NE(problem, nullptr);
  EXPECT_GT(problem->pairs_tried, 0);
  EXPECT_LE(problem->pairs_tried, 12);
  ASSERT_FALSE(problem->remedies.empty()) << listed(*problem);
  const Remedy& pair = problem->remedies.front();
  EXPECT_EQ(pair.kind, Kind::combined) << listed(*problem);
  EXPECT_EQ(pair.verdict, Verdict::proven);
  expect_true(site, *problem, pair);
  EXPECT_THAT(pair.patch, HasSubstr("/loads/sounder_yard/feed/output"));
  EXPECT_THAT(pair.patch, HasSubstr("k_sounder_yard"));
  const auto needs = [&](const char* task) {
    return std::any_of(pair.bill.work.begin(), pair.bill.work.end(),
                       [&](const site::WorkNeed& need) { return need.task == task; });
  };
  EXPECT_TRUE(needs("move_wire") && needs("run_cable")) << "the bill of a pair is that of both";
}

TEST(Pairs, AreNotTriedWhereOneChangeProvesAll) {
  const site::Site site = site_of(kiln_yard());
  for (const Problem& problem : find_remedies(site, site::common_costs()).problems) {
    const bool proven = !problem.remedies.empty() && problem.remedies.front().verdict == Verdict::proven;
    if (proven) {
      EXPECT_EQ(problem.pairs_tried, 0) << problem.subject;
    }
    EXPECT_EQ(remedy_of(problem, Kind::combined), nullptr) << listed(problem);
  }
}

}  // namespace
}  // namespace zoneproof::remedies
