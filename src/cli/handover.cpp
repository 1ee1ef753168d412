#include "cli/commands.hpp"
#include "cli/handover_drawings.hpp"
#include "cli/reading.hpp"
#include "messages/cli.hpp"

namespace zoneproof::cli {

int handover(const HandoverOptions& asked, Screen& screen) {
  if (const auto problems = drawing_problems(asked); !problems.empty())
    return refuse("handover", problems, false, screen);
  int exit_code = 0;
  const auto loaded = load(asked.site, "handover", false, screen, exit_code);
  if (!loaded) return exit_code;
  const Papers papers = draw(loaded->site, asked, screen);
  const Drawn& drawn = papers.drawn;
  if (!drawn.problems.empty()) {
    const int refused = refuse("handover", drawn.problems, false, screen);
    print_notes(papers.notes, screen);  // what is no longer where it was
    return refused;
  }
  screen.line(text(say::handover_written(asked.output, static_cast<long long>(drawn.paths.size()))));
  for (const Message& note : papers.notes) {
    if (kind_of(note.code).severity == Severity::warning)
      print_problem(screen.err(), note);
    else
      screen.line(text(note));
  }
  return papers.all_proven ? 0 : 1;
}

}  // namespace zoneproof::cli
