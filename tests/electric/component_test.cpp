// A resistor with what its file does not say: its drift counts both ways, its tolerance is never silently nothing.
#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "electric/hand_deck.hpp"
#include "electric/levels.hpp"

namespace zoneproof::electric {
namespace {

using nlohmann::json;

constexpr double same_V = 1e-9;

json rule(double value, const char* unit) {
  return {{"value", value},
          {"unit", unit},
          {"meaning", "Chosen for the test."},
          {"source", "chosen for the test"},
          {"verified", true}};
}

/// A single end-of-line loop at rest, this resistor against this pull-up, in air of 0 to 40 degC.
json loop_with(const json& eol, const json& pullup) {
  json patch;
  patch["zones"]["z1"]["loop"] = {
      {"arrangement", "single_eol_closed"},
      {"eol_ohm", eol},
      {"contacts", {{"a", {{"detector", "da"}, {"contact", "closed"}, {"role", "alarm"}, {"shunt_ohm", "none"}}}}}};
  patch["parts"]["terminal_part"]["zone_terminal"]["pullup_ohm"] = pullup;
  patch["areas"]["hall"] = {{"temperature_min_degC", 0}, {"temperature_max_degC", 40}};
  patch["rulebooks"]["deck_rules"]["entries"] = {{"resistor_tolerance_pct", rule(10, "pct")},
                                                 {"resistor_tempco_ppm_K", rule(500, "ppm_K")}};
  return patch;
}

Level at_rest(const json& patch) {
  ZoneSituation situation;
  situation.zone = "z1";
  situation.unit = UnitCondition::detached;
  return solve_level(base_site_with(patch.dump()), situation);
}

const circuit::WorstCase& reading(const Level& level) { return level.solved.cases.at(level.panel.value()); }

json exact(double ohm, double tempco = 0.0) {
  return {{"value", ohm}, {"tolerance_pct", 0}, {"tempco_ppm_K", tempco}, {"origin", "data_sheet"}};
}

TEST(Component, DriftsBothWaysWhateverTheSignOfItsCoefficient) {
  const Level level = at_rest(loop_with(exact(4700, 100), exact(3300, 100)));
  ASSERT_TRUE(level.solved.gaps.empty()) << level.solved.gaps.front().pointer;
  // 20 K either way of 20 degC are 0.2 percent of each, and in opposite directions they do not cancel.
  const Level high = at_rest(loop_with(exact(4700 * 1.002), exact(3300 * 0.998)));
  const Level low = at_rest(loop_with(exact(4700 * 0.998), exact(3300 * 1.002)));
  EXPECT_NEAR(reading(level).high.bound, reading(high).nominal, same_V);
  EXPECT_NEAR(reading(level).low.bound, reading(low).nominal, same_V);
  EXPECT_TRUE(level.solved.low_exact.at(*level.panel) && level.solved.high_exact.at(*level.panel));
  const Level negative = at_rest(loop_with(exact(4700, -100), exact(3300, 100)));
  EXPECT_EQ(reading(negative).high.bound, reading(level).high.bound);
  EXPECT_EQ(reading(negative).low.bound, reading(level).low.bound);
}

TEST(Component, WithoutACoefficientTakesTheRulebooksEnvelope) {
  const json silent = {{"value", 4700}, {"tolerance_pct", 0}, {"origin", "data_sheet"}};
  const Level level = at_rest(loop_with(silent, exact(3300)));
  EXPECT_TRUE(level.solved.gaps.empty());
  EXPECT_EQ(level.solved.weakest, site::Origin::envelope);
  EXPECT_NEAR(reading(level).high.bound, reading(at_rest(loop_with(exact(4700, 500), exact(3300)))).high.bound, same_V);
  EXPECT_NEAR(reading(at_rest(loop_with(exact(4700), exact(3300)))).high.bound,
              reading(at_rest(loop_with(exact(4700), exact(3300)))).nominal, same_V)
      << "0 says that it does not drift";
}

TEST(Component, ARangeHoldsOverTemperatureToo) {
  const json range = {{"value", 4700}, {"min", 4600}, {"max", 4800}, {"origin", "data_sheet"}};
  const Level level = at_rest(loop_with(range, exact(3300)));
  EXPECT_NEAR(reading(level).high.bound, reading(at_rest(loop_with(exact(4800), exact(3300)))).nominal, same_V);
}

TEST(Component, AToleranceThatIsNotStatedIsAskedFor) {
  const json silent = {{"value", 4700}, {"tempco_ppm_K", 0}, {"origin", "data_sheet"}};
  const Level level = at_rest(loop_with(silent, exact(3300)));
  ASSERT_EQ(level.solved.gaps.size(), 1U);
  EXPECT_EQ(level.solved.gaps.front().pointer, "/zones/z1/loop/eol_ohm/tolerance_pct");
  EXPECT_EQ(level.solved.gaps.front().reason, "assumed");
  EXPECT_NEAR(reading(level).high.bound, reading(at_rest(loop_with(exact(4700 * 1.1), exact(3300)))).nominal, same_V);
  const json measured = {{"value", 4700}, {"tempco_ppm_K", 0}, {"origin", "measured"}};
  EXPECT_TRUE(at_rest(loop_with(measured, exact(3300))).solved.gaps.empty()) << "read off this very resistor";
}

TEST(Component, WithoutTheRuleNothingIsConcluded) {
  for (const char* id : {"resistor_tolerance_pct", "resistor_tempco_ppm_K"}) {
    json patch = loop_with({{"value", 4700}, {"origin", "data_sheet"}}, exact(3300));
    patch["rulebooks"]["deck_rules"]["entries"].erase(id);
    const std::string pointer = std::string("/rulebooks/deck_rules/entries/") + id;
    const std::vector<chain::Gap> gaps = at_rest(patch).solved.gaps;
    EXPECT_TRUE(std::any_of(gaps.begin(), gaps.end(), [&](const chain::Gap& gap) {
      return gap.pointer == pointer && gap.reason == "unknown";
    })) << id;
  }
}

}  // namespace
}  // namespace zoneproof::electric
