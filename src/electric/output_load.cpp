#include "electric/output_load.hpp"

#include <algorithm>
#include <cmath>

#include "base/outward.hpp"
#include "electric/naming.hpp"
#include "messages/electric.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

using circuit::infinite;

namespace {

using chain::Evidence;

/// Ohm's law over one element, at the largest voltage that it can have.
double most_through(const circuit::Element& element, double volts) {
  const bool clamp = element.kind == circuit::Kind::diode;
  const double over = clamp ? std::max(0.0, volts - element.value.low) : volts;
  const double least_ohm = clamp ? element.on_ohm.low : element.value.low;
  if (over == 0.0) return 0.0;
  return least_ohm > 0.0 ? over / least_ohm : infinite;
}

}  // namespace

double most_drawn(const circuit::Network& network, const std::vector<std::string>& names) {
  std::vector<const circuit::Element*> elements;
  std::vector<circuit::Quantity> across;
  for (const std::string& name : names) {
    const auto index = network.find_element(name);
    if (!index) continue;
    elements.push_back(&network.element(*index));
    across.push_back(circuit::Quantity::voltage(elements.back()->from, elements.back()->to));
  }
  const std::vector<circuit::WorstCase> volts = circuit::worst_case(network, across);
  double most = 0.0;
  for (std::size_t i = 0; i < volts.size(); ++i) {
    const bool one_way = elements[i]->kind == circuit::Kind::diode;
    const double back = one_way ? 0.0 : std::abs(volts[i].low.bound);
    most += most_through(*elements[i], std::max(back, std::max(0.0, volts[i].high.bound)));
  }
  return most;
}

std::vector<Evidence> judge_load(const site::Site& site, const std::string& output, Subject subject,
                                 const Wiring& wiring, const Solved& solved, const std::vector<std::string>& names) {
  subject.quantity = "current";
  subject.unit = "A";
  const site::Output& entry = site.outputs.at(output);
  const site::OutputSpec* spec = site::spec_of(site, entry.part, &site::Part::output);
  if (spec == nullptr) return {unanswered(subject, {{entry.part.pointer, "unknown"}})};
  if (solved.troubled()) return {unanswered(subject, solved.gaps)};
  const site::Value& limit = spec->limit_A;
  if (limit.unknown()) return {unanswered(subject, {{limit.pointer, "unknown"}})};
  if (limit.none()) return {};
  if (solved.unknown) return {unanswered(subject, solved.gaps)};
  const double most = most_drawn(wiring.network, names);
  Evidence evidence = unanswered(subject, solved.gaps);
  add_if_weak(evidence.gaps, limit);
  if (!std::isfinite(most)) {
    chain::add_gap(evidence.gaps, {"", "undecided"});
    return {evidence};
  }
  evidence.value = evidence.bound = most;
  evidence.kind = chain::BoundKind::bounded;
  evidence.limit = limit.low;
  evidence.margin = limit.low - most;
  evidence.required_margin = 0.0;
  evidence.limit_source = part_source(site, entry.part.id);
  evidence.limit_verified = true;  // the part's own sheet
  evidence.origin = std::max(solved.weakest, limit.origin);
  if (evidence.gaps.empty()) evidence.verdict = chain::judge(*evidence.margin, 0.0);
  evidence.says = say::output_carries(subject.thing, highest({most, "A"}), Measure{limit.low, "A"});
  if (evidence.verdict == chain::Verdict::broken) evidence.remedies.push_back(say::ask_less_of_the_output());
  return {evidence};
}

}  // namespace zoneproof::electric
