#include <pwd.h>
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

/// Where programs keep what is a person's own (XDG Base Directory Specification).
std::string own_book() {
  const std::string data = variable("XDG_DATA_HOME"), home = variable("HOME");
  if (!data.empty() && data.front() == '/') return data + "/zoneproof/book";
  return home.empty() ? "" : home + "/.local/share/zoneproof/book";
}

std::string person() {
  const passwd* entry = getpwuid(getuid());
  return entry == nullptr ? variable("USER") : entry->pw_name;
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
  terminal.book = variable("ZONEPROOF_BOOK");
  if (terminal.book.empty()) terminal.book = own_book();
  terminal.postgresql = variable("ZONEPROOF_POSTGRESQL");
  terminal.person = person;
  return terminal;
}

}  // namespace

int main(int count, char** arguments) {
  return zoneproof::cli::run({arguments + (count > 0 ? 1 : 0), arguments + count}, std::cout, std::cerr, terminal());
}
