#include "cli/run.hpp"

#include <exception>
#include <ostream>

#include "cli/arguments.hpp"
#include "cli/language_option.hpp"
#include "cli/reading.hpp"
#include "messages/cli.hpp"
#include "messages/results.hpp"
#include "results/results.hpp"

namespace zoneproof::cli {

namespace {

/// Output that cannot be written (a full disk, a closed pipe) is no success.
int finished(int exit_code, Screen& screen) {
  screen.out().flush();
  if (screen.out()) return exit_code;
  const Message message = say::output_not_written();
  print_problem(screen.err(), message);
  return kind_of(message.code).exit_status;
}

int run_request(const Request& request, Screen& screen) {
  if (!request.problems.empty()) return refuse("", request.problems, false, screen);
  if (request.version) {
    screen.line(text(say::program_name()) + " " + results::engine_version());
  } else if (request.help) {
    print_help(*request.help, screen);
  } else if (request.overview) {
    print_overview(*request.overview, screen);
    return request.asks_for_help ? 0 : 2;  // no command: nothing was done
  } else {
    return request.command(screen);
  }
  return 0;
}

}  // namespace

int run(const std::vector<std::string>& arguments, std::ostream& out, std::ostream& err, const Terminal& terminal) {
  Screen screen(out, err, terminal);
  const LanguageAsked asked = take_language(arguments, terminal.language);
  const SpokenLanguage spoken(asked.language);
  try {
    if (!asked.problems.empty()) return finished(refuse("", asked.problems, false, screen), screen);
    return finished(run_request(read_arguments(asked.rest), screen), screen);
  } catch (const std::exception& fault) {
    screen.end_progress();
    const Message message = say::own_fault(fault.what());
    print_problem(err, message);
    return kind_of(message.code).exit_status;
  }
}

}  // namespace zoneproof::cli
