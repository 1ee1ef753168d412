// A site with two supplies is also solved with each of them for itself on mains or battery. Held against the mixtures
// themselves, each made by hand: a site whose supply gives on mains what it would give at its battery's end.
#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <string>

#include "electric/deck.hpp"
#include "electric/hand_deck.hpp"
#include "electric/levels.hpp"
#include "electric/supply_check.hpp"

namespace zoneproof::electric {
namespace {

constexpr double same_bound_V = 1e-6;  // of a bound: an enclosure stops within it

/// Two supplies with batteries and cut-offs, joined by a bond; a unit on the second taps the panel on the first, whose
/// zone terminals stand on its raw rail. `mains` and `mains_2`: what they give on mains.
nlohmann::json two_supplies(double mains, double mains_2, double path_ohm, double own_A) {
  nlohmann::json patch = {
      {"zones",
       {{"z1",
         {{"loop",
           {{"arrangement", "double_eol"},
            {"contacts",
             {{"a", {{"detector", "da"}, {"contact", "closed"}, {"role", "alarm"}, {"shunt_ohm", "none"}}}}},
            {"eol_ohm", 4700},
            {"alarm_ohm", 6800}}}}}}}};
  const auto supply = [&](double volts, double flat) {
    return nlohmann::json{
        {"mains_V", volts},
        {"mains_no_battery_V", volts},
        {"mains_flat_battery_V", flat},
        {"cutoff_V", 10.4},
        {"battery_path_ohm", path_ohm},
        {"rating_A", 3},
        {"charge_A", 0.5},
        {"own_A", own_A},
        {"outputs", {{"aux", {{"rating_A", 2}, {"protection", "fuse"}, {"limit_A", 2.5}, {"series_ohm", 0.2}}}}}};
  };
  patch["parts"]["supply_part"]["supply"] = supply(mains, std::min(mains, 11.2));
  patch["parts"]["supply_part_2"] = {{"kind", "supply"}, {"supply", supply(mains_2, std::min(mains_2, 11.2))}};
  patch["parts"]["cells"] = {{"kind", "battery"},
                             {"battery",
                              {{"capacity_Ah", 7},
                               {"rated_h", 20},
                               {"peukert_exponent", 1.1},
                               {"full_V", 12.8},
                               {"empty_V", 10.8},
                               {"internal_ohm", 0.02},
                               {"internal_aged_factor", 2}}}};
  for (const char* id : {"accu", "accu_2"}) {
    patch["batteries"][id] = {{"part", "cells"},
                              {"supply", std::string(id) == "accu" ? "psu" : "psu2"},
                              {"area", "hall"},
                              {"blocks_in_parallel", 1},
                              {"age_years", 0}};
  }
  patch["supplies"]["psu2"] = {
      {"part", "supply_part_2"}, {"area", "hall"}, {"loads_complete", true}, {"batteries_complete", true}};
  patch["units"]["u1"]["feed"] = {{"from", "psu2"}, {"output", "aux"}};
  patch["bonds"]["between"] = {
      {"kind", "wire"}, {"a", "psu"}, {"b", "psu2"}, {"cable", "none"}, {"resistance_ohm", 0.3}};
  patch["parts"]["terminal_part"]["zone_terminal"] = {
      {"source", "raw_rail"}, {"source_V", nullptr}, {"source_pct", 100}};
  patch["parts"]["unit_part"]["unit"]["input"] = {{"pullup_ohm", 20000}, {"inner_rail_V", "none"}};
  return patch;
}

site::Site two_supply_site(double mains, double mains_2, double path_ohm = 0.0, double own_A = 0.0) {
  return base_site_with(two_supplies(mains, mains_2, path_ohm, own_A).dump());
}

std::vector<Level> levels_in(const site::Site& site, SupplyCondition condition) {
  const auto trigger = site.triggers.begin();
  return zone_levels(site, trigger->second.zone.id, trigger->first, {{condition}, {UnitCondition::powered}});
}

TEST(SuppliesApart, AreACaseOnlyWhereThereAreTwo) {
  const std::vector<SupplyCondition> one = supply_conditions(base_site_with("{}"));
  EXPECT_EQ(std::count(one.begin(), one.end(), SupplyCondition::supplies_apart), 0);
  const std::vector<SupplyCondition> two = supply_conditions(two_supply_site(13.6, 13.2));
  EXPECT_EQ(std::count(two.begin(), two.end(), SupplyCondition::supplies_apart), 1);
}

TEST(SuppliesApart, LevelsAreThoseOfTheWorstMixture) {
  const std::vector<Level> apart = levels_in(two_supply_site(13.6, 13.2), SupplyCondition::supplies_apart);
  ASSERT_FALSE(apart.empty());
  std::vector<std::vector<Level>> mixtures;
  for (double mains : {10.4, 13.6}) {
    for (double mains_2 : {10.4, 13.2})
      mixtures.push_back(levels_in(two_supply_site(mains, mains_2), SupplyCondition::mains));
  }
  for (std::size_t i = 0; i < apart.size(); ++i) {
    SCOPED_TRACE(apart[i].situation.name());
    ASSERT_TRUE(apart[i].unit && apart[i].panel);
    EXPECT_TRUE(apart[i].solved.gaps.empty());
    for (std::size_t which : {*apart[i].panel, *apart[i].unit}) {
      double low = circuit::infinite, high = -circuit::infinite;
      for (const std::vector<Level>& mixture : mixtures) {
        low = std::min(low, mixture.at(i).solved.cases.at(which).low.bound);
        high = std::max(high, mixture.at(i).solved.cases.at(which).high.bound);
      }
      EXPECT_NEAR(apart[i].solved.cases.at(which).low.bound, low, same_bound_V);
      EXPECT_NEAR(apart[i].solved.cases.at(which).high.bound, high, same_bound_V);
    }
  }
}

TEST(SuppliesApart, HoldEveryConditionThatAllSuppliesShare) {
  const site::Site site = two_supply_site(13.6, 13.2, 0.4, 0.05);
  const std::vector<Level> apart = levels_in(site, SupplyCondition::supplies_apart);
  for (SupplyCondition shared :
       {SupplyCondition::mains, SupplyCondition::mains_no_battery, SupplyCondition::mains_flat_battery,
        SupplyCondition::battery_full, SupplyCondition::battery_cutoff}) {
    const std::vector<Level> common = levels_in(site, shared);
    ASSERT_EQ(common.size(), apart.size());
    for (std::size_t i = 0; i < apart.size(); ++i) {
      SCOPED_TRACE(common[i].situation.name());
      for (std::size_t which : {*apart[i].panel, *apart[i].unit}) {
        EXPECT_LE(apart[i].solved.cases.at(which).low.bound, common[i].solved.cases.at(which).low.bound + same_bound_V);
        EXPECT_GE(apart[i].solved.cases.at(which).high.bound,
                  common[i].solved.cases.at(which).high.bound - same_bound_V);
      }
    }
  }
}

TEST(SuppliesApart, NominalIsThePanelAtItsBatterysEndAndTheUnitOnMains) {
  const site::Site site = two_supply_site(13.6, 13.2, 0.4, 0.05);
  const SupplyPoint point = solve_supply(site, SupplyCondition::supplies_apart);
  const circuit::Solution nominal = circuit::solve(point.wiring.network);
  const Poles first = point.backbone.supplies.at("psu"), second = point.backbone.supplies.at("psu2");
  EXPECT_LT(nominal.at(circuit::Quantity::voltage(first.plus, first.minus)), 10.4);
  EXPECT_NEAR(nominal.at(circuit::Quantity::voltage(second.plus, second.minus)), 13.2, same_bound_V);
  bool in_the_deck = false;
  for (const DeckPoint& one : deck_points(site)) in_the_deck = in_the_deck || one.name.rfind("supplies_apart/", 0) == 0;
  EXPECT_TRUE(in_the_deck);
}

}  // namespace
}  // namespace zoneproof::electric
