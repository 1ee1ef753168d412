#pragma once
#include <map>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "circuit/network.hpp"
#include "electric/terminal_answer.hpp"
#include "results/questions.hpp"
#include "site/model.hpp"

/// The question terminal.
namespace zoneproof::results {

/// A terminal, where it hangs, and what its readings say.
struct TerminalTold {
  std::string part;  ///< empty: of the question's readings alone
  site::ZoneTerminalSpec spec;
  std::map<std::string, std::string> typed;  ///< what the meter showed as it was typed, "2.90 V", by id of the reading
  electric::TerminalAnswer answer;
};

/// `site` null: the readings are the question's own, else the site's.
Answered<TerminalTold> answer(const site::Site* site, const TerminalQuestion& question);
nlohmann::ordered_json json_of(const TerminalTold& told);

}  // namespace zoneproof::results
