// What a unit's arming input can be given: a resistor, or the other level taken as armed.
#include "electric/naming.hpp"
#include "messages/remedies.hpp"
#include "remedies/candidate.hpp"
#include "remedies/site_change.hpp"

namespace zoneproof::remedies {

namespace {

using site::Level;

std::optional<Candidate> other_level(const site::Site& site, const std::string& unit) {
  const auto& level = site.units.at(unit).arming.armed_level;
  if (!level.known()) return std::nullopt;
  Candidate made{Kind::armed_level,
                 level.is(Level::high) ? say::remedy_armed_low(electric::thing_words(site, unit))
                                       : say::remedy_armed_high(electric::thing_words(site, unit)),
                 site,
                 {{}, {{"choose_setting"}}}};
  made.changed.units.at(unit).arming.armed_level.value = level.is(Level::high) ? Level::low : Level::high;
  return made;
}

std::optional<Candidate> pull(const site::Site& site, const std::string& unit, Level level,
                              const ShelfResistor& resistor) {
  const Measure ohm{resistor.ohm.nominal, "ohm"};
  const std::string words = electric::thing_words(site, unit);
  Candidate made{Kind::pull_up,
                 level == Level::high ? say::remedy_pull_up(ohm, words) : say::remedy_pull_down(ohm, words),
                 site,
                 {{{resistor.part}}, {{"fit_resistor"}}}};
  site::Arming& arming = made.changed.units.at(unit).arming;
  arming.pullup_ohm.replace_with(resistor.ohm);
  arming.pullup_to.value = level;
  return made;
}

}  // namespace

void arming_ladders(const site::Site& site, const Problem& problem, std::vector<Ladder>& all) {
  if (site.units.count(problem.subject) == 0 || !fails(problem, "arming_")) return;
  const std::string unit = problem.subject;
  all.push_back(one_size("armed_level/" + unit, [&site, unit] { return other_level(site, unit); }));
  if (site.units.at(unit).arming.pullup_ohm.unknown()) return;
  for (const Level level : {Level::high, Level::low}) {
    all.push_back({(level == Level::high ? "pull_up/" : "pull_down/") + unit, shelf_resistors().size(),
                   [&site, unit, level](std::size_t size) {
                     // From the largest down: the smallest current through the output that does.
                     return pull(site, unit, level, shelf_resistors()[shelf_resistors().size() - 1 - size]);
                   }});
  }
}

}  // namespace zoneproof::remedies
