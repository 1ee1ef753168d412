#include "circuit/monotone.hpp"

#include <algorithm>

#include "circuit/box_study.hpp"

namespace zoneproof::circuit {

std::vector<int> certain_signs(const Network& network, ElementIndex element, const std::vector<Quantity>& quantities) {
  std::vector<int> signs(quantities.size(), 0);
  const WorstCaseOptions options;
  const BoxStudy study(network, options);
  if (!study.nominal.usable() || !study.enclosure->certifying()) return signs;
  for (std::size_t i = 0; i < quantities.size(); ++i) {
    const Enclosure::Functional functional = study.enclosure->functional(quantities[i]);
    if (!functional.floats) signs[i] = study.enclosure->sign(functional, {element, false});
  }
  return signs;
}

bool linear(const Network& network) {
  return std::all_of(network.elements().begin(), network.elements().end(), [](const Element& element) {
    return element.kind == Kind::resistor || element.kind == Kind::voltage || element.kind == Kind::current;
  });
}

}  // namespace zoneproof::circuit
