#pragma once
#include <optional>
#include <vector>

#include "circuit/enclosure.hpp"
#include "circuit/worst_case.hpp"

/// Inside of the engine: what all searches for an extreme in one network share (worst_case.hpp).
namespace zoneproof::circuit {

struct BoxStudy {
  const Network& network;
  const WorstCaseOptions& options;
  std::vector<Parameter> parameters;  ///< everything that has a range, in the order of the elements
  Solution nominal;
  Box box;                             ///< of all ranges, with what its enclosure showed
  std::optional<Enclosure> enclosure;  ///< of the whole box

  BoxStudy(const Network& network, const WorstCaseOptions& options);
  BoxStudy(const BoxStudy&) = delete;
  BoxStudy& operator=(const BoxStudy&) = delete;

  /// The parameters that are not fixed in a box.
  std::vector<Parameter> open_parameters(const Box& within) const;
  const Range& range_of(const Parameter& parameter) const;
  /// What all neglected elements together may do: well inside the tolerance within which a result counts as exact.
  double allowance() const { return 0.25 * options.exact_tolerance; }
};

Span& span_of(Box& box, const Parameter& parameter);
const Span& span_of(const Box& box, const Parameter& parameter);

/// Whether a solution's trouble is one of the quantity that has `value` in it: a part that floats beside it (what
/// stands between two open contacts, say) is not.
bool concerns(const Solution& solution, double value);

}  // namespace zoneproof::circuit
