#include <gtest/gtest.h>

#include <algorithm>

#include "circuit/ngspice_deck.hpp"
#include "circuit/random_network.hpp"
#include "circuit/solve.hpp"

namespace zoneproof::circuit {
namespace {

constexpr double agreement_volts = 1e-6;

// A linear network needs no hint, and ngspice 39 takes its first iterate, still pulled by the hints, for the answer.
bool several_points(const Network& network) {
  return std::any_of(network.elements().begin(), network.elements().end(),
                     [](const Element& e) { return e.kind == Kind::constant_power || e.kind == Kind::limited_source; });
}

// Solves networks `first` .. `first + count - 1` here and in ngspice. Returns how many were compared.
int compare(const RandomShape& base, unsigned first, unsigned count, const std::string& label) {
  std::vector<Network> networks;
  std::vector<Solution> solutions;
  std::vector<std::string> decks;
  for (unsigned seed = first; seed < first + count; ++seed) {
    RandomShape shape = base;
    shape.nodes = 3 + static_cast<int>(seed % 11);
    networks.push_back(random_network(seed, shape));
    solutions.push_back(solve(networks.back()));
    decks.push_back(ngspice_deck(networks.back(), nominal_values(networks.back()),
                                 several_points(networks.back()) ? &solutions.back() : nullptr));
  }
  const auto references = run_ngspice(decks, std::string(ZONEPROOF_BINARY_DIR) + "/ngspice_" + label);
  int compared = 0;
  for (std::size_t i = 0; i < networks.size(); ++i) {
    EXPECT_TRUE(solutions[i].usable()) << label << i << " trouble " << static_cast<int>(solutions[i].trouble)
                                       << " bound " << solutions[i].voltage_error_bound << "\n"
                                       << decks[i];
    EXPECT_LE(solutions[i].voltage_error_bound, 1e-9);
    EXPECT_FALSE(references[i].empty()) << "ngspice has no answer for\n" << decks[i];
    if (references[i].empty()) continue;
    ++compared;
    for (Node node = 1; node < networks[i].node_count(); ++node) {
      const auto found = references[i].find(networks[i].node_name(node));
      if (found == references[i].end()) {
        ADD_FAILURE() << "no voltage of node " << networks[i].node_name(node);
        continue;
      }
      EXPECT_NEAR(solutions[i].voltage[static_cast<std::size_t>(node)], found->second, agreement_volts)
          << label << i << " node " << networks[i].node_name(node) << "\n"
          << decks[i];
    }
  }
  return compared;
}

RandomShape shape(int loads, int diodes, int limited) {
  RandomShape result;
  result.loads = loads;
  result.diodes = diodes;
  result.limited = limited;
  return result;
}

TEST(Ngspice, AgreesOnLinearNetworks) { EXPECT_EQ(compare(shape(0, 0, 0), 1000, 60, "linear"), 60); }
TEST(Ngspice, AgreesOnDiodeNetworks) { EXPECT_EQ(compare(shape(0, 4, 0), 2000, 60, "diodes"), 60); }
TEST(Ngspice, AgreesOnConstantPowerNetworks) { EXPECT_EQ(compare(shape(3, 0, 0), 3000, 60, "loads"), 60); }
TEST(Ngspice, AgreesOnLimitedSources) { EXPECT_EQ(compare(shape(0, 0, 2), 4000, 60, "limited"), 60); }
TEST(Ngspice, AgreesOnNetworksOfEveryKind) { EXPECT_EQ(compare(shape(2, 3, 1), 5000, 60, "every"), 60); }

}  // namespace
}  // namespace zoneproof::circuit
