#pragma once
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "base/message.hpp"
#include "cli/help.hpp"
#include "cli/screen.hpp"

namespace zoneproof::cli {

/// What a command line asks for: exactly one of a command to run, help to show, the version, or problems.
struct Request {
  std::function<int(Screen&)> command;
  std::optional<CommandHelp> help;
  bool asks_for_help = false;  ///< the overview was asked for, and is not shown for want of a command
  std::optional<std::vector<CommandHelp>> overview;
  bool version = false;
  std::vector<Message> problems;
};

/// Reads a command line without the program's name. Never throws for what a person typed.
Request read_arguments(const std::vector<std::string>& arguments);

}  // namespace zoneproof::cli
