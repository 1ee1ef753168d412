#include "handover/order_chapter.hpp"

#include <algorithm>
#include <set>

#include "base/message.hpp"
#include "base/outward.hpp"
#include "electric/naming.hpp"
#include "handover/cells.hpp"
#include "messages/field.hpp"
#include "messages/handover_chapters.hpp"
#include "results/evidence_words.hpp"
#include "site/relations.hpp"

namespace zoneproof::handover {

using field::Phase;
using paper::Cell;
using paper::said;

namespace {

std::string phase_words(Phase phase) {
  switch (phase) {
    case Phase::as_found: return text(say::phase_as_found());
    case Phase::safety: return text(say::phase_safety());
    case Phase::dead: return text(say::phase_dead());
    case Phase::install: return text(say::phase_install());
    case Phase::power_up: return text(say::phase_power_up());
    case Phase::live: return text(say::phase_live());
    case Phase::zones: return text(say::phase_zones());
    case Phase::arming: return text(say::phase_arming());
    case Phase::battery: return text(say::phase_battery());
    case Phase::restore: return text(say::phase_restore());
    case Phase::off_test: return text(say::phase_off_test());
    case Phase::acknowledgement: break;
  }
  return text(say::phase_acknowledgement());
}

/// "Hall cupboard: Panel supply, Panel": where one stands, and all that is worked on there. Before the first place what
/// can be done anywhere has no head; after one it would seem to be done there.
std::string place_words(const Findings& findings, const field::Stop& stop, bool first) {
  const site::Site& site = findings.site;
  const std::string area = stop.place.area.empty() ? std::string() : site::called(site.areas, stop.place.area);
  std::vector<std::string> devices;
  for (const std::size_t index : stop.steps) {
    const std::string& device = findings.work.steps[index].place.device;
    if (device.empty()) continue;
    std::string words = electric::thing_words(site, device);
    if (std::find(devices.begin(), devices.end(), words) == devices.end()) devices.push_back(std::move(words));
  }
  if (devices.empty()) return !area.empty() ? area : first ? std::string() : text(say::paper_whole_site());
  return area.empty() ? text(say::paper_place_without_area(devices))
                      : text(say::paper_place_and_devices(area, devices));
}

/// The interval, with a word where it rests on data that nobody measured or looked up. Empty: not known.
std::string interval_words(const field::Expected& expected) {
  const auto shown_end = [&](double value) { return Measure{value, expected.unit}; };
  std::string words;
  if (expected.low && expected.high)
    words = text(say::paper_expected_between(lowest(shown_end(*expected.low)), highest(shown_end(*expected.high))));
  else if (expected.low)
    words = text(say::paper_expected_at_least(lowest(shown_end(*expected.low))));
  else if (expected.high)
    words = text(say::paper_expected_at_most(highest(shown_end(*expected.high))));
  if (words.empty() && expected.unbounded) words = text(say::paper_expected_open());
  return words.empty() || expected.gaps.empty() ? words : text(say::paper_expected_weak(words));
}

/// Why there is no interval: each datum that is missing, the first few of them.
std::string lacks_words(const site::Site& site, const field::Expected& expected) {
  constexpr std::size_t most = 3;
  std::vector<std::string> lacks;
  for (const chain::Gap& gap : expected.gaps) {
    if (gap.reason == "typical" || gap.reason == "assumed") continue;  // numbers bear these
    std::string words = gap.reason == "undecided" ? text(say::paper_no_bound()) : results::missing_words(site, gap);
    if (std::find(lacks.begin(), lacks.end(), words) == lacks.end()) lacks.push_back(std::move(words));
  }
  if (lacks.empty()) lacks.push_back(text(say::paper_no_bound()));
  if (lacks.size() > most) {
    const auto more = static_cast<long long>(lacks.size() - most);
    lacks.resize(most);
    lacks.push_back(text(say::paper_lacks_more(more)));
  }
  return text(say::paper_expected_lacks(lacks));
}

/// What the meter is to show, and what is to be seen: a step that trips a detector has both.
Cell expected_cell(const site::Site& site, const field::Step& step) {
  const std::string seen = step.expected_words ? text(*step.expected_words) : std::string();
  if (!step.expected) return said(seen);
  std::string interval = interval_words(*step.expected);
  if (interval.empty()) interval = lacks_words(site, *step.expected);
  return said(seen.empty() ? interval : text(say::paper_expected_and_seen(interval, seen)));
}

/// What was said already at a stop: whoever reads on at that place has read it.
struct Said {
  std::set<std::string> dangers;
  std::string state;  ///< the last one that was named
};

std::string what_words(const field::Step& step, Said& told) {
  std::string words = text(step.what);
  if (step.probes) words += " " + text(say::paper_probes(text(step.probes->red), text(step.probes->black)));
  // A figure holds in the state that it was computed for, and in no other: named at each stop, and where it changes.
  if (const std::string state = text(step.state); step.expected && state != told.state) {
    words += " " + text(say::paper_step_state(state));
    told.state = state;
  }
  for (const Message& note : step.notes) words += " " + text(note);
  for (const Message& danger : step.dangers)
    if (told.dangers.insert(text(danger)).second) words += " " + text(say::paper_step_danger(text(danger)));
  return words + " " + text(say::paper_step_proves(text(step.proves)));
}

std::string blank_words(const field::Blank& blank) {
  const std::string unit = paper::shown_unit(blank.unit);
  return unit.empty() ? text(blank.label) : text(say::paper_blank_in(text(blank.label), unit));
}

/// The step itself with room for its reading, and below it a line for each other thing that is written down.
void add_rows(paper::Group& group, const Findings& findings, const field::Step& step, std::size_t number, Said& told) {
  constexpr double wide_mm = 22.0;
  std::vector<std::string> labels;  // a tick is what answers yes or no
  bool read = false;
  for (const field::Blank& blank : step.blanks) {
    const bool beside = !read && step.expected && blank.kind == field::BlankKind::reading;
    if (blank.kind != field::BlankKind::yes_no && !beside) labels.push_back(blank_words(blank));
    read = read || beside;
  }
  const std::string id = "step-" + std::to_string(number);
  group.rows.push_back({{said(std::to_string(number)), paper::Tick{}, said(what_words(step, told)),
                         expected_cell(findings.site, step), read ? Cell{paper::Blank{wide_mm}} : said("")},
                        id});
  for (std::size_t i = 0; i < labels.size(); ++i)
    group.rows.push_back(
        {{said(""), said(""), said(""), said(labels[i]), paper::Blank{wide_mm}}, id + "-" + std::to_string(i + 1)});
}

paper::Table table_of(const Findings& findings, const field::PhaseOfWork& phase, std::size_t& number) {
  paper::Table table{std::string("work-") + field::word(phase.phase), {}, {}, {}, text(say::paper_column_place())};
  table.columns = {{"number", text(say::paper_column_number()), {}, drawing::Align::right, 0.0, 8.0, false},
                   {"done", text(say::paper_column_done()), {}, {}, 0.0, 0.0, false},
                   {"what", text(say::paper_column_do()), {}, {}, 5.0, 70.0},
                   {"expected", text(say::paper_column_expect()), {}, {}, 1.0, 26.0},
                   {"found", text(say::paper_column_found()), {}, {}, 0.0, 24.0}};
  for (const field::Stop& stop : phase.stops) {
    paper::Group group{place_words(findings, stop, table.groups.empty()), {}};
    Said told;
    for (const std::size_t index : stop.steps) add_rows(group, findings, findings.work.steps[index], ++number, told);
    table.groups.push_back(std::move(group));
  }
  return table;
}

/// What the operator reads out: the same of every zone, so it stands once, and what is written down has columns.
void add_acknowledgement(paper::Chapter& chapter, const Findings& findings, const field::PhaseOfWork& phase,
                         std::size_t& number) {
  constexpr double wide_mm = 18.0;  // a name by hand
  paper::Table table{std::string("work-") + field::word(phase.phase), {}, {}, {{}}};
  table.columns = {{"number", text(say::paper_column_number()), {}, drawing::Align::right, 0.0, 8.0, false},
                   {"done", text(say::paper_column_done()), {}, {}, 0.0, 0.0, false},
                   {"zone", text(say::paper_column_read_out()), {}, {}, 1.0, 34.0},
                   {"picture", text(say::paper_column_seen()), {}, {}, 1.0, 20.0}};
  for (const field::Stop& stop : phase.stops)
    for (const std::size_t index : stop.steps) {
      const field::Step& step = findings.work.steps[index];
      const bool pictured = step.proves.code == say::proves_acknowledged().code;
      paper::Row row{
          {said(std::to_string(++number)), paper::Tick{}, said(electric::zone_words(findings.site, step.zone)),
           said(text(pictured ? say::paper_picture_counted_on() : say::paper_picture_not_counted_on()))},
          "step-" + std::to_string(number)};
      const bool first = table.groups.front().rows.empty();
      for (const field::Blank& blank : step.blanks) {
        if (first) table.columns.push_back({blank.label.code, blank_words(blank), {}, {}, 2.0, wide_mm});
        row.cells.emplace_back(paper::Blank{wide_mm});
      }
      table.groups.front().rows.push_back(std::move(row));
    }
  chapter.blocks.push_back(paper::Paragraph{text(say::paper_acknowledge_how())});
  chapter.blocks.push_back(std::move(table));
}

/// What is settled in the workshop and not on the ladder: chains that are not proven.
void add_not_proven(paper::Chapter& chapter, const Findings& findings) {
  std::vector<std::string> zones;
  for (const proof::Chain& chain : findings.proof.chains)
    if (chain.verdict != chain::Verdict::proven) zones.push_back(electric::zone_words(findings.site, chain.zone));
  if (zones.empty()) return;
  const auto all = static_cast<long long>(findings.proof.chains.size());
  const auto open = static_cast<long long>(zones.size());
  chapter.blocks.push_back(
      paper::Caution{text(say::paper_caution()), {text(say::paper_settle_first(open, all, zones))}});
}

/// What is dangerous in a phase, each thing once.
std::vector<std::string> dangers_of(const Findings& findings, const field::PhaseOfWork& phase) {
  std::vector<std::string> dangers;
  for (const field::Stop& stop : phase.stops)
    for (const std::size_t index : stop.steps)
      for (const Message& danger : findings.work.steps[index].dangers) {
        std::string words = text(danger);
        if (std::find(dangers.begin(), dangers.end(), words) == dangers.end()) dangers.push_back(std::move(words));
      }
  return dangers;
}

}  // namespace

paper::Chapter order_chapter(const Findings& findings) {
  paper::Chapter chapter{"work", text(say::paper_order_chapter()), {}};
  add_not_proven(chapter, findings);
  chapter.blocks.push_back(paper::Paragraph{text(say::paper_order_how())});
  std::vector<std::string> alone;
  for (const field::LeftAlone& one : findings.work.left_alone)
    alone.push_back(electric::zone_words(findings.site, one.zone) + ": " + text(one.because));
  if (!alone.empty()) {
    chapter.blocks.push_back(paper::Heading{2, text(say::paper_left_alone())});
    chapter.blocks.push_back(paper::List{alone});
  }
  std::size_t number = 0;
  for (const field::PhaseOfWork& phase : findings.work.phases) {
    if (phase.stops.empty()) continue;
    chapter.blocks.push_back(paper::Heading{2, phase_words(phase.phase)});
    const std::vector<std::string> dangers = dangers_of(findings, phase);
    if (!dangers.empty()) chapter.blocks.push_back(paper::Caution{text(say::paper_caution()), dangers});
    if (phase.phase == Phase::acknowledgement)
      add_acknowledgement(chapter, findings, phase, number);
    else
      chapter.blocks.push_back(table_of(findings, phase, number));
  }
  for (const Message& line : {say::paper_sign_work(), say::paper_sign_date(), say::paper_sign_instrument()})
    chapter.blocks.push_back(paper::FillIn{text(line)});
  return chapter;
}

}  // namespace zoneproof::handover
