#pragma once
#include "cli/commands.hpp"

namespace zoneproof::cli {

/// serve, where there is a server (serve_server.cpp; serve_server_none.cpp elsewhere).
int serve_here(const ServeOptions& asked, Screen& screen);

}  // namespace zoneproof::cli
