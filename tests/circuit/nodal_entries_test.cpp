// What is read off the factors of a nodal matrix, against its inverse by Eigen (64 binary digits: long double, full
// pivoting), also next to loads that take constant power and to parts that hang on a leakage alone: bounds on the error
// of a solution, never below |A^-1| s and not far above it; and single entries by half columns.
#include <gtest/gtest.h>

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <random>

#include "circuit/nodal.hpp"
#include "circuit/variation_inside.hpp"

namespace zoneproof::circuit {
namespace {

using Wide = Eigen::Matrix<long double, Eigen::Dynamic, Eigen::Dynamic>;

/// A chain of wires with loads across it, some of them on an island that a leakage joins to the rest.
struct Made {
  Network network;
  std::vector<Companion> companions;

  void add(Node a, Node b, double siemens) {
    network.resistor("r" + std::to_string(companions.size()), a, b, Range::exactly(1.0));
    companions.push_back(Companion::norton(siemens, 0.0));
  }
};

Made made(std::mt19937& random, int pairs, bool with_loads) {
  const auto between = [&](double low, double high) {
    return low * std::pow(high / low, std::uniform_real_distribution<double>(0.0, 1.0)(random));
  };
  Made made;
  Node plus = made.network.nameless_node(), minus = reference;
  made.add(plus, minus, 10.0);  // a supply behind its inner resistance
  for (int i = 0; i < pairs; ++i) {
    const bool island = i % 5 == 4;
    const Node next_plus = made.network.nameless_node(), next_minus = made.network.nameless_node();
    made.add(plus, next_plus, island ? 1e-6 : between(5.0, 50.0));
    made.add(minus, next_minus, island ? 1e-6 : between(5.0, 50.0));
    made.add(next_plus, next_minus, island ? between(1.0, 5.0) : between(1e-4, 1e-2));
    if (with_loads) made.add(next_plus, next_minus, -between(1e-4, 2e-3));
    if (!island && i % 2 == 0) plus = next_plus, minus = next_minus;
  }
  return made;
}

Wide matrix_of(const Made& made, const NodalSystem& system) {
  Wide matrix = Wide::Zero(system.unknowns(), system.unknowns());
  for (std::size_t e = 0; e < made.companions.size(); ++e) {
    const Element& element = made.network.elements()[e];
    const int a = system.unknown(element.from), b = system.unknown(element.to);
    const long double g = made.companions[e].conductance;
    if (a >= 0) matrix(a, a) += g;
    if (b >= 0) matrix(b, b) += g;
    if (a >= 0 && b >= 0) matrix(a, b) -= g, matrix(b, a) -= g;
  }
  return matrix;
}

void expect_bounds(const Made& made, std::mt19937& random) {
  NodalSystem system(made.network, made.companions);
  ASSERT_TRUE(system.factorise());
  const Wide inverse = matrix_of(made, system).fullPivLu().inverse().cwiseAbs();
  std::vector<std::vector<double>> residuals(3, std::vector<double>(at(system.unknowns()), 0.0));
  for (double& one : residuals[0]) one = 1e-17 * std::uniform_real_distribution<double>(0.0, 1.0)(random);
  residuals[1][random() % residuals[1].size()] = 1.0;  // as of a load at one node
  for (double& one : residuals[2]) one = 1.0;
  const std::vector<std::vector<double>> bounds = system.error_bounds(residuals);
  for (std::size_t r = 0; r < residuals.size(); ++r) {
    double largest = 0.0, largest_bound = 0.0;
    for (int i = 0; i < system.unknowns(); ++i) {
      long double exact = 0.0L;
      for (int j = 0; j < system.unknowns(); ++j) exact += inverse(i, j) * residuals[r][at(j)];
      EXPECT_GE(bounds[r][at(i)], static_cast<double>(exact)) << "residual " << r << ", unknown " << i;
      largest = std::max(largest, static_cast<double>(exact));
      largest_bound = std::max(largest_bound, bounds[r][at(i)]);
    }
    EXPECT_LE(largest_bound, 3.0 * largest + 1e-12) << "residual " << r;
  }
}

TEST(NodalBounds, HoldForWiresAndSuppliesAlone) {
  std::mt19937 random(1);
  for (const int pairs : {1, 4, 20, 60}) expect_bounds(made(random, pairs, false), random);
}

TEST(NodalBounds, HoldNextToLoadsOfConstantPowerInSmallAndLargeNetworks) {
  std::mt19937 random(2);
  for (int i = 0; i < 30; ++i) {
    SCOPED_TRACE(i);
    expect_bounds(made(random, 1 + i * 2, true), random);  // beyond 48 pairs the matrix is sparse
    if (testing::Test::HasFailure()) return;
  }
}

TEST(NodalBounds, ALoadThatTakesMoreThanItsWireGivesHasNoSolutionAndNoBound) {
  Made made;
  const Node node = made.network.nameless_node();
  made.add(node, reference, 1.0);
  made.add(node, reference, -2.0);
  NodalSystem system(made.network, made.companions);
  EXPECT_FALSE(system.factorise());
}

TEST(HalfColumns, MultiplyToTheEntriesOfTheInverse) {
  std::mt19937 random(3);
  for (const int pairs : {1, 12, 45, 80, 150}) {  // beyond 48 pairs the matrix is sparse
    const Made network = made(random, pairs, true);
    NodalSystem system(network.network, network.companions);
    ASSERT_TRUE(system.factorise());
    const Wide inverse = matrix_of(network, system).fullPivLu().inverse();
    const auto entry = [&](Node a, Node b) {
      const int row = system.unknown(a), column = system.unknown(b);
      return row < 0 || column < 0 ? 0.0L : inverse(row, column);
    };
    const auto any = [&] { return static_cast<Node>(random() % static_cast<unsigned>(network.network.node_count())); };
    for (int i = 0; i < 200; ++i) {
      const Node a = any(), b = any(), c = any(), d = any();
      const HalfColumn ab = system.half_column(a, b), cd = system.half_column(c, d);
      const auto exact = static_cast<double>(entry(a, c) - entry(a, d) - entry(b, c) + entry(b, d));
      const auto own =
          static_cast<double>(std::sqrt(std::max(entry(a, a), entry(b, b)) * std::max(entry(c, c), entry(d, d))));
      // An island of up to 5 S on a leakage of 1 uS: the sum of its node, 2e-16 of 5 S, knows the leakage to 1e-9.
      EXPECT_NEAR(product(ab, cd), exact, 1e-9 * (1.0 + own)) << pairs;
    }
  }
}

}  // namespace
}  // namespace zoneproof::circuit
