#pragma once
#include <map>
#include <string>
#include <vector>

#include "base/message.hpp"
#include "circuit/network.hpp"
#include "results/questions.hpp"
#include "site/parts.hpp"

/// Meter readings as a person types them on the command line. Numbers have the ranges of the site file's fields.
namespace zoneproof::results {

/// What was typed of one terminal.
struct TypedTerminal {
  site::ZoneTerminalSpec spec;
  std::map<std::string, std::string> shown;  ///< what the meter showed with all its digits, "2.90 V", by id in `spec`
};

/// A zone terminal of which nothing is known but the readings, as they would stand in a site file; the panel's
/// measuring input is part of what was read. What cannot be read, cannot be, is missing or belongs to no reading goes
/// to `problems`, one message each.
TypedTerminal terminal_typed(const TerminalQuestion& asked, std::vector<Message>& problems);

/// The loads of --eol, likewise.
std::vector<circuit::Range> loads_typed(const TerminalQuestion& asked, std::vector<Message>& problems);

}  // namespace zoneproof::results
