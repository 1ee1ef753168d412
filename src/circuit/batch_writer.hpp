#pragma once
#include <optional>
#include <vector>

#include "circuit/batch.hpp"
#include "circuit/lane_code.hpp"

/// Inside of the engine: the steps that solve a network for many sets of values (batch.hpp).
namespace zoneproof::circuit {

/// A constant-power load on its law: the tangent about the voltage of the last round, and the voltage of this round.
struct BatchLoad {
  Word watt = 0;
  Word siemens = 0;  ///< set before each round: 0 at first, then -P / w^2
  Word ampere = 0;   ///< set likewise: what the tangent draws at no voltage, 2 P / w
  Word volt = 0;     ///< w, of this round
  double lockout = 0.0;
};

struct BatchCode {
  LaneCode code;
  std::vector<Word> inputs;        ///< as Varied
  std::vector<BatchLoad> loads;    ///< Part::loop is there for them
  std::vector<Word> not_negative;  ///< after the last part: otherwise the set is not what was supposed
  std::vector<Word> results;       ///< as the quantities
  std::vector<bool> shapes;        ///< of the inputs: a resistance, whose zero or infinity changes the network's shape
};

/// Nothing where the nominal operating point (`nominal`) is not one that other sets could share.
std::optional<BatchCode> write_batch(const Network& network, const Solution& nominal,
                                     const std::vector<Batch::Varied>& varied, const std::vector<Quantity>& quantities);

}  // namespace zoneproof::circuit
