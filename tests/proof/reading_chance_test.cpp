#include "electric/reading_chance.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <stdexcept>

#include "demo.hpp"
#include "electric/trigger_check.hpp"

namespace zoneproof::electric {
namespace {

/// Level of a zone with its trigger on the running unit, on mains.
Level level_of(const site::Site& site, const std::string& zone, const std::string& trigger, Happening happening) {
  const LevelScope scope = {{SupplyCondition::mains}, {UnitCondition::powered}};
  for (Level& level : zone_levels(site, zone, trigger, scope)) {
    if (level.situation.state.happening == happening) return std::move(level);
  }
  throw std::runtime_error("no such level");
}

/// A value drawn as docs/methods/yield.md says for the rulebook's figures (even; logarithm from ten to one on; leaks in
/// conductance), written here once more.
double drawn(const circuit::Range& range, std::mt19937_64& random) {
  const double u = std::uniform_real_distribution<double>(0.0, 1.0)(random);
  if (!range.wide()) return range.nominal;
  if (std::isinf(range.high)) return range.low / std::max(u, 1e-12);
  if (range.low > 0.0 && range.high >= 10.0 * range.low) return range.low * std::pow(range.high / range.low, u);
  return range.low + u * (range.high - range.low);
}

// The demo's zone 5 has a range that a cut pair leaves half the time (its expected verdict is not proven).
TEST(ReadingChance, of_a_site_agrees_with_plain_samples_of_its_network) {
  const site::Site site = demo::kiln_yard();
  const Level level = level_of(site, "z5", "t5", Happening::tamper_open);
  const ReadingChance answer = unit_chance(site, level);
  ASSERT_EQ(answer.kind, ChanceKind::counted);
  const Band band = right_input_band(site, level).value();
  const circuit::Network& network = level.circuit.wiring.network;
  std::mt19937_64 random(3);
  constexpr int samples = 4000;
  int outside = 0;
  double sum = 0.0, squares = 0.0;
  for (int i = 0; i < samples; ++i) {
    circuit::Values values;
    for (const circuit::Element& element : network.elements()) {
      // Free contacts of other zones: either way is right here, they move nothing beyond the solver's noise.
      const bool contact =
          element.kind == circuit::Kind::resistor && element.value.low < 1e5 && std::isinf(element.value.high);
      values.push_back(contact ? element.value.nominal : drawn(element.value, random));
    }
    const double volts = circuit::solve(network, values).at(level.quantities.at(*level.unit));
    if ((band.min && volts < band.min->limit) || (band.max && volts > band.max->limit)) ++outside;
    sum += volts;
    squares += volts * volts;
  }
  const double plain = static_cast<double>(outside) / samples;
  EXPECT_GT(plain, 0.1);
  EXPECT_LT(plain, 0.9);
  EXPECT_NEAR(answer.chance->outside, plain, 4.0 * std::sqrt(plain * (1.0 - plain) / samples));
  const double sigma = std::sqrt(squares / samples - sum / samples * sum / samples);
  EXPECT_NEAR(*answer.sigma_V, sigma, 0.05 * sigma);  // 4000 samples of an even spread: 1 %
}

TEST(ReadingChance, what_the_worst_case_holds_has_no_chance_and_what_it_never_holds_is_always_wrong) {
  const site::Site site = demo::kiln_yard();
  const ReadingChance good = unit_chance(site, level_of(site, "z1", "t1", Happening::rest));
  EXPECT_EQ(good.kind, ChanceKind::none);
  EXPECT_FALSE(good.chance);
  EXPECT_GT(*good.sigma_V, 0.0);
  EXPECT_EQ(unit_chance(site, level_of(site, "z5", "t5", Happening::rest)).kind, ChanceKind::always);
}

TEST(ReadingChance, shares_make_the_whole_and_name_data_of_the_site) {
  const site::Site site = demo::kiln_yard();
  const ReadingChance answer = panel_chance(site, level_of(site, "z1", "t1", Happening::rest));
  double sum = 0.0;
  for (const SpreadShare& share : answer.shares) {
    EXPECT_EQ(share.pointer.front(), '/');
    sum += share.share;
  }
  EXPECT_NEAR(sum, 1.0, 1e-6);
  // By hand: V = S l / (u + l) with l = u, so half of the source's spread counts and a quarter of S times each
  // resistor's share. Source 5 V of 3 %, pull-up of 2 %, resistor at the end of 1 %: 75, 25 and 12.5 mV for the ends,
  // 0.878, 0.098 and 0.024 of the sum of their squares. Temperature, joints and cable take the rest.
  ASSERT_GE(answer.shares.size(), 3U);
  EXPECT_NE(answer.shares[0].pointer.find("source_V"), std::string::npos);
  EXPECT_NEAR(answer.shares[0].share, 0.878, 0.03);
  EXPECT_NE(answer.shares[1].pointer.find("pullup_ohm"), std::string::npos);
  EXPECT_NEAR(answer.shares[1].share, 0.098, 0.02);
  EXPECT_NE(answer.shares[2].pointer.find("eol_ohm"), std::string::npos);
  EXPECT_NEAR(answer.shares[2].share, 0.024, 0.01);
}

// The distribution is the rulebook's: a narrower one narrows the spread; without one
// nothing is said.
TEST(ReadingChance, follows_the_rulebook_or_stays_open) {
  site::Site site = demo::kiln_yard();
  const Level level = level_of(site, "z5", "t5", Happening::tamper_open);
  const double even = *unit_chance(site, level).sigma_V;
  auto& entries = site.rulebooks.at(site.rulebook.book.id).entries;
  site::Value& sigmas = entries.at("yield_sigmas").value;
  const auto set = [](site::Value& value, double to) { value.nominal = value.low = value.high = to; };
  set(sigmas, 3.0);
  // Standard deviation of a normal one cut at three of its own: 0.98658 / 3 of half the width, an even one 1 / sqrt(3).
  EXPECT_NEAR(*unit_chance(site, level).sigma_V / even, 0.98658 / 3.0 * std::sqrt(3.0), 2e-3);
  entries.erase("yield_sigmas");
  const ReadingChance open = unit_chance(site, level);
  EXPECT_EQ(open.kind, ChanceKind::open);
  EXPECT_FALSE(open.sigma_V);
  ASSERT_EQ(open.gaps.size(), 1U);
  EXPECT_EQ(open.gaps.front().reason, "no_rule");
  EXPECT_NE(open.gaps.front().pointer.find("yield_sigmas"), std::string::npos);
}

TEST(ReadingChance, is_not_told_from_a_guess) {
  site::Site site = demo::kiln_yard();
  site.zones.at("z1").loop.eol_ohm.origin = site::Origin::assumed;
  const ReadingChance answer = panel_chance(site, level_of(site, "z1", "t1", Happening::rest));
  EXPECT_EQ(answer.kind, ChanceKind::open);
  EXPECT_FALSE(answer.gaps.empty());
}

TEST(ReadingChance, a_short_between_the_cores_is_not_asked) {
  const site::Site site = demo::kiln_yard();
  EXPECT_EQ(panel_chance(site, level_of(site, "z1", "t1", Happening::shorted)).kind, ChanceKind::not_asked);
}

}  // namespace
}  // namespace zoneproof::electric
