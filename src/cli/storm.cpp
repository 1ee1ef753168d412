#include "results/storm.hpp"
#include "cli/commands.hpp"
#include "cli/evidence_text.hpp"
#include "cli/reading.hpp"
#include "electric/naming.hpp"
#include "messages/cli.hpp"

namespace zoneproof::cli {

namespace {

constexpr std::size_t kQueuesTold = 5, kIndent = 4;
constexpr double kKilo = 1e3, kMega = 1e6;

Measure seconds(double value) { return {value, "s", 3}; }

void print_clip(const site::Site& site, const results::StormClip& clip, Screen& screen) {
  const site::Trigger& trigger = site.triggers.at(clip.bound.trigger);
  const std::string camera = electric::thing_words(site, site.channels.at(clip.bound.channel).camera.id);
  screen.line(text(say::storm_clip(electric::thing_words(site, trigger.zone.id), camera)), 2, Style::heading);
  for (const chain::Gap& gap : clip.bound.gaps) screen.line(gap_words(site, gap), kIndent, Style::faint);
  if (!clip.first_picture_s || !clip.complete_s) {
    screen.line(text(say::storm_clip_open()), kIndent, Style::unanswered);
    return;
  }
  if (clip.bound.swamped) {
    screen.line(text(say::storm_swamped()), kIndent, Style::broken);
    return;
  }
  screen.line(text(say::storm_first_picture(seconds(*clip.first_picture_s), seconds(*clip.bound.first_picture_s))),
              kIndent);
  screen.line(text(say::storm_complete(seconds(*clip.complete_s), seconds(*clip.bound.complete_s))), kIndent);
}

void print_queue(const site::Site& site, const results::StormQueue& queue, Screen& screen) {
  const std::string thing = electric::thing_words(site, queue.hop.thing);
  const Measure backlog = {queue.backlog_bits / 8.0 / kKilo, "kB", 3}, rate = {queue.rate_bps / kMega, "Mbps", 3};
  const Measure wait = seconds(queue.waits_s);
  if (queue.hop.from.empty())
    screen.line(text(say::storm_queue_out(thing, rate, backlog, wait)), 2);
  else if (queue.hop.is_switch())
    screen.line(text(say::storm_queue_switch(thing, rate, backlog, wait)), 2);
  else
    screen.line(text(say::storm_queue(thing, electric::thing_words(site, queue.hop.from), rate, backlog, wait)), 2);
}

}  // namespace

int storm(const StormOptions& asked, Screen& screen) {
  int exit_code = 0;
  const auto loaded = load(asked.site, "storm", asked.json, screen, exit_code);
  if (!loaded) return exit_code;
  const results::StormQuestion question = {asked.runs, asked.seed, asked.log};
  if (asked.json) return put_results(*loaded, question, screen);
  const auto told = results::answer(loaded->site, question, progress_on(screen));
  screen.end_progress();
  if (!told.answer) return refuse("storm", told.problems, asked.json, screen);
  const results::StormAnswer& answer = *told.answer;
  screen.line(loaded->site.name, 0, Style::heading);
  screen.line(text(say::storm_told(seconds(answer.within_s), answer.runs, static_cast<long long>(answer.seed))));
  if (answer.clips.empty()) screen.line(text(say::storm_no_clips()), 0, Style::broken);
  for (const results::StormClip& clip : answer.clips) print_clip(loaded->site, clip, screen);
  if (!answer.queues.empty()) screen.heading(text(say::heading_queues()));
  for (std::size_t i = 0; i < answer.queues.size() && i < kQueuesTold; ++i)
    print_queue(loaded->site, answer.queues[i], screen);
  if (!answer.log.empty()) screen.heading(text(say::heading_storm_log()));
  for (const std::string& line : answer.log) screen.line(line, 2);
  return answer.all_bounded() ? 0 : 1;
}

}  // namespace zoneproof::cli
