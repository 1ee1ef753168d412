#pragma once
#include <optional>
#include <string_view>
#include <vector>

#include "base/message.hpp"
#include "circuit/network.hpp"
#include "results/questions.hpp"
#include "site/parts.hpp"

/// Meter readings as a person types them on the command line.
namespace zoneproof::results {

/// "4k7/1%": a resistance with its tolerance, which has to be there. Nothing where it cannot be read.
std::optional<circuit::Range> resistance_typed(std::string_view typed);

/// A zone terminal of which nothing is known but the readings, as they would stand in a site file; the panel's
/// measuring input is part of what was read. What cannot be read or is missing goes to `problems`.
site::ZoneTerminalSpec terminal_typed(const TerminalQuestion& asked, std::vector<Message>& problems);

/// The loads of --eol.
std::vector<circuit::Range> loads_typed(const TerminalQuestion& asked, std::vector<Message>& problems);

}  // namespace zoneproof::results
