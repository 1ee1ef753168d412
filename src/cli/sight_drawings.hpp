#pragma once
#include <string>
#include <vector>

#include "base/message.hpp"
#include "cli/commands.hpp"
#include "cli/drawn.hpp"
#include "results/sight.hpp"

/// What the command sight draws: the plan, and the picture that each camera should give.
namespace zoneproof::cli {

/// Why nothing may be drawn as asked: a plan of a kind that is none, a file that is there, a folder that is a file.
/// Asked before anything is computed.
std::vector<Message> drawing_problems(const SightOptions& asked);

/// Writes what is asked for. `answer` has the zones that are drawn, in the order in which their patches are numbered.
Drawn draw(const site::Site& site, const results::SightAnswer& answer, const SightOptions& asked, Screen& screen);

}  // namespace zoneproof::cli
