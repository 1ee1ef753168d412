#include <algorithm>

#include "chain/words.hpp"
#include "cli/commands.hpp"
#include "cli/evidence_text.hpp"
#include "cli/reading.hpp"
#include "cli/sight_drawings.hpp"
#include "electric/naming.hpp"
#include "messages/cli.hpp"
#include "results/sight.hpp"
#include "sight/words.hpp"
#include "site/relations.hpp"

namespace zoneproof::cli {

namespace {

constexpr std::size_t kCuresTold = 4;

Measure metres(double value) { return {value, "m", 3}; }

void print_patch(const site::Site& site, const sight::Patch& patch, std::size_t number, Screen& screen) {
  screen.entry(std::to_string(number), sight::patch_words(site, patch), 8, Style::broken, 4);
}

void print_gaps(const site::Site& site, const results::ZoneSeen& one, Screen& screen) {
  for (const chain::Gap& gap : one.witnessed.gaps) screen.line(gap_words(site, gap), 4, Style::faint);
}

void print_zone(const site::Site& site, const results::ZoneSeen& one, double limit_pct, Screen& screen) {
  const chain::Evidence& witnessed = one.witnessed;
  screen.heading(electric::zone_words(site, one.view.zone));
  screen.entry(chain::words(witnessed.verdict), witnessed.says ? text(*witnessed.says) : std::string(), 14,
               style_of(witnessed.verdict), 2);
  const auto& patches = one.view.coverage.patches;
  for (std::size_t i = 0; i < patches.size(); ++i) print_patch(site, patches[i], i + 1, screen);
  if (!patches.empty() && one.cures.empty() && witnessed.gaps.empty())
    screen.line(text(say::sight_no_cure()), 4, Style::faint);
  for (std::size_t i = 0; i < one.cures.size() && i < kCuresTold; ++i)
    screen.line(text(sight::cure_words(site, one.cures[i], limit_pct)), 4, Style::proven);
  if (const auto& worst = one.view.coverage.worst) {
    const Measure density = {worst->px_per_m, "px_per_m", 3};
    const std::string camera = site::called(site.cameras, worst->camera);
    screen.line(worst->height_pct
                    ? text(say::sight_worst_place(camera, metres(worst->at.x), metres(worst->at.y), density,
                                                  Measure{*worst->height_pct, "pct", 2}))
                    : text(say::sight_worst_density(camera, metres(worst->at.x), metres(worst->at.y), density)),
                4, Style::faint);
  }
  print_gaps(site, one, screen);
  for (const chain::Evidence& sensed : one.sensed)
    screen.entry(chain::words(sensed.verdict), sensed.says ? text(*sensed.says) : std::string(), 14,
                 style_of(sensed.verdict), 2);
}

void print_camera(const site::Site& site, const results::CameraUse& use, Screen& screen) {
  std::string zones;
  for (const auto& [zone, share] : use.shown_pct)
    zones += (zones.empty() ? "" : ", ") +
             text(say::sight_zone_share(electric::zone_words(site, zone), Measure{share, "pct", 3}));
  const std::string name = site::called(site.cameras, use.camera);
  screen.line(name, 2, Style::heading);
  if (use.live_only) screen.line(text(say::sight_live_only()), 4, Style::faint);
  if (use.shows_nothing)
    screen.line(text(say::sight_shows_nothing()), 4, Style::broken);
  else if (!zones.empty())
    screen.line(text(use.zones.empty() ? say::sight_could_show(zones) : say::sight_shows(zones)), 4);
  for (const auto& [area, size] : use.filmed_m2)
    screen.line(text(say::sight_films(site::called(site.privacy_areas, area), Measure{size, "m2", 2})), 4,
                Style::broken);
  for (const chain::Gap& gap : use.gaps) screen.line(gap_words(site, gap), 4, Style::faint);
}

void print_answer(const site::Site& site, const results::SightAnswer& answer, Screen& screen) {
  screen.line(site.name, 0, Style::heading);
  if (answer.zones.empty()) screen.line(text(say::nothing_to_prove()));
  for (const results::ZoneSeen& one : answer.zones) print_zone(site, one, answer.whole_pct, screen);
  if (answer.cameras.empty()) return;
  screen.heading(text(say::heading_cameras()));
  for (const results::CameraUse& use : answer.cameras) print_camera(site, use, screen);
}

}  // namespace

int sight(const SightOptions& asked, Screen& screen) {
  if (const auto problems = drawing_problems(asked); !problems.empty())
    return refuse("sight", problems, asked.json, screen);
  int exit_code = 0;
  const auto loaded = load(asked.site, "sight", asked.json, screen, exit_code);
  if (!loaded) return exit_code;
  const bool draws = !asked.plan.empty() || !asked.pictures.empty();
  const results::SightQuestion question = {asked.zone, asked.camera, true};
  if (asked.json && !draws) return put_results(*loaded, question, screen);
  const auto told = results::answer(loaded->site, question, progress_on(screen));
  screen.end_progress();
  if (!told.answer) return refuse("sight", told.problems, asked.json, screen);
  const Drawn drawn = draw(loaded->site, *told.answer, asked, screen);
  if (!drawn.problems.empty()) return refuse("sight", drawn.problems, asked.json, screen);
  print_notes(drawn.notes, screen);
  if (asked.json) {
    const results::Reply reply = results::reply_of(loaded->site, *told.answer);
    screen.raw(reply.text);
    return reply.status;
  }
  print_answer(loaded->site, *told.answer, screen);
  print_drawn(drawn, screen);
  return told.answer->all_seen() ? 0 : 1;
}

}  // namespace zoneproof::cli
