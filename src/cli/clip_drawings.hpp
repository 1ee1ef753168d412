#pragma once
#include <vector>

#include "base/message.hpp"
#include "cli/commands.hpp"
#include "cli/drawn.hpp"
#include "results/clip.hpp"

/// What the command clip draws: the moments of each alarm on an axis of time.
namespace zoneproof::cli {

/// Why nothing may be drawn as asked; asked before anything is computed.
std::vector<Message> drawing_problems(const ClipOptions& asked);

/// Writes what is asked for: a page for each clip of the answer.
Drawn draw(const site::Site& site, const results::ClipAnswer& answer, const ClipOptions& asked, Screen& screen);

}  // namespace zoneproof::cli
