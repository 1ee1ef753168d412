// Names of nodes and elements: two different things never share one, whatever ids a site has.
#include "electric/element_name.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <nlohmann/json.hpp>
#include <string>
#include <tuple>

#include "electric/hand_deck.hpp"
#include "electric/supply_check.hpp"

namespace zoneproof::electric {
namespace {

/// Ids as the format allows them, short and of few letters, so that equal and nearly equal ones are met.
std::string an_id() {
  return *rc::gen::element(std::string("a"), std::string("rail")) +
         *rc::gen::container<std::string>(rc::gen::element('a', '_', '1'));
}

RC_GTEST_PROP(PartName, DiffersWhereAnythingThatItIsMadeOfDiffers, ()) {
  const std::tuple<std::string, std::string, std::string> one = {an_id(), an_id(), an_id()};
  const std::tuple<std::string, std::string, std::string> two = {an_id(), an_id(), an_id()};
  const auto name = [](const auto& of) { return part_name(std::get<0>(of), std::get<1>(of), std::get<2>(of)); };
  RC_ASSERT((name(one) == name(two)) == (one == two));
  RC_ASSERT(part_name(std::get<0>(one), std::get<1>(one)) != name(two));
}

TEST(PartName, AnOutputCalledLikeTheRailOfItsSupplyIsAnotherNode) {
  const site::Site site = base_site_with(R"({
    "parts": {"supply_part": {"supply": {"outputs": {
      "rail": {"rating_A": 2, "protection": "fuse", "limit_A": 2.5, "series_ohm": 0.5},
      "neg": {"rating_A": 2, "protection": "fuse", "limit_A": 2.5, "series_ohm": 0.5}}}}},
    "units": {"u1": {"feed": {"output": "rail"}}},
    "panels": {"panel": {"feed": {"output": "neg"}}}})");
  const SupplyPoint point = solve_supply(site, SupplyCondition::mains);
  const circuit::Solution nominal = circuit::solve(point.wiring.network);
  const Poles rail = point.backbone.supplies.at("psu"), unit = point.backbone.poles.at("u1");
  EXPECT_NEAR(nominal.at(circuit::Quantity::voltage(rail.plus, rail.minus)), 13.6, 1e-9);
  const double at_output =
      nominal.at(circuit::Quantity::voltage(*point.wiring.network.find_node("psu.out.rail"), rail.minus));
  EXPECT_NEAR(at_output, 13.6 - 0.35 * 0.5, 1e-6) << "the output's own resistance carries the unit's 0.35 A";
  EXPECT_LT(nominal.at(circuit::Quantity::voltage(unit.plus, unit.minus)), at_output);
}

}  // namespace
}  // namespace zoneproof::electric
