// Instead of serve_server.cpp in the program that Node runs: a page serves nobody.
#include "cli/reading.hpp"
#include "cli/serve_server.hpp"
#include "messages/serve.hpp"

namespace zoneproof::cli {

int serve_here(const ServeOptions&, Screen& screen) { return refuse("serve", {say::serves_nothing()}, false, screen); }

}  // namespace zoneproof::cli
