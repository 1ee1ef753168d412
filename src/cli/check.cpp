#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "cli/commands.hpp"
#include "cli/evidence_text.hpp"
#include "cli/field_words.hpp"
#include "cli/reading.hpp"
#include "cli/results.hpp"
#include "electric/answers.hpp"
#include "messages/cli.hpp"
#include "proof/chains.hpp"
#include "site/file.hpp"

namespace zoneproof::cli {

namespace {

using Json = nlohmann::ordered_json;

/// Something to find out: a datum that some verdict waits for.
struct Question {
  std::string pointer;
  std::string reason;   ///< of chain::Gap
  std::string thing;    ///< what a person calls the object it stands in
  std::string meaning;  ///< what is asked
};

struct Topic {
  const char* reason;
  Message (*heading)();
};

/// In the order in which they are worth asking.
constexpr Topic kTopics[] = {{"unknown", say::topic_unknown},
                             {"incomplete_list", say::topic_incomplete},
                             {"reading_open", say::topic_reading_open},
                             {"reading_loaded", say::topic_reading_loaded},
                             {"reading_shorted", say::topic_reading_shorted},
                             {"reading_disagrees", say::topic_reading_disagrees},
                             {"readings_disagree", say::topic_readings_disagree},
                             {"typical", say::topic_typical},
                             {"assumed", say::topic_assumed},
                             {"no_rule", say::topic_no_rule}};

/// What keeps any answer from being one. Every gap names its datum; each is asked once.
std::set<std::pair<std::string, std::string>> gaps_of(const site::Site& site, Screen& screen) {
  const auto progress = [&](std::size_t done, std::size_t count) {
    screen.progress(text(say::progress_zones(static_cast<long long>(done), static_cast<long long>(count))));
  };
  const proof::Proof proof = proof::join(site, electric::electrical_answers(site, "", progress));
  screen.end_progress();
  std::set<std::pair<std::string, std::string>> gaps;
  const auto take = [&](const std::vector<chain::Evidence>& evidence) {
    for (const chain::Evidence& one : evidence) {
      for (const chain::Gap& gap : one.gaps) gaps.insert({gap.reason, gap.pointer});
    }
  };
  for (const proof::Chain& chain : proof.chains) {
    for (const proof::LinkAnswer& link : chain.links) take(link.evidence);
  }
  take(proof.site_evidence);
  return gaps;
}

Question question_of(const site::Site& site, const std::string& reason, const std::string& pointer) {
  Question question = {pointer, reason, "", ""};
  const auto place = place_of(site::record_of<site::Site>(), pointer);
  if (!place) return question;
  question.thing = owner_words(site, *place);
  if (place->field != nullptr) question.meaning = std::string(place->field->meaning);
  if (place->field == nullptr && place->record != nullptr) question.meaning = std::string(place->record->meaning);
  return question;
}

std::vector<Question> survey(const site::Site& site, Screen& screen) {
  const auto gaps = gaps_of(site, screen);
  std::vector<Question> questions;
  for (const Topic& topic : kTopics) {
    for (const auto& [reason, pointer] : gaps) {
      if (reason == topic.reason) questions.push_back(question_of(site, reason, pointer));
    }
  }
  return questions;
}

/// Groups by the thing, so that one place is visited once.
void print_topic(const Topic& topic, const std::vector<Question>& questions, Screen& screen) {
  std::map<std::string, std::vector<const Question*>> things;
  for (const Question& question : questions) {
    if (question.reason == topic.reason) things[question.thing].push_back(&question);
  }
  if (things.empty()) return;
  screen.heading(text(topic.heading()));
  for (const auto& [thing, asked] : things) {
    screen.line(thing.empty() ? text(say::the_site()) : thing, 2);
    for (const Question* question : asked) screen.entry(question->pointer, question->meaning, 46, Style::faint, 4);
  }
}

Json json_of_questions(const std::vector<Question>& questions) {
  Json list = Json::array();
  for (const Question& question : questions) {
    list.push_back({{"pointer", question.pointer},
                    {"reason", question.reason},
                    {"thing", question.thing},
                    {"asks", question.meaning}});
  }
  return list;
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
  const std::vector<Question> questions = survey(*read.site, screen);
  if (asked.json) {
    screen.raw(results_text("check", site::site_hash(*read.site),
                            {{"problems", json_of(read.messages)}, {"questions", json_of_questions(questions)}}));
    return 0;
  }
  for (const Message& message : read.messages) print_problem(screen.out(), message);
  screen.line(text(say::no_problems(asked.site)));
  if (read.site->zones.empty()) screen.line(text(say::nothing_to_prove()));
  if (!questions.empty()) screen.line(text(say::questions_counted(static_cast<long long>(questions.size()))));
  if (questions.empty() && !read.site->zones.empty()) screen.line(text(say::no_questions()));
  for (const Topic& topic : kTopics) print_topic(topic, questions, screen);
  return 0;
}

}  // namespace zoneproof::cli
