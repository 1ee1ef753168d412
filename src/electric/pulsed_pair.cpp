#include "electric/pulsed_pair.hpp"

#include <algorithm>

#include "electric/element_name.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

namespace {

using circuit::Quantity;

constexpr int kLaggardSteps = 64;  // stretches of a settling voltage; what they lose is on the safe side
constexpr int kMeanSteps = 256;    // of the mean of a wave

bool any_length(const std::vector<double>& seconds) {
  return std::any_of(seconds.begin(), seconds.end(), [](double s) { return s > 0.0; });
}

}  // namespace

double between(double a, double b, double share) {
  if (share <= 0.0) return a;
  return share >= 1.0 ? b : (1.0 - share) * a + share * b;
}

PulsedPair::PulsedPair(const site::Site& of_site, const Level& of_level)
    : site(of_site),
      level(of_level),
      spec(*of_level.circuit.terminal->spec),
      input(of_level.circuit.input ? &of_level.circuit.input->spec->input : nullptr) {
  pulse.timing = timing_of(spec);
  for (const chain::Gap& gap : pulse.timing.gaps) chain::add_gap(pulse.gaps, gap);
  pulse.tapped = level.unit && level.circuit.taps.count(level.situation.trigger) != 0;
  for (DrivePart part : parts_of(spec)) solve_part(part);
  join_parts();
}

void PulsedPair::solve_part(DrivePart part) {
  StandingLevel standing;
  standing.part = part;
  const ZoneCircuit circuit = build_zone_circuit(site, level.situation, part);
  standing.solved = at_rest(circuit);
  const PairTimes times = pair_times(site, level.situation, circuit);
  for (const chain::Gap& gap : times.gaps) chain::add_gap(pulse.gaps, gap);
  standing.total_s = times.total_s;
  if (part == DrivePart::on) {
    pulse.total_s = times.total_s;
    nominal_times = times.panel;
  }
  linear = linear && !lets_go(spec, part);
  pulse.parts.push_back(std::move(standing));
}

void PulsedPair::join_parts() {
  together = pulse.parts.front().solved;
  for (const StandingLevel& standing : pulse.parts) {
    for (const chain::Gap& gap : standing.solved.gaps) chain::add_gap(together.gaps, gap);
    together.weakest = std::max(together.weakest, standing.solved.weakest);
    if (standing.solved.unknown) together.unknown = true;
  }
  together.weakest = std::max(together.weakest, pulse.timing.origin);
}

/// Clamps of the units' inputs: where none conducts in any part, the pair is linear.
std::vector<circuit::ElementIndex> PulsedPair::clamps(const circuit::Network& network) const {
  std::vector<circuit::ElementIndex> found;
  for (const auto& [id, tapped] : level.circuit.taps) {
    for (const char* name : {"clamp_high", "clamp_low"}) {
      if (const auto index = network.find_element(part_name(site::first_on_input(site, id), name)))
        found.push_back(*index);
    }
  }
  return found;
}

Solved PulsedPair::at_rest(const ZoneCircuit& circuit) {
  std::vector<Quantity> quantities = level.quantities;
  const std::vector<circuit::ElementIndex> diodes = clamps(circuit.wiring.network);
  for (circuit::ElementIndex index : diodes) {
    const circuit::Element& diode = circuit.wiring.network.element(index);
    quantities.push_back(Quantity::voltage(diode.from, diode.to));
  }
  Solved solved = solve_wiring(circuit.wiring, quantities);
  const std::size_t asked = level.quantities.size();
  for (std::size_t i = 0; i < diodes.size(); ++i) {
    const circuit::Element& diode = circuit.wiring.network.element(diodes[i]);
    linear = linear && !solved.unknown && solved.cases.at(asked + i).high.bound < diode.value.low;
  }
  solved.cases.resize(asked);
  solved.low_exact.resize(asked);
  solved.high_exact.resize(asked);
  return solved;
}

bool PulsedPair::troubled() const {
  return std::any_of(pulse.parts.begin(), pulse.parts.end(), [](const StandingLevel& standing) {
    return standing.solved.unknown || standing.solved.troubled();
  });
}

double PulsedPair::mean_nominal(std::size_t which) const {
  if (waves()) {
    const double base = wave_bottom(*spec.wave.value);
    double mean = 0.0;
    for (int i = 0; i < kMeanSteps; ++i) mean += wave_at(*spec.wave.value, (i + 0.5) / kMeanSteps) / kMeanSteps;
    return between(in(1, which).nominal, in(0, which).nominal, (mean - base) / (1.0 - base));
  }
  double area = 0.0, seconds = 0.0;
  for (std::size_t k = 0; k < parts(); ++k) {
    const double length = 0.5 * (lasts(k).low + lasts(k).high);
    area += length * in(k, which).nominal;
    seconds += length;
  }
  return area / seconds;
}

void PulsedPair::each_period(const VisitPeriod& visit) const {
  std::vector<std::vector<std::size_t>> orders = {{0, 1}};
  if (parts() == 3) orders = {{0, 1, 2}, {0, 2, 1}};
  const std::size_t corners = std::size_t{1} << parts();
  for (const auto& order : orders) {
    for (std::size_t corner = 0; corner < corners; ++corner) {
      std::vector<double> seconds;
      for (std::size_t k = 0; k < parts(); ++k)
        seconds.push_back((corner >> k) % 2 == 0 ? lasts(k).low : lasts(k).high);
      if (any_length(seconds)) visit(order, seconds);
    }
  }
}

Period PulsedPair::course(const std::vector<std::size_t>& order, const std::vector<double>& seconds, bool high,
                          bool at_once, const std::function<double(std::size_t)>& volts) const {
  Period period;
  for (std::size_t i = 0; i < order.size(); ++i) {
    const std::size_t part = order[i];
    const double to = volts(part), from = volts(order[(i + order.size() - 1) % order.size()]);
    const bool late = !at_once && (high ? from > to : from < to);
    if (late) {
      append_laggard(period, seconds[part], from, to, pulse.parts[part].total_s, kLaggardSteps);
    } else {
      period.push_back({seconds[part], to});
    }
  }
  return period;
}

Period PulsedPair::bounding_course(const std::vector<std::size_t>& order, const std::vector<double>& seconds, bool high,
                                   bool at_once, std::size_t which) const {
  return course(order, seconds, high, at_once, [&](std::size_t part) { return bound(part, which, high); });
}

}  // namespace zoneproof::electric
