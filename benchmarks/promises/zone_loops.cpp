// Operating points of zone loops beside ngspice, and the exact worst case of a loop beside all of its corners.
#include <fmt/format.h>

#include <Eigen/Dense>
#include <cmath>
#include <random>
#include <stdexcept>

#include "circuit/batch.hpp"
#include "circuit/worst_case.hpp"
#include "promises/promise.hpp"
#include "promises/spice.hpp"

namespace zoneproof::promises {

namespace {

using circuit::ElementIndex;
using circuit::Network;
using circuit::Node;
using circuit::Quantity;
using circuit::Range;

Range tolerant(double value, double share) { return {value, value * (1.0 - share), value * (1.0 + share)}; }

/// A zone loop with double end of line and the trigger wire of a unit: 15 resistors and a source, each with a
/// tolerance.
struct Loop {
  Network network;
  Node terminal = 0, input = 0;

  Loop() {
    const auto between = [this](const char* name, const char* a, const char* b, double ohm, double share) {
      network.resistor(name, network.node(a), network.node(b), tolerant(ohm, share));
    };
    network.voltage("vsource", circuit::reference, network.node("rail"), tolerant(12.0, 0.03));
    between("rpull", "rail", "zone", 5600, 0.01);
    between("rscrew1", "zone", "core1", 0.05, 0.8);
    between("rcore1", "core1", "field1", 3.9, 0.15);
    between("rjoint1", "field1", "contact1", 0.1, 0.8);
    between("rtamper", "contact1", "contact2", 0.5, 0.9);
    between("ralarm", "contact2", "field2", 5600, 0.01);
    between("reol", "field2", "field3", 5600, 0.01);
    between("rjoint2", "field3", "core2", 0.1, 0.8);
    between("rcore2", "core2", "back", 3.9, 0.15);
    between("rscrew2", "back", "0", 0.05, 0.8);
    between("rleak", "field1", "field3", 1e6, 0.9);
    between("rwire", "zone", "input", 2.0, 0.15);
    between("rinput", "input", "unitneg", 1e5, 0.05);
    between("rneg", "unitneg", "0", 0.2, 0.5);
    between("rpanel", "zone", "0", 1e6, 0.2);
    terminal = *network.find_node("zone");
    input = *network.find_node("input");
  }
  std::vector<circuit::Batch::Varied> varied() const {
    std::vector<circuit::Batch::Varied> all;
    for (std::size_t e = 0; e < network.elements().size(); ++e) all.push_back({static_cast<ElementIndex>(e)});
    return all;
  }
};

std::string spice_node(const Network& network, Node node) { return node == 0 ? "0" : network.node_name(node); }

std::vector<std::string> deck_of(const Network& network) {
  std::vector<std::string> lines = {"zone loop"};
  for (const circuit::Element& element : network.elements()) {
    const bool source = element.kind == circuit::Kind::voltage;
    lines.push_back(element.name + " " + spice_node(network, source ? element.to : element.from) + " " +
                    spice_node(network, source ? element.from : element.to) + " " +
                    fmt::format("{}", element.value.nominal));
  }
  lines.insert(lines.end(), {".options reltol=1e-9 abstol=1e-15 vntol=1e-12 gmin=1e-15", ".end"});
  return lines;
}

/// The same sets of values for both.
std::vector<double> random_sets(const Network& network, std::size_t count) {
  std::mt19937 random(1);
  std::vector<double> values;
  for (const circuit::Element& element : network.elements()) {
    std::uniform_real_distribution<double> within(element.value.low, element.value.high);
    for (std::size_t s = 0; s < count; ++s) values.push_back(within(random));
  }
  return values;
}

}  // namespace

std::vector<Figure> operating_points() {
  const Loop loop;
  constexpr std::size_t count = 4096, spice_count = 200;
  const std::vector<double> values = random_sets(loop.network, count);
  const circuit::Batch batch(loop.network, loop.varied(),
                             {Quantity::voltage(loop.terminal), Quantity::voltage(loop.input)});
  std::vector<double> results(2 * count);
  Figure figure;
  figure.promise = "operating point of a loop with trigger wire, 16 values new";
  figure.beside = "ngspice as a library: alter, op, destroy all";
  figure.unit = "ns";
  figure.aim_ratio = 1000.0;
  figure.ours = 1e9 / count * seconds_of([&] { batch.solve(values.data(), count, results.data()); });
  Spice spice;
  spice.load(deck_of(loop.network));
  double furthest = 0.0;
  const double seconds = seconds_once([&] {
    for (std::size_t s = 0; s < spice_count; ++s) {
      for (std::size_t e = 0; e < loop.network.elements().size(); ++e)
        spice.command(fmt::format("alter {} = {}", loop.network.elements()[e].name, values[e * count + s]));
      spice.operating_point();
      furthest = std::max(furthest, std::fabs(spice.voltage("zone") - results[s]));
    }
  });
  if (!(furthest < 1e-6)) throw std::runtime_error(fmt::format("ngspice reads a zone level {} V off", furthest));
  figure.theirs = 1e9 * seconds / spice_count;
  figure.limit = "writing the values of a set into the registers and judging it cost as much as solving it";
  return {figure};
}

namespace {

/// All corners by a dense factorisation each, as one would write it down: lowest and highest level of the terminal.
std::pair<double, double> all_corners(const Loop& loop) {
  const auto& elements = loop.network.elements();
  const int n = loop.network.node_count() - 1;  // without the reference; the source's node is held
  const int rail = elements.front().to - 1;
  std::pair<double, double> extremes = {circuit::infinite, -circuit::infinite};
  Eigen::MatrixXd matrix(n, n);
  Eigen::VectorXd right(n);
  for (unsigned corner = 0; corner < 1U << elements.size(); ++corner) {
    matrix.setZero();
    right.setZero();
    for (std::size_t e = 1; e < elements.size(); ++e) {
      const double siemens = 1.0 / ((corner >> e & 1U) != 0 ? elements[e].value.high : elements[e].value.low);
      const int a = elements[e].from - 1, b = elements[e].to - 1;
      if (a >= 0) matrix(a, a) += siemens;
      if (b >= 0) matrix(b, b) += siemens;
      if (a >= 0 && b >= 0) matrix(a, b) -= siemens, matrix(b, a) -= siemens;
    }
    matrix.row(rail).setZero();
    matrix(rail, rail) = 1.0;
    right(rail) = (corner & 1U) != 0 ? elements.front().value.high : elements.front().value.low;
    const Eigen::VectorXd volts = matrix.partialPivLu().solve(right);
    extremes.first = std::min(extremes.first, volts(loop.terminal - 1));
    extremes.second = std::max(extremes.second, volts(loop.terminal - 1));
  }
  return extremes;
}

}  // namespace

std::vector<Figure> worst_case() {
  const Loop loop;
  const std::vector<Quantity> quantities = {Quantity::voltage(loop.terminal)};
  circuit::WorstCase worst;
  Figure figure;
  figure.promise = "exact worst case of a zone loop with 16 tolerances";
  figure.beside = "all 65,536 corners by Eigen's LU";
  figure.unit = "us";
  figure.aim_ratio = 1000.0;
  figure.ours = 1e6 * seconds_of([&] { worst = circuit::worst_case(loop.network, quantities).front(); });
  std::pair<double, double> corners;
  figure.theirs = 1e6 * seconds_once([&] { corners = all_corners(loop); });
  const bool same = std::fabs(worst.low.attained - corners.first) < 1e-9 &&
                    std::fabs(worst.high.attained - corners.second) < 1e-9 && worst.low.exact && worst.high.exact;
  if (!same) throw std::runtime_error("the worst case is not that of the corners");
  figure.limit = "each bound and each corner is proven by a general solver with its own matrices in memory";
  return {figure};
}

}  // namespace zoneproof::promises
