#include "cli/drawn.hpp"

#include "messages/cli.hpp"

namespace zoneproof::cli {

void print_drawn(const Drawn& drawn, Screen& screen) {
  if (!drawn.paths.empty()) screen.line();
  for (const std::string& path : drawn.paths) screen.line(text(say::drawing_written(path)));
}

}  // namespace zoneproof::cli
