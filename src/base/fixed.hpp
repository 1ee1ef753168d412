#pragma once
#include <string>

namespace zoneproof {

/// A number with as many decimals as asked for, trailing zeros kept: "4.620". For columns whose figures are compared
/// with each other and with a meter; `shown()` of message.hpp is for sentences. What rounds to nothing has no sign. Not
/// finite: "?".
std::string fixed(double value, int decimals);

/// The same to significant digits and without needless zeros, never with an exponent: "5600", "0.00231".
std::string significant(double value, int digits);

}  // namespace zoneproof
