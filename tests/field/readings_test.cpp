// Every expected voltage of the order of work, held against ngspice on the deck that the program itself exports: each
// reading of ngspice at nominal values lies in the interval. And against random real sites: with every number of the
// site drawn from its tolerance, ngspice reads within the interval that was told for all of them.
// Source of the reference: ngspice 39 (general circuit simulator), run in batch.
#include "field/readings.hpp"

#include <gtest/gtest.h>

#include <random>

#include "circuit/ngspice_deck.hpp"
#include "electric/element_name.hpp"
#include "electric/levels.hpp"
#include "electric/loose.hpp"
#include "field/demo_site.hpp"
#include "field/order_of_work.hpp"
#include "site/relations.hpp"

namespace zoneproof::field {
namespace {

using circuit::Values;
using electric::SupplyCondition;

constexpr double tolerance_V = 1e-6;
constexpr int draws = 6;

/// Values of all elements somewhere in their ranges; an infinite end counts as the largest that ngspice takes.
Values drawn(const circuit::Network& network, std::mt19937& random) {
  Values values;
  for (const circuit::Element& element : network.elements()) {
    constexpr double most_ohm = 1e15;
    const double high = std::min(element.value.high, most_ohm), low = std::min(element.value.low, most_ohm);
    values.push_back(std::uniform_real_distribution<double>(low, std::max(low, high))(random));
  }
  return values;
}

struct Asked {
  std::string what;
  circuit::Network network;
  std::string plus, minus;  ///< names of nodes; empty: the reference
  Expected expected;
  bool together = false;  ///< some of its numbers are known together only: they are not drawn one by one
};

std::string name_of(const circuit::Network& network, circuit::Node node) {
  return node == circuit::reference ? std::string() : network.node_name(node);
}

double read_off(const std::map<std::string, double>& volts, const Asked& asked) {
  const auto at = [&](const std::string& node) { return node.empty() ? 0.0 : volts.at(node); };
  return at(asked.plus) - at(asked.minus);
}

/// The supply of everything that is fed, and the shifts of the units' negatives.
std::vector<Asked> supplies_of(const site::Site& site, SupplyCondition condition) {
  electric::Base base = electric::build_base(site, condition, {});
  electric::join_loose_supplies(base.backbone, base.wiring);
  const circuit::Network& network = base.wiring.network;
  std::vector<Asked> all;
  const auto add = [&](const std::string& id) {
    const electric::Poles poles = base.backbone.poles.at(id);
    all.push_back({id, network, name_of(network, poles.plus), name_of(network, poles.minus),
                   volts_at(site, id, {condition}), !base.wiring.joints().empty()});
  };
  for (const auto& entry : site.panels) add(entry.first);
  for (const auto& entry : site.units) add(entry.first);
  for (const auto& [unit, entry] : site.units) {
    const std::string panel = site.panels.begin()->first;
    all.push_back({unit + " against " + panel, network, name_of(network, base.backbone.poles.at(unit).minus),
                   name_of(network, base.backbone.poles.at(panel).minus), negative_shift(site, unit, panel, condition),
                   !base.wiring.joints().empty()});
  }
  return all;
}

/// The screws of every zone and the inputs of its trigger, in every state.
std::vector<Asked> zones_of(const site::Site& site, SupplyCondition condition) {
  std::vector<Asked> all;
  for (const auto& [zone, entry] : site.zones) {
    const std::vector<std::string> triggers = site::triggers_of_zone(site, zone);
    if (site::loop_owner(site, zone).empty() || triggers.empty()) continue;
    const std::string& trigger = triggers.front();
    for (const electric::ZoneState& state : electric::reachable_states(site, zone)) {
      if (state.happening == electric::Happening::shorted) continue;
      const electric::ZoneSituation situation{zone, state, condition, trigger, electric::UnitCondition::powered};
      const electric::ZoneCircuit circuit = electric::build_zone_circuit(site, situation);
      const ZoneReadings readings = zone_readings(site, situation);
      const circuit::Network& network = circuit.wiring.network;
      const bool together = !circuit.wiring.joints().empty();
      if (circuit.terminal && electric::pulsed(*circuit.terminal->spec)) continue;  // a meter shows its mean
      if (circuit.terminal && readings.panel) {
        Asked screws{
            zone + " " + state.name() + " at the panel", network,         name_of(network, circuit.terminal->point),
            name_of(network, circuit.terminal->common),  *readings.panel, together};
        if (reads_downward(site, zone)) std::swap(screws.plus, screws.minus);
        all.push_back(std::move(screws));
      }
      if (circuit.input && readings.unit)
        all.push_back({zone + " " + state.name() + " at the unit", network, name_of(network, circuit.input->point),
                       name_of(network, circuit.input->minus), *readings.unit, together});
    }
  }
  return all;
}

/// Nominal values, then draws from the tolerances; what ngspice finds no solution for is left out and counted.
void expect_within(const std::vector<Asked>& all, const std::string& folder) {
  std::mt19937 random(20);
  std::vector<std::string> decks;
  std::vector<const Asked*> whose;
  for (const Asked& asked : all) {
    if (asked.expected.blank()) continue;
    for (int i = 0; i < (asked.together ? 1 : draws); ++i) {
      const Values values = i == 0 ? circuit::nominal_values(asked.network) : drawn(asked.network, random);
      decks.push_back(circuit::ngspice_deck(asked.network, values, nullptr));
      whose.push_back(&asked);
    }
  }
  const auto solved = circuit::run_ngspice(decks, std::string(ZONEPROOF_BINARY_DIR) + "/" + folder);
  std::size_t compared = 0;
  for (std::size_t i = 0; i < solved.size(); ++i) {
    if (solved[i].empty()) continue;
    const double volts = read_off(solved[i], *whose[i]);
    EXPECT_GE(volts, *whose[i]->expected.low - tolerance_V) << whose[i]->what;
    EXPECT_LE(volts, *whose[i]->expected.high + tolerance_V) << whose[i]->what;
    ++compared;
  }
  EXPECT_GT(compared, solved.size() / 2);
  EXPECT_GT(compared, 20U);
}

TEST(AnExpectedSupplyVoltage, HoldsWhateverNgspiceReadsWithinTheTolerances) {
  for (const char* name : {"kiln-yard", "tern-hollow"}) {
    const site::Site site = demo_site(name);
    std::vector<Asked> all = supplies_of(site, SupplyCondition::mains);
    for (Asked& asked : supplies_of(site, SupplyCondition::battery_full)) all.push_back(std::move(asked));
    expect_within(all, std::string("field_supply_") + name);
  }
}

TEST(AnExpectedZoneLevel, HoldsWhateverNgspiceReadsWithinTheTolerances) {
  expect_within(zones_of(demo_site("kiln-yard"), SupplyCondition::mains), "field_zones_kiln_yard");
  expect_within(zones_of(demo_site("tern-hollow"), SupplyCondition::mains), "field_zones_tern_hollow");
}

// Both ends of an exact interval are attained: ngspice reads them at the corners that the engine names.
TEST(AnExactInterval, IsAttainedAtItsCorners) {
  const site::Site site = demo_site("kiln-yard");
  std::vector<std::string> decks;
  std::vector<double> ohms;
  for (const auto& entry : site.zones) {
    for (electric::FarEnd end : {electric::FarEnd::as_it_is, electric::FarEnd::joined}) {
      const electric::Ohms dead = electric::loop_ohms(site, entry.first, end);
      ASSERT_TRUE(dead.known && dead.low_exact && dead.high_exact);
      for (const circuit::Corner* corner : {&dead.low_corner, &dead.high_corner}) {
        decks.push_back(
            circuit::ngspice_deck(dead.wiring.network, circuit::values_at(dead.wiring.network, *corner), nullptr));
        ohms.push_back(corner == &dead.low_corner ? *dead.low : *dead.high);
      }
    }
  }
  const auto solved = circuit::run_ngspice(decks, std::string(ZONEPROOF_BINARY_DIR) + "/field_dead_corners");
  for (std::size_t i = 0; i < solved.size(); ++i) {
    ASSERT_FALSE(solved[i].empty());
    const std::optional<double> read = electric::ohms_of_volts(solved[i].at("red"));
    ASSERT_TRUE(read.has_value());
    EXPECT_NEAR(*read, ohms[i], 2e-3 + 1e-6 * ohms[i]);
  }
}

TEST(AUnitThatIsNotPluggedIn, HasAtItsPlugWhatTheSupplyGivesWithoutIt) {
  const site::Site site = demo_site("kiln-yard");
  const Expected plug = volts_at_plug(site, "unit", SupplyCondition::mains);
  const Expected running = volts_at(site, "unit", {SupplyCondition::mains});
  ASSERT_FALSE(plug.blank());
  EXPECT_GT(*plug.low, *running.low) << "its own current drops nothing";
  EXPECT_GT(*plug.low, 0.0) << "the right polarity reads positive";
}

// Units are plugged in one after the other: at the plug of the first none of the others draws, at the last all do.
TEST(AUnitThatIsPluggedInAmongOthers, HasAtItsPlugAllThatItsPlaceInTheWalkMayGive) {
  site::Site site = demo_site("kiln-yard");
  site.units["second"] = site.units.at("unit");
  const Expected plug = volts_at_plug(site, "unit", SupplyCondition::mains);
  site::Site without = demo_site("kiln-yard");
  const Expected first = volts_at_plug(without, "unit", SupplyCondition::mains);
  ASSERT_FALSE(plug.blank());
  EXPECT_DOUBLE_EQ(*plug.high, *first.high);
  EXPECT_LT(*plug.low, *first.low) << "the other one draws through the same supply";
}

}  // namespace
}  // namespace zoneproof::field
