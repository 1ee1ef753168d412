#include <unistd.h>

#include <cstdlib>
#include <iostream>
#include <string>

#include "cli/run.hpp"

namespace {

std::string variable(const char* name) {
  const char* value = std::getenv(name);
  return value == nullptr ? "" : value;
}

zoneproof::cli::Terminal terminal() {
  zoneproof::cli::Terminal terminal;
  terminal.out_is_terminal = isatty(STDOUT_FILENO) == 1;
  terminal.err_is_terminal = isatty(STDERR_FILENO) == 1;
  terminal.no_colour = !variable("NO_COLOR").empty() || variable("TERM") == "dumb";
  const std::string ground = variable("COLORFGBG");  // "0;15": dark letters on a light ground
  terminal.light_sheet =
      ground.size() >= 2 && (ground.substr(ground.size() - 2) == "15" || ground.substr(ground.size() - 2) == ";7");
  const std::string colours = variable("COLORTERM");
  terminal.true_colour = colours == "truecolor" || colours == "24bit";
  terminal.language = variable("ZONEPROOF_LANGUAGE");
  return terminal;
}

}  // namespace

int main(int count, char** arguments) {
  return zoneproof::cli::run({arguments + (count > 0 ? 1 : 0), arguments + count}, std::cout, std::cerr, terminal());
}
