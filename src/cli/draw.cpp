#include "cli/commands.hpp"
#include "cli/draw_drawings.hpp"
#include "cli/reading.hpp"

namespace zoneproof::cli {

int draw(const DrawOptions& asked, Screen& screen) {
  if (const auto problems = drawing_problems(asked); !problems.empty()) return refuse("draw", problems, false, screen);
  int exit_code = 0;
  const auto loaded = load(asked.site, "draw", false, screen, exit_code);
  if (!loaded) return exit_code;
  const Drawn drawn = draw(loaded->site, asked, screen);
  if (!drawn.problems.empty()) return refuse("draw", drawn.problems, false, screen);
  print_notes(drawn.notes, screen);
  print_drawn(drawn, screen);
  return 0;
}

}  // namespace zoneproof::cli
