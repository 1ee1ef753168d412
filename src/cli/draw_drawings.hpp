#pragma once
#include <vector>

#include "base/message.hpp"
#include "cli/commands.hpp"
#include "cli/drawn.hpp"
#include "site/model.hpp"

/// What the command draw writes.
namespace zoneproof::cli {

/// Why nothing may be drawn as asked; asked before anything is computed.
std::vector<Message> drawing_problems(const DrawOptions& asked);

Drawn draw(const site::Site& site, const DrawOptions& asked, Screen& screen);

}  // namespace zoneproof::cli
