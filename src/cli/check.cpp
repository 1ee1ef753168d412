#include <algorithm>
#include <map>
#include <stdexcept>

#include "cli/commands.hpp"
#include "cli/reading.hpp"
#include "electric/naming.hpp"
#include "messages/cli.hpp"
#include "messages/results.hpp"
#include "results/survey.hpp"
#include "site/file.hpp"

namespace zoneproof::cli {

namespace {

using results::OpenDatum;

struct Topic {
  const char* reason;
  Message (*heading)();
};

constexpr Topic kTopics[] = {{"unknown", say::topic_unknown},
                             {"incomplete_list", say::topic_incomplete},
                             {"reading_open", say::topic_reading_open},
                             {"reading_loaded", say::topic_reading_loaded},
                             {"reading_shorted", say::topic_reading_shorted},
                             {"reading_disagrees", say::topic_reading_disagrees},
                             {"readings_disagree", say::topic_readings_disagree},
                             {"sheet_disagrees", say::topic_sheet_disagrees},
                             {"lens_turns", say::topic_lens_turns},
                             {"has_range", say::topic_has_range},
                             {"typical", say::topic_typical},
                             {"assumed", say::topic_assumed},
                             {"no_rule", say::topic_no_rule}};

Message heading_of(const std::string& reason) {
  for (const Topic& topic : kTopics) {
    if (reason == topic.reason) return topic.heading();
  }
  throw std::logic_error("no heading for " + reason);  // one of survey_reasons()
}

/// Groups by the thing, so that one place is visited once.
void print_topic(const std::string& reason, const std::vector<OpenDatum>& open, Screen& screen) {
  std::map<std::string, std::vector<const OpenDatum*>> things;
  for (const OpenDatum& datum : open) {
    if (datum.reason == reason) things[datum.thing].push_back(&datum);
  }
  if (things.empty()) return;
  screen.heading(text(heading_of(reason)));
  for (const auto& [thing, asked] : things) {
    screen.line(thing.empty() ? text(say::the_site()) : thing, 2);
    for (const OpenDatum* datum : asked) screen.entry(datum->pointer, datum->meaning, 46, Style::faint, 4);
  }
}

void print_broken(const site::Site& site, const std::vector<std::string>& broken, Screen& screen) {
  if (broken.empty()) return;
  std::vector<std::string> zones;
  for (const std::string& zone : broken) zones.push_back(electric::zone_words(site, zone));
  screen.line(text(say::broken_as_it_stands(zones)));
}

}  // namespace

int check(const CheckOptions& asked, Screen& screen) {
  const site::ReadResult read = site::load_site(asked.site);
  if (!read.site) {
    if (asked.json) return refuse("check", read.messages, true, screen);
    for (const Message& message : read.messages) print_problem(screen.out(), message);
    screen.line();
    screen.line(text(say::problems_counted(static_cast<long long>(read.messages.size()))));
    int exit_code = 0;
    for (const Message& message : read.messages) exit_code = std::max(exit_code, kind_of(message.code).exit_status);
    return exit_code;
  }
  if (asked.json) return put_results(&*read.site, read.messages, results::CheckQuestion{}, screen);
  const results::Survey found = results::survey(*read.site, progress_on(screen));
  const std::vector<OpenDatum>& open = found.open;
  screen.end_progress();
  for (const Message& message : read.messages) print_problem(screen.out(), message);
  screen.line(text(say::no_problems(asked.site)));
  if (read.site->zones.empty()) screen.line(text(say::nothing_to_prove()));
  print_broken(*read.site, found.broken, screen);
  if (!open.empty()) screen.line(text(say::questions_counted(static_cast<long long>(open.size()))));
  if (open.empty() && !read.site->zones.empty()) screen.line(text(say::no_questions()));
  for (const std::string& reason : results::survey_reasons()) print_topic(reason, open, screen);
  return 0;
}

}  // namespace zoneproof::cli
