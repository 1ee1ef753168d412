// Bounds of settling and a filtered periodic voltage, against closed forms, brute force, and ngspice in time.
#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <random>
#include <sstream>

#include "electric/periodic.hpp"
#include "electric/settling_time.hpp"

namespace zoneproof::electric {
namespace {

/// A random mesh of resistances with a capacitance at each of its nodes; node 0 is the source's.
struct Mesh {
  std::vector<std::array<double, 3>> ohms;  ///< from, to, ohm; -1: ground
  std::vector<double> farads;               ///< of nodes 1 ...
};

Mesh random_mesh(std::mt19937& random) {
  std::uniform_real_distribution<double> ohm(2.0, 5.0), farad(-10.0, -7.5), chance(0.0, 1.0);
  Mesh mesh;
  const int nodes = 2 + static_cast<int>(chance(random) * 5);
  for (int n = 1; n <= nodes; ++n) {
    const int to = static_cast<int>(chance(random) * n);
    mesh.ohms.push_back({static_cast<double>(n), static_cast<double>(to), std::pow(10.0, ohm(random))});
    if (chance(random) < 0.4) mesh.ohms.push_back({static_cast<double>(n), -1.0, std::pow(10.0, ohm(random) + 1.0)});
    if (n > 1 && chance(random) < 0.4) mesh.ohms.push_back({static_cast<double>(n), 1.0, std::pow(10.0, ohm(random))});
    mesh.farads.push_back(std::pow(10.0, farad(random)));
  }
  return mesh;
}

/// Inverse of the conductance matrix with the source at rest: R_ki.
std::vector<std::vector<double>> resistances(const Mesh& mesh) {
  const std::size_t n = mesh.farads.size();
  std::vector<std::vector<double>> a(n, std::vector<double>(2 * n, 0.0));
  for (const auto& [from, to, ohm] : mesh.ohms) {
    const auto i = static_cast<std::size_t>(from) - 1;
    a[i][i] += 1.0 / ohm;
    if (to <= 0.0) continue;  // the source and ground stand still
    const auto j = static_cast<std::size_t>(to) - 1;
    a[j][j] += 1.0 / ohm;
    a[i][j] -= 1.0 / ohm;
    a[j][i] -= 1.0 / ohm;
  }
  for (std::size_t i = 0; i < n; ++i) a[i][n + i] = 1.0;
  for (std::size_t p = 0; p < n; ++p) {  // symmetric and positive: no pivoting needed
    const double pivot = a[p][p];
    for (double& value : a[p]) value /= pivot;
    for (std::size_t r = 0; r < n; ++r) {
      if (r == p) continue;
      const double factor = a[r][p];
      for (std::size_t c = 0; c < 2 * n; ++c) a[r][c] -= factor * a[p][c];
    }
  }
  std::vector<std::vector<double>> inverse(n);
  for (std::size_t i = 0; i < n; ++i) inverse[i].assign(a[i].begin() + static_cast<std::ptrdiff_t>(n), a[i].end());
  return inverse;
}

/// Node voltages at the times asked for, after a step of the source from 0 V to 1 V; the last line is where they rest.
std::vector<std::vector<double>> in_ngspice(const Mesh& mesh, double until, int points, const std::string& name) {
  const std::string folder = testing::TempDir() + name;
  std::filesystem::create_directories(folder);
  std::ofstream deck(folder + "/deck.cir");
  deck.precision(15);
  deck << "* mesh\nvsource n0 0 pulse(0 1 0 1p 1p 1 2)\n";
  const auto node = [](double index) { return index < 0.0 ? std::string("0") : "n" + std::to_string(int(index)); };
  for (std::size_t i = 0; i < mesh.ohms.size(); ++i)
    deck << "r" << i << " " << node(mesh.ohms[i][0]) << " " << node(mesh.ohms[i][1]) << " " << mesh.ohms[i][2] << "\n";
  for (std::size_t i = 0; i < mesh.farads.size(); ++i)
    deck << "c" << i << " n" << i + 1 << " 0 " << mesh.farads[i] << " ic=0\n";
  deck << ".options reltol=1e-7 abstol=1e-15 vntol=1e-10\n.control\nset wr_singlescale\nset wr_vecnames\n";
  deck << "tran " << until / points << " " << until << " 0 " << until / points / 20.0 << " uic\nlinearize";
  for (std::size_t i = 0; i < mesh.farads.size(); ++i) deck << " v(n" << i + 1 << ")";
  deck << "\nwrdata " << folder << "/out.txt";
  for (std::size_t i = 0; i < mesh.farads.size(); ++i) deck << " v(n" << i + 1 << ")";
  deck << "\nquit\n.endc\n.end\n";
  deck.close();
  const std::string command = "ngspice -b " + folder + "/deck.cir > " + folder + "/log.txt 2>&1";
  if (std::system(command.c_str()) == -1) throw std::runtime_error("ngspice does not start");
  std::ifstream in(folder + "/out.txt");
  std::string line;
  std::getline(in, line);
  std::vector<std::vector<double>> rows;
  while (std::getline(in, line)) {
    std::istringstream words(line);
    std::vector<double> row;
    for (double value = 0.0; words >> value;) row.push_back(value);
    if (row.size() == mesh.farads.size() + 1) rows.push_back(row);
  }
  return rows;
}

TEST(SettlingTime, HoldsOnRandomMeshesInNgspice) {
  std::mt19937 random(20240611);
  std::size_t compared = 0, tight = 0;
  for (int round = 0; round < 40; ++round) {
    SCOPED_TRACE(round);
    const Mesh mesh = random_mesh(random);
    const auto ohm = resistances(mesh);
    double total = 0.0;
    for (std::size_t k = 0; k < mesh.farads.size(); ++k) total += ohm[k][k] * mesh.farads[k];
    const auto rows = in_ngspice(mesh, 6.0 * total, 60, "mesh" + std::to_string(round));
    ASSERT_GE(rows.size(), 60U);
    for (std::size_t i = 0; i < mesh.farads.size(); ++i) {
      const NodeTimes times = node_times(ohm, mesh.farads, i);
      EXPECT_NEAR(times.total_s, total, 1e-9 * total);
      double rest = 0.0;  // sum over the conductances to the source of R_i, node
      for (const auto& [from, to, r] : mesh.ohms) {
        if (to == 0.0) rest += ohm[i][static_cast<std::size_t>(from) - 1] / r;
      }
      for (const auto& row : rows) {
        if (!(row[0] > 0.0)) continue;
        const double left = (rest - row[i + 1]) / rest;
        EXPECT_LE(left, left_at_most(row[0], total) + 1e-4) << row[0] / total;
        EXPECT_GE(left, left_at_least(row[0], times) - 1e-4) << row[0] / total;
        ++compared;
        if (left > 0.2 * left_at_most(row[0], total) && row[0] > 2.0 * total) ++tight;
      }
    }
  }
  EXPECT_GT(compared, 5000U);
  EXPECT_GT(tight, 100U) << "a bound that is never near proves little";
}

// One resistance and one capacitance: e(t) = exp(-t/RC) (any textbook of circuits; 36.8 % left after one time
// constant).
TEST(SettlingTime, OfOneCapacitanceLiesBetweenTheBounds) {
  const NodeTimes times = node_times({{4700.0}}, {100e-9}, 0);
  EXPECT_NEAR(times.total_s, 0.47e-3, 1e-12);
  EXPECT_NEAR(left_at_least(0.47e-3, times), std::exp(-1.0), 1e-12) << "below, the bound is the truth itself";
  EXPECT_NEAR(left_at_most(2.0 * 0.47e-3, times.total_s), std::exp(-1.0), 1e-12) << "above, it is one constant late";
  EXPECT_EQ(left_at_most(0.1e-3, times.total_s), 1.0);
  EXPECT_NEAR(left_at_most(time_until(0.01, 0.47e-3), 0.47e-3), 0.01, 1e-12);
  EXPECT_EQ(left_at_most(1.0, std::numeric_limits<double>::infinity()), 1.0);
}

// Closed form of a filtered pulse train: with q = on/(tau), p = period/tau the output runs between
// H (e^q - 1)/(e^p - 1) and H (1 - e^-q)/(1 - e^-p).
TEST(FilteredPulses, HaveTheClosedForm) {
  const double high = 5.0, on = 4e-3, period = 20e-3, tau = 15e-3;
  const Reach reach = filtered({{on, high}, {period - on, 0.0}}, tau);
  EXPECT_NEAR(reach.high, high * std::expm1(-on / tau) / std::expm1(-period / tau), 1e-12);
  EXPECT_NEAR(reach.low, high * std::expm1(on / tau) / std::expm1(period / tau), 1e-12);
  EXPECT_NEAR(mean_of({{on, high}, {period - on, 0.0}}), 1.0, 1e-12) << "a fifth of 5 V";
}

/// The filter stepped through many periods.
Reach stepped(const Period& period, double tau) {
  double y = 0.0;
  Reach reach{1e9, -1e9};
  const double length = length_of(period);
  const int rounds = static_cast<int>(30.0 * tau / length) + 3;
  for (int round = 0; round < rounds; ++round) {
    reach = {1e9, -1e9};
    for (const Stretch& stretch : period) {
      const int steps = 2000;
      for (int i = 0; i < steps; ++i) {
        y += (stretch.volts - y) * -std::expm1(-stretch.seconds / steps / tau);
        reach = {std::min(reach.low, y), std::max(reach.high, y)};
      }
    }
  }
  return reach;
}

TEST(FilteredPulses, AreWhatStepByStepGives) {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> volts(-15.0, 15.0), seconds(1e-4, 1e-2);
  for (int round = 0; round < 50; ++round) {
    Period period;
    for (int i = 0; i < 2 + round % 4; ++i) period.push_back({seconds(random), volts(random)});
    const double tau = 3.0 * seconds(random);
    const Reach reach = filtered(period, tau), brute = stepped(period, tau);
    EXPECT_NEAR(reach.low, brute.low, 1e-2);
    EXPECT_NEAR(reach.high, brute.high, 1e-2);
    const Reach slower = filtered(period, 2.0 * tau);
    EXPECT_LE(slower.high, reach.high + 1e-12) << "a longer time constant never widens";
    EXPECT_GE(slower.low, reach.low - 1e-12);
  }
}

TEST(Laggard, StaysOnTheFarSideOfWhatSettles) {
  Period period;
  append_laggard(period, 10e-3, 5.0, 1.0, 1e-3, 64);
  EXPECT_NEAR(length_of(period), 10e-3, 1e-12);
  double t = 0.0;
  for (const Stretch& stretch : period) {
    EXPECT_GE(stretch.volts, 1.0 + 4.0 * std::exp(-t / 1e-3)) << t;
    t += stretch.seconds;
  }
}

}  // namespace
}  // namespace zoneproof::electric
