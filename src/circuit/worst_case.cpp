#include "circuit/worst_case.hpp"

#include <limits>
#include <map>

#include "circuit/box_study.hpp"
#include "circuit/extreme_search.hpp"
#include "circuit/reach.hpp"
#include "circuit/series.hpp"

namespace zoneproof::circuit {

namespace {

std::vector<WorstCase> extremes(const Network& network, const std::vector<Quantity>& quantities,
                                const WorstCaseOptions& options) {
  const BoxStudy study(network, options);
  const Solution& nominal = study.nominal;
  std::vector<WorstCase> results(quantities.size());
  for (std::size_t i = 0; i < quantities.size(); ++i) {
    WorstCase& result = results[i];
    result.nominal = nominal.at(quantities[i]);
    if (concerns(nominal, result.nominal)) {
      result.trouble = nominal.trouble;
      result.troubled_nodes = nominal.troubled_nodes;
      result.troubled_elements = nominal.troubled_elements;
    }
    if (nominal.trouble == Trouble::source_loop || nominal.trouble == Trouble::not_converged) {
      constexpr double nan = std::numeric_limits<double>::quiet_NaN();
      result.low = {nan, -infinite, {}, false};
      result.high = {nan, infinite, {}, false};
      continue;
    }
    result.certified = static_cast<int>(study.parameters.size());
    result.low = search_extreme(study, quantities[i], -1, result);
    result.high = search_extreme(study, quantities[i], 1, result);
  }
  return results;
}

/// A result of the reduced network in the nodes and elements of the whole one.
void restore(const Network& network, const Reduced& small, WorstCase& result) {
  for (Extreme* extreme : {&result.low, &result.high}) extreme->corner = expanded(network, small, extreme->corner);
  for (Node& node : result.troubled_nodes) node = small.original.at(at(node));
  for (ElementIndex& element : result.troubled_elements) element = small.made_of.at(at(element)).front();
}

/// Quantities that rest on the same part of the network are studied together, each such part by itself.
std::vector<std::vector<std::size_t>> of_one_part(const Network& network, const std::vector<Quantity>& quantities) {
  std::map<std::vector<bool>, std::vector<std::size_t>> groups;
  for (std::size_t i = 0; i < quantities.size(); ++i) groups[within_reach(network, {quantities[i]})].push_back(i);
  std::vector<std::vector<std::size_t>> all;
  for (auto& [part, group] : groups) all.push_back(std::move(group));
  return all;
}

}  // namespace

std::vector<WorstCase> worst_case(const Network& network, const std::vector<Quantity>& quantities,
                                  const WorstCaseOptions& options) {
  std::vector<WorstCase> results(quantities.size());
  for (const std::vector<std::size_t>& group : of_one_part(network, quantities)) {
    std::vector<Quantity> together;
    for (const std::size_t which : group) together.push_back(quantities[which]);
    const Reduced small = reduced(network, together);
    std::vector<WorstCase> found = extremes(small.network, small.quantities, options);
    for (std::size_t i = 0; i < group.size(); ++i) {
      restore(network, small, found[i]);
      results[group[i]] = std::move(found[i]);
    }
  }
  return results;
}

Values values_at(const Network& network, const Corner& corner) {
  Values values = nominal_values(network);
  for (const CornerEntry& entry : corner) {
    if (!entry.on_ohm) values.at(at(entry.element)) = entry.value;
  }
  return values;
}

Network network_at(const Network& network, const Corner& corner) {
  Network result = network;
  for (std::size_t e = 0; e < network.elements().size(); ++e) {
    Element& element = result.element(static_cast<ElementIndex>(e));
    element.value = Range::exactly(element.value.nominal);
    element.on_ohm = Range::exactly(element.on_ohm.nominal);
  }
  for (const CornerEntry& entry : corner) {
    result.element(entry.element).range(entry.on_ohm) = Range::exactly(entry.value);
  }
  return result;
}

}  // namespace zoneproof::circuit
