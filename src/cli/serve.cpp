#include "cli/serve_server.hpp"

namespace zoneproof::cli {

int serve(const ServeOptions& asked, Screen& screen) { return serve_here(asked, screen); }

}  // namespace zoneproof::cli
