#pragma once
#include "circuit/network.hpp"

/// Ranges as the tests write them.
namespace zoneproof::circuit {

inline Range exactly(double value) { return Range::exactly(value); }
inline Range within(double nominal, double share) {
  return {nominal, nominal * (1.0 - share), nominal * (1.0 + share)};
}

}  // namespace zoneproof::circuit
