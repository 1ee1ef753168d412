#include "circuit/box_study.hpp"

#include <cmath>

namespace zoneproof::circuit {

namespace {

std::vector<Parameter> parameters_of(const Network& network) {
  std::vector<Parameter> result;
  for (std::size_t e = 0; e < network.elements().size(); ++e) {
    const Element& element = network.elements()[e];
    const auto index = static_cast<ElementIndex>(e);
    if (element.value.wide()) result.push_back({index, false});
    if (element.kind == Kind::diode && element.on_ohm.wide()) result.push_back({index, true});
  }
  return result;
}

}  // namespace

BoxStudy::BoxStudy(const Network& studied, const WorstCaseOptions& chosen)
    : network(studied),
      options(chosen),
      parameters(parameters_of(studied)),
      nominal(solve(studied, chosen.solve)),
      box(Box::of(studied)) {
  enclosure.emplace(network, box, nominal.voltage);
}

std::vector<Parameter> BoxStudy::open_parameters(const Box& within) const {
  std::vector<Parameter> open;
  for (const Parameter& p : parameters) {
    if (span_of(within, p).wide()) open.push_back(p);
  }
  return open;
}

const Range& BoxStudy::range_of(const Parameter& parameter) const {
  return network.element(parameter.element).range(parameter.on_ohm);
}

Span& span_of(Box& box, const Parameter& p) { return p.on_ohm ? box.on_ohm[at(p.element)] : box.value[at(p.element)]; }
const Span& span_of(const Box& box, const Parameter& p) {
  return p.on_ohm ? box.on_ohm[at(p.element)] : box.value[at(p.element)];
}

bool concerns(const Solution& solution, double value) {
  return solution.trouble != Trouble::floating || std::isnan(value);
}

}  // namespace zoneproof::circuit
