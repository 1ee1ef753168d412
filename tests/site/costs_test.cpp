// What a change costs: sums by hand, own figures over the program's, and what nobody entered stays unknown.
#include "site/costs.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/message.hpp"

namespace zoneproof::site {
namespace {

constexpr const char* kOwn = R"({"format": "zoneproof-costs", "version": 1, "currency": "crowns", "hourly_wage": 60,
  "tasks": {"fit_resistor": {"minutes": 6, "verified": true, "source": "own time sheets"},
            "test_zone": {"minutes": 3}},
  "prices": {"resistor_10k_1pct": {"price": 0.5, "source": "own list"}, "battery_7ah": {"price": 30}}})";

Costs own() {
  CostsResult read = read_costs(kOwn, "own.costs.json");
  for (const Message& message : read.messages) ADD_FAILURE() << full_text(message);
  return std::move(read.costs);
}

TEST(Costs, TheProgramBringsMinutesThatNobodyCheckedAndNoPrice) {
  const Costs& common = common_costs();
  EXPECT_FALSE(common.tasks.empty());
  EXPECT_TRUE(common.prices.empty());
  EXPECT_TRUE(common.hourly_wage.unknown());
  for (const auto& [id, task] : common.tasks) {
    EXPECT_TRUE(task.minutes.known()) << id;
    EXPECT_FALSE(task.verified.yes()) << id;
    EXPECT_EQ(task.source, "common practice, no source") << id;
    EXPECT_FALSE(task.meaning.empty()) << id;
  }
}

TEST(Costs, OwnFiguresCountAndTheOthersStay) {
  const Costs costs = costs_over(common_costs(), own());
  EXPECT_EQ(costs.currency, "crowns");
  EXPECT_DOUBLE_EQ(costs.tasks.at("fit_resistor").minutes.nominal, 6.0);
  EXPECT_EQ(costs.tasks.at("fit_resistor").meaning, common_costs().tasks.at("fit_resistor").meaning);
  EXPECT_TRUE(costs.tasks.at("fit_resistor").verified.yes());
  EXPECT_DOUBLE_EQ(costs.tasks.at("test_zone").minutes.nominal, 3.0);
  EXPECT_EQ(costs.tasks.at("test_zone").meaning, common_costs().tasks.at("test_zone").meaning);
  EXPECT_DOUBLE_EQ(costs.tasks.at("move_wire").minutes.nominal, common_costs().tasks.at("move_wire").minutes.nominal);
}

TEST(Costs, ASumIsPartsAndWorkAtTheWage) {
  const Bill bill{{{"resistor_10k_1pct", 2.0}, {"battery_7ah"}}, {{"fit_resistor", 2.0}, {"test_zone"}}};
  const Cost cost = cost_of(bill, costs_over(common_costs(), own()));
  EXPECT_DOUBLE_EQ(cost.minutes.value(), 2 * 6.0 + 3.0);
  EXPECT_DOUBLE_EQ(cost.money.value(), 2 * 0.5 + 30.0 + 60.0 * 15.0 / 60.0);
  EXPECT_DOUBLE_EQ(cost.pieces, 3.0);
  EXPECT_TRUE(cost.missing.empty());
  EXPECT_FALSE(cost.verified);  // nobody checked the minutes of "test_zone"
}

TEST(Costs, WhatNobodyEnteredIsNamedAndMakesNoSum) {
  const Bill bill{{{"battery_12ah"}}, {{"fit_battery"}, {"no_such_task"}}};
  const Cost cost = cost_of(bill, common_costs());
  EXPECT_FALSE(cost.minutes);
  EXPECT_FALSE(cost.money);
  EXPECT_THAT(cost.missing, testing::UnorderedElementsAre("/tasks/no_such_task", "/prices/battery_12ah"));
  const Cost without_wage = cost_of({{}, {{"fit_battery"}}}, common_costs());
  EXPECT_TRUE(without_wage.minutes);
  EXPECT_FALSE(without_wage.money);
  EXPECT_THAT(without_wage.missing, testing::ElementsAre("/hourly_wage"));
}

TEST(Costs, MoneyDecidesOnlyWhereAllOfItIsKnown) {
  Cost quick, cheap, open;
  quick.minutes = 5.0, quick.money = 90.0;
  cheap.minutes = 50.0, cheap.money = 20.0;
  open.minutes = 1.0;
  EXPECT_TRUE(all_in_money({quick, cheap}));
  EXPECT_FALSE(all_in_money({quick, cheap, open}));
  EXPECT_FALSE(all_in_money({}));
  EXPECT_TRUE(cheaper(cheap, quick, true));
  EXPECT_TRUE(cheaper(quick, cheap, false));
  EXPECT_TRUE(cheaper(quick, open, true));  // what is not known comes last
}

TEST(Costs, AFileThatSaysNonsenseIsRefusedWithItsPlace) {
  const CostsResult read = read_costs(
      R"({"format": "zoneproof-costs", "version": 1, "tasks": {"x": {"minutes": -3}}, "wages": 1})", "bad.costs.json");
  std::vector<std::string> places;
  for (const Message& message : read.messages) places.push_back(message.place.pointer);
  EXPECT_TRUE(any_error(read.messages));
  EXPECT_THAT(places, testing::IsSupersetOf({"/tasks/x/minutes", "/wages"}));
}

struct RefusedCost {
  const char* text;
  const char* place;
  const char* code;
};

class Refused : public testing::TestWithParam<RefusedCost> {};

// Each of these gives a sum that looks like one and is none.
TEST_P(Refused, IsNamedWithItsPlace) {
  const CostsResult read = read_costs(GetParam().text, "own.costs.json");
  ASSERT_EQ(read.messages.size(), 1U);
  EXPECT_EQ(read.messages.front().code, GetParam().code);
  EXPECT_EQ(read.messages.front().place.pointer, GetParam().place);
}

#define HEAD R"({"format": "zoneproof-costs", "version": 1, )"
INSTANTIATE_TEST_SUITE_P(
    Costs, Refused,
    testing::Values(
        RefusedCost{HEAD R"("tasks": {"fit_resistr": {"minutes": 5}}})", "/tasks/fit_resistr", "costs_no_task_near"},
        RefusedCost{HEAD R"("tasks": {"paint_it_blue": {"minutes": 5}}})", "/tasks/paint_it_blue", "costs_no_task"},
        RefusedCost{HEAD R"("tasks": {"fit_resistor": {"minutes": {"min": 5, "max": 9}}}})",
                    "/tasks/fit_resistor/minutes", "costs_one_number"},
        RefusedCost{HEAD R"("prices": {"battery_7ah": {"price": 30}}})", "/prices/battery_7ah/price",
                    "costs_no_currency"},
        RefusedCost{HEAD R"("hourly_wage": 60})", "/hourly_wage", "costs_no_currency"}));
#undef HEAD

}  // namespace
}  // namespace zoneproof::site
