#pragma once
#include <random>
#include <string>
#include <vector>

#include "electric/terminal_region.hpp"

/// Terminals as they might be, and what a meter within its data sheet might show on them.
namespace zoneproof::electric {

/// A true terminal, a true meter and what was put on the screws; `readings` hold what the meter's sheet says of itself
/// and, once taken, what it showed.
struct TrueTerminal {
  double ohm = 0.0, volts = 0.0;
  double meter_ohm = 0.0, burden_ohm = 0.0;
  std::vector<double> resistor_ohm;  ///< of each reading; infinite: none
  std::vector<MeterReading> readings;
};

/// Pull-ups of 0.5 to 100 kohm, open voltages of 3 to 14 V, one in six negative; 10 Mohm meters; an open reading, one
/// or two over resistors of 1 %, for most the current into a short.
TrueTerminal random_terminal(std::mt19937& random);

/// What is really there at reading `i`, by the laws of the divider. V or A.
double true_value(const TrueTerminal& terminal, std::size_t i);

/// The meter shows `there` with a share of its error and a share of its digits, both within its sheet, rounded to its
/// last digit.
void show(MeterReading& reading, double there, std::mt19937& random);

/// What ngspice says is really there at every reading of every terminal, in the same order.
std::vector<std::vector<double>> measured_by_ngspice(const std::vector<TrueTerminal>& terminals,
                                                     const std::string& folder);

}  // namespace zoneproof::electric
