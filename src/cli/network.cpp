#include "results/network.hpp"
#include "cli/commands.hpp"
#include "cli/evidence_text.hpp"
#include "cli/reading.hpp"
#include "electric/naming.hpp"
#include "messages/cli.hpp"

namespace zoneproof::cli {

namespace {

constexpr std::size_t kLoadsTold = 8;
constexpr double kMega = 1e6, kPercent = 100.0;

Measure megabits(double bits_per_s) { return {bits_per_s / kMega, "Mbps", 3}; }

void print_thing(const site::Site& site, const results::ThingTold& thing, bool all, Screen& screen) {
  screen.heading(electric::thing_words(site, thing.thing));
  for (const chain::Evidence& evidence : thing.evidence)
    if (all || evidence.verdict != chain::Verdict::proven) print_evidence(screen, site, evidence);
}

void print_load(const site::Site& site, const carriage::HopLoad& load, Screen& screen) {
  const double carried = load.live_bps + load.alarm_bps;
  const std::string thing = electric::thing_words(site, load.hop.thing);
  const Measure share = {kPercent * carried / load.rate_bps, "pct", 2}, rate = megabits(load.rate_bps);
  const Measure live = megabits(load.live_bps), alarm = megabits(load.alarm_bps);
  if (load.hop.from.empty())
    screen.line(text(say::network_load_out(thing, alarm, rate)), 2);
  else if (load.hop.is_switch())
    screen.line(text(say::network_load_switch(thing, live, alarm, rate, share)), 2);
  else
    screen.line(text(say::network_load(thing, electric::thing_words(site, load.hop.from), live, alarm, rate, share)),
                2);
}

}  // namespace

int network(const NetworkOptions& asked, Screen& screen) {
  int exit_code = 0;
  const auto loaded = load(asked.site, "network", asked.json, screen, exit_code);
  if (!loaded) return exit_code;
  if (asked.json) return put_results(*loaded, results::NetworkQuestion{}, screen);
  const results::NetworkAnswer answer = results::network_answer(loaded->site);
  screen.line(loaded->site.name, 0, Style::heading);
  if (answer.things.empty()) screen.line(text(say::network_nothing()), 0, Style::unanswered);
  std::string proven;
  for (const results::ThingTold& thing : answer.things) {
    const bool shown = asked.all || thing.verdict != chain::Verdict::proven;
    if (shown) print_thing(loaded->site, thing, asked.all, screen);
    if (!shown) proven += (proven.empty() ? "" : ", ") + electric::thing_words(loaded->site, thing.thing);
  }
  if (!proven.empty()) {
    screen.heading(text(say::heading_network_proven()));
    screen.line(proven, 2, Style::proven);
  }
  if (!answer.loads.empty()) screen.heading(text(say::heading_loads()));
  for (std::size_t i = 0; i < answer.loads.size() && (asked.all || i < kLoadsTold); ++i)
    print_load(loaded->site, answer.loads[i], screen);
  return answer.all_proven() ? 0 : 1;
}

}  // namespace zoneproof::cli
