#include "electric/random_terminal.hpp"

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <limits>
#include <map>
#include <sstream>
#include <stdexcept>

namespace zoneproof::electric {

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr double digits = 3.0;  ///< of the meter's error; its rounding is half a digit of them
constexpr double resistor_tolerance = 0.01, input_tolerance = 0.02, burden_tolerance = 0.1;

double between(std::mt19937& random, double low, double high) {
  return std::uniform_real_distribution<double>(low, high)(random);
}
double decades(std::mt19937& random, double low, double high) {
  return std::exp(between(random, std::log(low), std::log(high)));
}

MeterReading voltage(const char* name, double digit_V, double nominal_meter_ohm, double nominal_resistor_ohm) {
  MeterReading reading;
  reading.name = name;
  reading.error_share = 0.005;
  reading.error_fixed = digits * digit_V;
  reading.load_S = {1.0 / (nominal_meter_ohm * (1.0 + input_tolerance)),
                    1.0 / (nominal_meter_ohm * (1.0 - input_tolerance))};
  if (std::isinf(nominal_resistor_ohm)) return reading;
  reading.load_S.low += 1.0 / (nominal_resistor_ohm * (1.0 + resistor_tolerance));
  reading.load_S.high += 1.0 / (nominal_resistor_ohm * (1.0 - resistor_tolerance));
  return reading;
}

MeterReading current(double nominal_burden_ohm) {
  MeterReading reading;
  reading.name = "shorted";
  reading.kind = MeterKind::current;
  reading.error_share = 0.01;
  reading.error_fixed = digits * 1e-6;
  reading.burden_ohm = {nominal_burden_ohm * (1.0 - burden_tolerance), nominal_burden_ohm * (1.0 + burden_tolerance)};
  return reading;
}

std::string text_of(double value) {
  char text[40];
  std::snprintf(text, sizeof text, "%.17g", value);
  return text;
}

/// One circuit a reading: source, series resistance, and what stands across the screws. No code of the engine in it.
void write_deck(const std::vector<TrueTerminal>& terminals, const std::string& path) {
  std::ofstream out(path);
  out << "readings at terminals\n";
  for (std::size_t t = 0; t < terminals.size(); ++t) {
    const TrueTerminal& terminal = terminals[t];
    for (std::size_t i = 0; i < terminal.readings.size(); ++i) {
      const std::string id = std::to_string(t) + "_" + std::to_string(i);
      out << "v" << id << " s" << id << " 0 " << text_of(terminal.volts) << "\n";
      out << "r" << id << " s" << id << " x" << id << " " << text_of(terminal.ohm) << "\n";
      if (terminal.readings[i].kind == MeterKind::current) {
        out << "rb" << id << " x" << id << " b" << id << " " << text_of(terminal.burden_ohm) << "\n";
        out << "vb" << id << " b" << id << " 0 0\n";
        continue;
      }
      out << "rm" << id << " x" << id << " 0 " << text_of(terminal.meter_ohm) << "\n";
      const double resistor = terminal.resistor_ohm[i];
      if (!std::isinf(resistor)) out << "rl" << id << " x" << id << " 0 " << text_of(resistor) << "\n";
    }
  }
  out << ".options reltol=1e-10 abstol=1e-16 vntol=1e-12 gmin=1e-18\n";
  out << ".control\nset numdgt=15\nop\nprint all\nquit\n.endc\n.end\n";
}

}  // namespace

TrueTerminal random_terminal(std::mt19937& random) {
  TrueTerminal terminal;
  terminal.ohm = decades(random, 500.0, 100e3);
  terminal.volts = between(random, 3.0, 14.0) * (random() % 6 == 0 ? -1.0 : 1.0);
  const double meter = 10e6, burden = decades(random, 1.0, 300.0), digit_V = random() % 2 == 0 ? 0.01 : 0.001;
  terminal.meter_ohm = meter * between(random, 1.0 - input_tolerance, 1.0 + input_tolerance);
  terminal.burden_ohm = burden * between(random, 1.0 - burden_tolerance, 1.0 + burden_tolerance);
  terminal.readings.push_back(voltage("open", digit_V, meter, infinite));
  terminal.resistor_ohm.push_back(infinite);
  for (int loaded = 1 + static_cast<int>(random() % 2); loaded > 0; --loaded) {
    const double resistor = decades(random, 1e3, 22e3);
    terminal.readings.push_back(voltage(loaded == 1 ? "loaded" : "loaded_too", digit_V, meter, resistor));
    terminal.resistor_ohm.push_back(resistor * between(random, 1.0 - resistor_tolerance, 1.0 + resistor_tolerance));
  }
  if (random() % 4 != 0) {
    terminal.readings.push_back(current(burden));
    terminal.resistor_ohm.push_back(infinite);
  }
  return terminal;
}

double true_value(const TrueTerminal& terminal, std::size_t i) {
  if (terminal.readings[i].kind == MeterKind::current) return terminal.volts / (terminal.ohm + terminal.burden_ohm);
  const double load = 1.0 / terminal.meter_ohm + 1.0 / terminal.resistor_ohm[i];
  return terminal.volts / (1.0 + terminal.ohm * load);
}

void show(MeterReading& reading, double there, std::mt19937& random) {
  const double digit = reading.error_fixed / digits;
  const double share = between(random, -1.0, 1.0) * reading.error_share;
  const double fixed = between(random, -1.0, 1.0) * (digits - 0.5) * digit;
  // What is shown differs from what is there by that share of what is shown and by those digits, then it is rounded.
  const double exact = (there + fixed) / (1.0 - std::copysign(share, there * share));
  // A hair less than the sheet allows, so that rounding a number beside a digit's edge does not leave it.
  reading.shown = Extent::exactly(std::round(0.9999 * exact / digit + 0.0001 * there / digit) * digit);
}

std::vector<std::vector<double>> measured_by_ngspice(const std::vector<TrueTerminal>& terminals,
                                                     const std::string& folder) {
  std::filesystem::create_directories(folder);
  write_deck(terminals, folder + "/readings.cir");
  const std::string command =
      "ngspice -b " + folder + "/readings.cir > " + folder + "/output.txt 2> " + folder + "/errors.txt";
  if (std::system(command.c_str()) == -1) throw std::runtime_error("ngspice does not start");
  std::map<std::string, double> printed;
  std::ifstream in(folder + "/output.txt");
  for (std::string line; std::getline(in, line);) {
    std::istringstream words(line);
    std::string name, sign;
    double value = 0.0;
    if (words >> name >> sign >> value && sign == "=") printed[name] = value;
  }
  std::vector<std::vector<double>> all;
  for (std::size_t t = 0; t < terminals.size(); ++t) {
    all.emplace_back();
    for (std::size_t i = 0; i < terminals[t].readings.size(); ++i) {
      const std::string id = std::to_string(t) + "_" + std::to_string(i);
      const bool amps = terminals[t].readings[i].kind == MeterKind::current;
      all.back().push_back(printed.at(amps ? "vb" + id + "#branch" : "x" + id));
    }
  }
  return all;
}

}  // namespace zoneproof::electric
