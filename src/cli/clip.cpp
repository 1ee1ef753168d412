#include <algorithm>

#include "base/message.hpp"
#include "cli/clip_drawings.hpp"
#include "cli/commands.hpp"
#include "cli/evidence_text.hpp"
#include "cli/reading.hpp"
#include "electric/naming.hpp"
#include "messages/cli.hpp"
#include "results/clip.hpp"
#include "timeline/words.hpp"

namespace zoneproof::cli {

namespace {

using timeline::ArmingPhase;
using timeline::Does;
using timeline::times_words;

constexpr std::size_t kTimes = 20, kIndent = 4;

Measure seconds(double value) { return {value, "s", 2}; }

/// In the order of time; what is not known after it, in the order of cause.
std::vector<const timeline::Line*> in_order(const timeline::AlarmLog& log) {
  std::vector<const timeline::Line*> lines;
  for (const timeline::Line& line : log.lines) lines.push_back(&line);
  std::stable_sort(lines.begin(), lines.end(), [](const auto* a, const auto* b) {
    if (a->at.known != b->at.known) return a->at.known;
    return a->at.known && a->at.span.low + a->at.span.high < b->at.span.low + b->at.span.high;
  });
  return lines;
}

void print_log(const site::Site& site, const timeline::AlarmLog& log, Screen& screen) {
  screen.line(timeline::clip_words(site, log), 2, Style::heading);
  std::vector<chain::Gap> gaps;
  for (const timeline::Line* line : in_order(log)) {
    screen.entry(times_words(line->at), timeline::moment_words(site, *line), kTimes + kIndent,
                 line->at.known ? Style::plain : Style::unanswered, kIndent);
    for (const chain::Gap& gap : line->at.gaps) chain::add_gap(gaps, gap);
  }
  for (const chain::Gap& gap : gaps) screen.line(gap_words(site, gap), kIndent, Style::faint);
}

std::string phase_words(ArmingPhase phase) {
  switch (phase) {
    case ArmingPhase::disarmed: return text(say::phase_disarmed());
    case ArmingPhase::leaving: return text(say::phase_leaving());
    case ArmingPhase::armed: return text(say::phase_armed());
    case ArmingPhase::entering: break;
  }
  return text(say::phase_entering());
}

std::string edge_words(const timeline::EdgeRow& row) {
  if (row.alarm == Does::open || row.clip == Does::open) return text(say::edge_open());
  const bool clip = row.clip == Does::yes;
  if (row.alarm == Does::later) return text(clip ? say::edge_later_and_clip() : say::edge_later_without_clip());
  if (row.alarm == Does::yes) return text(clip ? say::edge_alarm_and_clip() : say::edge_alarm_without_clip());
  return text(clip ? say::edge_clip_without_alarm() : say::edge_nothing());
}

Style edge_style(const timeline::EdgeRow& row) {
  if (row.alarm == Does::open || row.clip == Does::open) return Style::unanswered;
  const bool alarm = row.alarm != Does::no, clip = row.clip == Does::yes;
  return alarm && !clip ? Style::broken : Style::plain;
}

void print_arming(const results::ClipTold& clip, Screen& screen) {
  screen.line(text(say::heading_arming_edge()), 2, Style::heading);
  for (const timeline::EdgeRow& row : clip.arming)
    screen.entry(phase_words(row.phase), edge_words(row), kTimes + kIndent, edge_style(row), kIndent);
}

void print_restart(const site::Site& site, const timeline::Restart& restart, Screen& screen) {
  screen.line(text(say::heading_restart()), 2, Style::heading);
  for (const timeline::Restart::Thing& thing : restart.things)
    screen.entry(times_words(thing.works), electric::thing_words(site, thing.id), kTimes + kIndent,
                 thing.works.known ? Style::plain : Style::unanswered, kIndent);
  screen.line(restart.without_clip.known ? text(say::restart_without_clip(seconds(restart.without_clip.span.high)))
                                         : text(say::restart_open()),
              kIndent);
}

void print_zone(const site::Site& site, const results::ZoneClips& zone, Screen& screen) {
  screen.heading(electric::zone_words(site, zone.zone));
  if (zone.clips.empty()) screen.line(text(say::clip_none()), 2, Style::broken);
  for (const chain::Evidence& evidence : zone.evidence) print_evidence(screen, site, evidence);
  for (const chain::Gap& gap : zone.gaps) screen.line(gap_words(site, gap), kIndent, Style::faint);
  for (const results::ClipTold& clip : zone.clips) {
    print_log(site, clip.log, screen);
    print_arming(clip, screen);
    print_restart(site, clip.restart, screen);
  }
}

}  // namespace

int clip(const ClipOptions& asked, Screen& screen) {
  if (const auto problems = drawing_problems(asked); !problems.empty())
    return refuse("clip", problems, asked.json, screen);
  int exit_code = 0;
  const auto loaded = load(asked.site, "clip", asked.json, screen, exit_code);
  if (!loaded) return exit_code;
  const results::ClipQuestion question = {asked.zone};
  if (asked.json && asked.drawing.empty()) return put_results(*loaded, question, screen);
  const auto told = results::answer(loaded->site, question, progress_on(screen));
  screen.end_progress();
  if (!told.answer) return refuse("clip", told.problems, asked.json, screen);
  const Drawn drawn = draw(loaded->site, *told.answer, asked, screen);
  if (!drawn.problems.empty()) return refuse("clip", drawn.problems, asked.json, screen);
  print_notes(drawn.notes, screen);
  if (asked.json) {
    const results::Reply reply = results::reply_of(loaded->site, *told.answer);
    screen.raw(reply.text);
    return reply.status;
  }
  screen.line(loaded->site.name, 0, Style::heading);
  if (told.answer->zones.empty()) screen.line(text(say::nothing_to_prove()));
  for (const results::ZoneClips& zone : told.answer->zones) print_zone(loaded->site, zone, screen);
  print_drawn(drawn, screen);
  return told.answer->all_proven() ? 0 : 1;
}

}  // namespace zoneproof::cli
