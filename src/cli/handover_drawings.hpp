#pragma once
#include <vector>

#include "base/message.hpp"
#include "cli/commands.hpp"
#include "cli/drawn.hpp"
#include "site/model.hpp"

/// What the command handover writes.
namespace zoneproof::cli {

/// Why nothing may be written as asked; asked before anything is computed.
std::vector<Message> drawing_problems(const HandoverOptions& asked);

/// Computes the site and writes the handover file with its parts. `all_proven` tells whether every chain is proven.
Drawn draw(const site::Site& site, const HandoverOptions& asked, Screen& screen, bool& all_proven);

}  // namespace zoneproof::cli
