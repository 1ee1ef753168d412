#include "base/file.hpp"
#include "cli/commands.hpp"
#include "cli/reading.hpp"
#include "electric/deck.hpp"
#include "messages/cli.hpp"

namespace zoneproof::cli {

int netlist(const NetlistOptions& asked, Screen& screen) {
  if (const auto problem = output_problem(asked.output, {asked.site}, asked.replace)) {
    return refuse("netlist", {*problem}, asked.json, screen);
  }
  int exit_code = 0;
  const auto loaded = load(asked.site, "netlist", asked.json, screen, exit_code);
  if (!loaded) return exit_code;
  const std::string deck = electric::deck(loaded->site);
  if (!asked.output.empty()) {
    if (const auto problem = save_file(asked.output, deck)) return refuse("netlist", {*problem}, asked.json, screen);
  }
  if (asked.json) {
    return put_results(*loaded, results::NetlistQuestion{}, screen);
  } else if (asked.output.empty()) {
    screen.raw(deck);
  } else if (!is_stream(asked.output)) {  // a remark would end up in it: "-o /dev/stdout | ..."
    screen.line(text(say::deck_written(asked.output)));
  }
  return 0;
}

}  // namespace zoneproof::cli
