#include "electric/narrowed.hpp"

#include "circuit/reach.hpp"

namespace zoneproof::electric {

std::vector<circuit::Node> narrow(Wiring& wiring, std::vector<circuit::Quantity>& quantities) {
  std::vector<circuit::Node> asked;
  for (const circuit::Quantity& quantity : quantities) {
    for (const circuit::Quantity::Term& term : quantity.terms) asked.push_back(term.node);
  }
  std::vector<circuit::Node> now = wiring.keep_only(circuit::within_reach(wiring.network, quantities), asked);
  for (circuit::Quantity& quantity : quantities) {
    for (circuit::Quantity::Term& term : quantity.terms) term.node = now.at(static_cast<std::size_t>(term.node));
  }
  return now;
}

}  // namespace zoneproof::electric
