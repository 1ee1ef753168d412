#include <algorithm>
#include <nlohmann/json.hpp>

#include "chain/words.hpp"
#include "cli/commands.hpp"
#include "cli/costs_file.hpp"
#include "cli/evidence_text.hpp"
#include "cli/reading.hpp"
#include "electric/naming.hpp"
#include "messages/cli.hpp"
#include "messages/results.hpp"
#include "results/remedies.hpp"
#include "results/results.hpp"
#include "site/file.hpp"
#include "site/patch.hpp"

namespace zoneproof::cli {

namespace {

using remedies::Problem;
using remedies::Remedy;

constexpr std::size_t kNumber = 5, kLabel = 16;

std::string subject_words(const site::Site& site, const std::string& subject) {
  return site.zones.count(subject) != 0 ? electric::zone_words(site, subject) : electric::thing_words(site, subject);
}

void labelled(Screen& screen, const Message& label, const std::string& words) {
  if (!words.empty()) screen.entry(text(label), words, kLabel, Style::faint, kNumber);
}

/// Zones by link and verdicts: "trigger of Zone 5 (Roller door): broken to proven".
std::string improved_words(const site::Site& site, const Remedy& remedy) {
  constexpr std::size_t most = 3;
  std::string words;
  for (std::size_t i = 0; i < remedy.improves.size() && i < most; ++i) {
    const remedies::LinkChange& change = remedy.improves[i];
    words += (i == 0 ? "" : "; ") +
             text(say::link_improves(chain::words(change.link), electric::zone_words(site, change.zone),
                                     chain::words(change.from), chain::words(change.to)));
  }
  if (remedy.improves.size() > most)
    words += "; " + text(say::and_more(static_cast<long long>(remedy.improves.size() - most)));
  return words;
}

void print_remedy(const site::Site& site, const Remedy& remedy, long long number, Screen& screen) {
  screen.entry(std::to_string(number), text(remedy.says), kNumber, style_of(remedy.verdict), 2);
  const std::string after = remedy.decisive && remedy.decisive->says ? text(*remedy.decisive->says) : "";
  labelled(screen, say::label_then(), chain::words(remedy.verdict) + (after.empty() ? "" : ": " + after));
  labelled(screen, say::label_improves(), improved_words(site, remedy));
  labelled(screen, say::label_parts(), parts_words(remedy.bill));
  labelled(screen, say::label_costs(), cost_words(remedy.cost));
}

/// The first remedy of another thing that improves this zone's link: "3"; empty where there is none.
std::string cured_by(const std::vector<Problem>& problems, const Problem& wanted) {
  long long number = 0;
  for (const Problem& problem : problems) {
    for (const Remedy& remedy : problem.remedies) {
      ++number;
      const bool here = std::any_of(remedy.improves.begin(), remedy.improves.end(), [&](const auto& change) {
        return change.zone == wanted.subject && change.link == wanted.link;
      });
      if (here) return std::to_string(number);
    }
  }
  return {};
}

void print_nothing(const std::vector<Problem>& problems, const Problem& problem, Screen& screen) {
  const std::string other = cured_by(problems, problem);
  screen.line(text(other.empty() ? say::no_remedy_cures(problem.tried) : say::cured_elsewhere(other)), 2, Style::faint);
}

void print_remedied(const site::Site& site, const std::vector<Problem>& problems, const Problem& problem, bool all,
                    long long& number, Screen& screen) {
  screen.heading(subject_words(site, problem.subject) + ": " + chain::words(problem.link));
  const chain::Evidence& first = problem.evidence.front();
  screen.entry(chain::words(problem.verdict), first.says ? text(*first.says) : first.id, 13, style_of(problem.verdict),
               2);
  for (const Remedy& remedy : problem.remedies) print_remedy(site, remedy, ++number, screen);
  if (problem.pairs_tried > 0) screen.line(text(say::pairs_tried(problem.pairs_tried)), 2, Style::faint);
  if (problem.remedies.empty()) print_nothing(problems, problem, screen);
  if (all) {
    for (const remedies::Refused& one : problem.refused) {
      screen.entry(text(say::refused_mark()), text(one.says), kNumber, Style::faint, 2);
      screen.line(text(one.because), kNumber, Style::faint);
    }
  } else if (!problem.refused.empty()) {
    screen.line(text(say::refused_counted(static_cast<long long>(problem.refused.size()))), 2, Style::faint);
  }
}

void print_problems(const site::Site& site, const remedies::Remedies& found, bool all, Screen& screen) {
  const std::vector<Problem>& problems = found.problems;
  screen.line(site.name, 0, Style::heading);
  if (site.zones.empty()) return screen.line(text(say::nothing_to_prove()));
  long long number = 0, cured = 0, by_money = 0, unverified = 0;
  for (const Problem& problem : problems) {
    print_remedied(site, problems, problem, all, number, screen);
    cured += problem.remedies.empty() ? 0 : 1;
    by_money += problem.by_money ? 1 : 0;
    for (const Remedy& remedy : problem.remedies) unverified += remedy.cost.verified ? 0 : 1;
  }
  screen.line();
  screen.line(text(say::remedies_counted(static_cast<long long>(problems.size()), cured)));
  if (found.unanswered > 0) screen.line(text(say::unanswered_without_remedy(found.unanswered)));
  if (cured > by_money) screen.line(text(say::ordered_by_minutes()));
  if (unverified > 0) screen.line(text(say::minutes_unverified()));
}

/// What is wrong with what was asked, before anything is read.
std::vector<Message> problems_of(const RemediesOptions& asked, long long& number) {
  constexpr long long most = 999'999;
  std::vector<Message> problems;
  if (asked.take.empty() != asked.output.empty()) problems.push_back(say::take_and_output());
  if (!asked.take.empty()) {
    if (auto problem = read_whole(asked.take, "--take", most, number)) problems.push_back(std::move(*problem));
  }
  if (auto problem = output_problem(asked.output, {asked.site, asked.costs}, asked.replace))
    problems.push_back(std::move(*problem));
  return problems;
}

/// Writes the site with the chosen remedy in it; the messages tell what stood in the way.
std::vector<Message> write_taken(const site::Site& site, const Remedy& remedy, const std::string& path) {
  const site::PatchResult applied = site::apply_patch(site, remedy.patch, path);
  if (!applied.site) return applied.messages;
  return site::save_site(*applied.site, path);
}

}  // namespace

int remedies(const RemediesOptions& asked, Screen& screen) {
  long long number = 0;
  const std::vector<Message> wrong = problems_of(asked, number);
  if (!wrong.empty()) return refuse("remedies", wrong, asked.json, screen);
  int exit_code = 0;
  const auto loaded = load(asked.site, "remedies", asked.json, screen, exit_code);
  if (!loaded) return exit_code;
  const auto costs = own_costs(asked.site, asked.costs, "remedies", asked.json, screen, exit_code);
  if (!costs) return exit_code;
  const results::RemediesQuestion question = {asked.zone, *costs};
  if (asked.json && number == 0) return put_results(*loaded, question, screen);
  const auto told = results::answer(loaded->site, question, progress_on(screen));
  screen.end_progress();
  if (!told.answer) return refuse("remedies", told.problems, asked.json, screen);
  if (number == 0) {
    print_problems(loaded->site, *told.answer, asked.all, screen);
    return results::nothing_open(loaded->site, *told.answer) ? 0 : 1;
  }
  const Remedy* chosen = results::numbered(told.answer->problems, number);
  if (chosen == nullptr) {
    const Message none = say::no_such_remedy(number, results::count_of_remedies(told.answer->problems));
    return refuse("remedies", {none}, asked.json, screen);
  }
  const std::vector<Message> failed = write_taken(loaded->site, *chosen, asked.output);
  if (any_error(failed)) return refuse("remedies", failed, asked.json, screen);
  if (asked.json) {
    const std::string hash = site::site_hash(loaded->site);
    screen.raw(results::results_text("remedies", hash, results::json_of(*told.answer)));
  } else {
    screen.line(text(say::remedy_taken(asked.output, text(chosen->says))));
  }
  return 0;
}

}  // namespace zoneproof::cli
