#include "promises/spice.hpp"

#include <ngspice/sharedspice.h>

#include <stdexcept>

namespace zoneproof::promises {

namespace {

int ignore_text(char*, int, void*) { return 0; }
int refuse_exit(int, NG_BOOL, NG_BOOL, int, void*) { throw std::runtime_error("ngspice gives up"); }

}  // namespace

Spice::Spice() {
  if (ngSpice_Init(ignore_text, ignore_text, refuse_exit, nullptr, nullptr, nullptr, nullptr) != 0)
    throw std::runtime_error("ngspice does not start");
}

void Spice::load(const std::vector<std::string>& deck) {
  std::vector<std::string> lines = deck;
  std::vector<char*> pointers;
  for (std::string& line : lines) pointers.push_back(line.data());
  pointers.push_back(nullptr);
  if (ngSpice_Circ(pointers.data()) != 0) throw std::runtime_error("ngspice refuses the deck");
}

void Spice::command(const std::string& line) {
  std::string text = line;
  if (ngSpice_Command(text.data()) != 0) throw std::runtime_error("ngspice refuses: " + line);
}

double Spice::voltage(const std::string& node) {
  std::string name = node;
  const pvector_info info = ngGet_Vec_Info(name.data());
  if (info == nullptr || info->v_length < 1) throw std::runtime_error("ngspice knows no voltage of " + node);
  return info->v_realdata[0];
}

void Spice::operating_point() {
  command("destroy all");
  command("op");
}

}  // namespace zoneproof::promises
