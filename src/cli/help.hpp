#pragma once
#include <string>
#include <vector>

#include "base/message.hpp"
#include "cli/screen.hpp"

namespace zoneproof::cli {

/// One argument of a command as the help shows it.
struct HelpLine {
  std::string name;  ///< "SITE", "--zone ZONE"
  std::string meaning;
  bool option = false;
};

/// A command as the help shows it.
struct CommandHelp {
  std::string name;
  std::string purpose;
  std::string example;  ///< a whole command line that runs on the demo
  std::vector<HelpLine> lines;
};

void print_help(const CommandHelp& command, Screen& screen);
/// The list of commands.
void print_overview(const std::vector<CommandHelp>& commands, Screen& screen);

}  // namespace zoneproof::cli
