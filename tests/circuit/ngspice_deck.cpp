#include "circuit/ngspice_deck.hpp"

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>

namespace zoneproof::circuit {
namespace {

std::string number(double value) {
  char text[40];
  std::snprintf(text, sizeof text, "%.17g", value);
  return text;
}

std::string across(const std::string& plus, const std::string& minus) {
  std::string text("(v(");
  return text.append(plus).append(")-v(").append(minus).append("))");
}

// The vertical part of a limited source's characteristic is no function of its voltage, so an auxiliary node s runs
// along the curve: s <= 0: at the set voltage, s amperes below the limit; s > 0: s volts below the set voltage.
void write_limited(std::ostream& out, const Element& e, const std::string& plus, const std::string& minus,
                   double volt) {
  const std::string s = "aux_" + e.name;
  const std::string below = "max(v(" + s + "),0)";
  std::string limit = number(e.limit_amps);
  if (e.limit == Limit::foldback) {
    std::ostringstream folded;
    folded << "(" << number(e.foldback_amps) << "+" << number(e.limit_amps - e.foldback_amps) << "*max(" << number(volt)
           << "-" << below << ",0)/" << number(volt) << ")";
    limit = folded.str();
  }
  out << "b" << e.name << " " << minus << " " << plus << " i=" << limit << "+min(v(" << s << "),0)\n";
  out << "b" << e.name << "_s " << s << " 0 i=" << across(plus, minus) << "-" << number(volt) << "+" << below << "\n";
}

void write_element(std::ostream& out, const Network& network, const Element& e, double value) {
  const std::string& from = network.node_name(e.from);
  const std::string& to = network.node_name(e.to);
  switch (e.kind) {
    case Kind::resistor:
      if (std::isinf(value)) return;
      if (value == 0.0) {
        out << "v" << e.name << " " << from << " " << to << " 0\n";
      } else {
        out << "r" << e.name << " " << from << " " << to << " " << number(value) << "\n";
      }
      return;
    case Kind::voltage: out << "v" << e.name << " " << to << " " << from << " " << number(value) << "\n"; return;
    case Kind::current: out << "i" << e.name << " " << from << " " << to << " " << number(value) << "\n"; return;
    case Kind::constant_power: {
      const double lock = e.lockout_volts;
      const std::string w = across(to, from);
      out << "b" << e.name << " " << to << " " << from << " i=" << number(value) << "*(" << w << ">" << number(lock)
          << "?1/max(" << w << "," << number(lock) << "):" << w << "/" << number(lock * lock) << ")\n";
      return;
    }
    case Kind::diode:
      out << "b" << e.name << " " << from << " " << to << " i=max(" << across(from, to) << "-" << number(value)
          << ",0)/" << number(e.on_ohm.nominal) << "\n";
      return;
    case Kind::limited_source: write_limited(out, e, to, from, value); return;
  }
}

}  // namespace

std::string ngspice_deck(const Network& network, const Values& values, const Solution* hints) {
  std::ostringstream out;
  out << "circuit engine check\n";
  for (std::size_t e = 0; e < values.size(); ++e) write_element(out, network, network.elements()[e], values[e]);
  if (hints != nullptr) {
    for (Node node = 1; node < network.node_count(); ++node) {
      const double volt = hints->voltage[static_cast<std::size_t>(node)];
      if (std::isfinite(volt)) out << ".nodeset v(" << network.node_name(node) << ")=" << number(volt) << "\n";
    }
    for (std::size_t e = 0; e < values.size(); ++e) {
      const Element& element = network.elements()[e];
      if (element.kind != Kind::limited_source) continue;
      const double below = values[e] - (hints->voltage[static_cast<std::size_t>(element.to)] -
                                        hints->voltage[static_cast<std::size_t>(element.from)]);
      const double s = below > 1e-9 ? below : hints->current[e] - element.limit_amps;
      out << ".nodeset v(aux_" << element.name << ")=" << number(s) << "\n";
    }
  }
  out << ".options reltol=1e-10 abstol=1e-15 vntol=1e-12 gmin=1e-18 itl1=2000\n.end\n";
  return out.str();
}

std::vector<std::map<std::string, double>> run_ngspice(const std::vector<std::string>& decks,
                                                       const std::string& folder) {
  std::filesystem::create_directories(folder);
  std::ofstream control(folder + "/control.cir");
  control << "all decks\n.control\nset numdgt=15\n";
  for (std::size_t i = 0; i < decks.size(); ++i) {
    const std::string path = folder + "/deck" + std::to_string(i) + ".cir";
    std::ofstream(path) << decks[i];
    control << "source " << path << "\nop\necho deck " << i << "\nprint all\nremcirc\n";
  }
  control << "quit\n.endc\n.end\n";
  control.close();
  const std::string output = folder + "/output.txt";
  const std::string command = "ngspice -b " + folder + "/control.cir > " + output + " 2>" + folder + "/errors.txt";
  if (std::system(command.c_str()) == -1) throw std::runtime_error("ngspice does not start");
  std::vector<std::map<std::string, double>> results(decks.size());
  std::ifstream in(output);
  std::map<std::string, double>* current = nullptr;
  for (std::string line; std::getline(in, line);) {
    std::istringstream words(line);
    std::string name;
    std::string sign;
    double value = 0.0;
    words >> name >> sign;
    if (name == "deck" && !sign.empty()) {
      current = &results.at(std::stoul(sign));
    } else if (current != nullptr && sign == "=" && words >> value) {
      (*current)[name] = value;
    }
  }
  return results;
}

}  // namespace zoneproof::circuit
