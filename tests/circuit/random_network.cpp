#include "circuit/random_network.hpp"

#include <cmath>
#include <stdexcept>
#include <string>
#include <vector>

#include "circuit/solve.hpp"

namespace zoneproof::circuit {
namespace {

class Builder {
 public:
  Builder(unsigned seed, const RandomShape& shape) : random_(seed), shape_(shape) {}

  Network build() {
    for (int i = 1; i <= shape_.nodes; ++i) {
      const Node node = network_.node(std::string("n").append(std::to_string(i)));
      network_.resistor(name("r"), node, pick(i), tolerant(ohm()));
    }
    for (int i = 0; i < shape_.extra_resistors; ++i) add_extra_resistor();
    for (int i = 0; i < shape_.voltages; ++i) add_source(false);
    for (int i = 0; i < shape_.limited; ++i) add_source(true);
    for (int i = 0; i < shape_.currents; ++i) {
      network_.current(name("i"), pick(shape_.nodes + 1), pick(shape_.nodes + 1), tolerant(uniform(-2e-3, 2e-3)));
    }
    for (int i = 0; i < shape_.diodes; ++i) {
      const double on = uniform(0.5, 20.0);
      network_.diode(name("d"), pick(shape_.nodes + 1), pick(shape_.nodes + 1), tolerant(uniform(0.2, 0.8)),
                     Range::exactly(on));
    }
    for (int i = 0; i < shape_.loads; ++i) add_load();
    return std::move(network_);
  }

 private:
  double uniform(double low, double high) { return std::uniform_real_distribution<double>(low, high)(random_); }
  Node pick(int below) { return std::uniform_int_distribution<int>(0, below - 1)(random_); }
  double ohm() { return std::exp(uniform(std::log(1.0), std::log(2e4))); }
  std::string name(const char* kind) { return std::string(kind).append(std::to_string(count_++)); }

  Range tolerant(double value) {
    if (shape_.tolerance == 0.0 || uniform(0.0, 1.0) > shape_.wide_share) return Range::exactly(value);
    const double half = std::abs(value) * shape_.tolerance;
    return {value, value - half, value + half};
  }

  void add_extra_resistor() {
    const Node a = pick(shape_.nodes + 1);
    const Node b = pick(shape_.nodes + 1);
    Range range = tolerant(ohm());
    if (uniform(0.0, 1.0) < shape_.extreme_share) {
      const double which = uniform(0.0, 3.0);
      if (which < 1.0) {
        range = {1.0, 0.0, 50.0};
      } else if (which < 2.0) {
        range = {infinite, 1e5, infinite};
      } else {
        range = {uniform(10.0, 1e6), 5.0, 2e6};
      }
    }
    network_.resistor(name("r"), a, b, range);
  }

  // A source with its own series resistor into the network: loops of sources cannot arise.
  void add_source(bool limited) {
    const std::string label = name("v");
    const Node plus = network_.node(label + "p");
    const Node minus = limited ? reference : pick(shape_.nodes + 1);
    const Range volt = tolerant(uniform(3.0, 24.0));
    if (limited) {
      const bool folds = uniform(0.0, 1.0) < 0.5;
      const double limit = std::exp(uniform(std::log(1e-3), std::log(1.0)));
      network_.limited_source(label, minus, plus, volt, limit, folds ? Limit::foldback : Limit::constant_current,
                              folds ? 0.6 * limit : 0.0);
    } else {
      network_.voltage(label, minus, plus, volt);
    }
    network_.resistor(name("r"), plus, pick(shape_.nodes + 1), tolerant(uniform(0.5, 50.0)));
  }

  void add_load() {
    const Solution before = solve(network_);
    Node plus = pick(shape_.nodes + 1);
    Node minus = pick(shape_.nodes + 1);
    double w = before.voltage[static_cast<std::size_t>(plus)] - before.voltage[static_cast<std::size_t>(minus)];
    if (w < 0.0) std::swap(plus, minus), w = -w;
    if (!(w > 0.5)) return;
    // 1 mA more between the nodes tells the resistance seen there, and with it the most that can be drawn.
    Network probe = network_;
    probe.current("probe", plus, minus, Range::exactly(1e-4));
    const Solution after = solve(probe);
    const double seen =
        (w - (after.voltage[static_cast<std::size_t>(plus)] - after.voltage[static_cast<std::size_t>(minus)])) / 1e-4;
    const double watt = uniform(0.05, 0.7) * w * w / (4.0 * std::max(seen, 1.0));
    const ElementIndex load = network_.constant_power(name("p"), plus, minus, tolerant(watt), 0.3 * w);
    while (!solve(network_).usable() || !solve(network_).locked_out.empty()) {  // what others draw may leave less
      Range& range = network_.element(load).value;
      range = {0.5 * range.nominal, 0.5 * range.low, 0.5 * range.high};
      if (range.high < 1e-9) throw std::runtime_error("no load is small enough: the network below it is at fault");
    }
  }

  std::mt19937 random_;
  RandomShape shape_;
  Network network_;
  int count_ = 0;
};

}  // namespace

Network random_network(unsigned seed, const RandomShape& shape) { return Builder(seed, shape).build(); }

}  // namespace zoneproof::circuit
