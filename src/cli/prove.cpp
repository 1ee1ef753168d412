#include <algorithm>
#include <map>
#include <set>

#include "chain/words.hpp"
#include "cli/commands.hpp"
#include "cli/evidence_text.hpp"
#include "cli/reading.hpp"
#include "cli/table.hpp"
#include "electric/naming.hpp"
#include "messages/cli.hpp"
#include "results/proof.hpp"

namespace zoneproof::cli {

namespace {

using chain::Evidence;
using chain::Link;
using chain::Verdict;

constexpr std::array<Verdict, 4> kAllVerdicts = {Verdict::proven, Verdict::thin, Verdict::broken, Verdict::unanswered};

/// The words between commas; none of an empty text.
std::vector<std::string> split(const std::string& text) {
  if (text.empty()) return {};
  std::vector<std::string> words(1);
  for (char letter : text) {
    if (letter == ',') {
      words.emplace_back();
    } else if (letter != ' ') {
      words.back() += letter;
    }
  }
  return words;
}

/// What came out, and of which site.
struct Seen {
  const site::Site& site;
  const results::ProveAnswer& answer;
};

// ---- For people ----------------------------------------------------------------------------------------------------

std::string number_words(const site::Zone& zone) {
  return zone.number.known() ? std::to_string(*zone.number.value) : text(say::not_known_short());
}

void print_board(const Seen& seen, Screen& screen) {
  std::vector<Column> columns = {{text(say::column_zone_number()), true}, {text(say::column_zone_name()), false, 12}};
  for (Link link : seen.answer.links) columns.push_back({chain::words(link), false, 10});
  columns.push_back({text(say::column_chain()), false, 10});
  Table table(std::move(columns));
  for (const proof::Chain& chain : seen.answer.proof.chains) {
    const site::Zone& zone = seen.site.zones.at(chain.zone);
    std::vector<Cell> row = {{number_words(zone)}, {zone.name.empty() ? chain.zone : zone.name}};
    const auto add = [&](Verdict verdict) { row.push_back({chain::words(verdict), style_of(verdict)}); };
    for (Link link : seen.answer.links) add(seen.answer.link(chain, link).verdict);
    add(seen.answer.verdict(chain));
    table.add(std::move(row));
  }
  if (!table.empty()) table.print(screen);
}

/// Evidence that was told in full already, and under which heading: a supply's failure belongs to every zone on it.
using Told = std::map<std::string, std::string>;

void print_once(const Seen& seen, const Evidence& evidence, const std::string& heading, Told& told, Screen& screen) {
  const std::string what = evidence.says ? text(*evidence.says) : evidence.condition;
  const auto [before, first] = told.emplace(evidence.subject + "/" + evidence.id + "/" + what, heading);
  if (first) {
    print_evidence(screen, seen.site, evidence);
  } else {
    print_evidence_again(screen, evidence, before->second);
  }
}

/// The evidence of a link that is to be read: all of it, or the worst and how many more are not proven. What only a
/// later version answers is told once for all zones, and must not stand before what is known.
void print_link(const Seen& seen, const proof::LinkAnswer& link, bool all, const std::string& heading, Told& told,
                Screen& screen) {
  long long more = 0;
  bool first = true;
  for (const Evidence& evidence : link.evidence) {
    if (of_later_version(evidence)) continue;
    if (all || (first && evidence.verdict != Verdict::proven)) {
      print_once(seen, evidence, heading, told, screen);
      first = false;
    } else if (evidence.verdict != Verdict::proven) {
      ++more;
    }
  }
  if (more > 0) screen.line(text(say::more_evidence(more, chain::words(link.link))), 23, Style::faint);
}

bool worth_reading(const proof::LinkAnswer& link, bool all) {
  if (!all && link.verdict == Verdict::proven) return false;
  return std::any_of(link.evidence.begin(), link.evidence.end(), [&](const Evidence& evidence) {
    return !of_later_version(evidence) && (all || evidence.verdict != Verdict::proven);
  });
}

void print_chains(const Seen& seen, bool all, Screen& screen) {
  Told told;
  for (const proof::Chain& chain : seen.answer.proof.chains) {
    std::vector<const proof::LinkAnswer*> links;
    for (Link link : seen.answer.links) {
      if (worth_reading(seen.answer.link(chain, link), all)) links.push_back(&seen.answer.link(chain, link));
    }
    if (links.empty()) continue;
    std::stable_sort(links.begin(), links.end(), [](const proof::LinkAnswer* a, const proof::LinkAnswer* b) {
      return chain::rank(a->verdict) < chain::rank(b->verdict);
    });
    const std::string heading = electric::zone_words(seen.site, chain.zone);
    screen.heading(heading);
    for (const proof::LinkAnswer* link : links) print_link(seen, *link, all, heading, told, screen);
  }
}

void print_site_evidence(const Seen& seen, bool all, Screen& screen) {
  bool first = true;
  for (const Evidence& evidence : seen.answer.proof.site_evidence) {
    if (!seen.answer.with_site || !seen.answer.asks(evidence.link) || (!all && evidence.verdict == Verdict::proven))
      continue;
    if (first) screen.heading(text(say::heading_no_chain()));
    first = false;
    print_evidence(screen, seen.site, evidence);
  }
}

/// Sentences of what this version does not answer, each once.
void print_later(const Seen& seen, Screen& screen) {
  std::set<std::string> told;
  for (const proof::Chain& chain : seen.answer.proof.chains) {
    for (Link link : seen.answer.links) {
      for (const Evidence& evidence : seen.answer.link(chain, link).evidence) {
        if (!of_later_version(evidence) || !evidence.says) continue;
        const std::string sentence = text(*evidence.says);
        if (!told.insert(sentence).second) continue;
        if (told.size() == 1) screen.heading(text(say::heading_later()));
        screen.entry(chain::words(link), sentence, 11, Style::unanswered, 2);
      }
    }
  }
}

long long limits_not_verified(const Seen& seen) {
  std::set<std::string> sources;
  for (const proof::Chain& chain : seen.answer.proof.chains) {
    for (Link link : seen.answer.links) {
      for (const Evidence& evidence : seen.answer.link(chain, link).evidence) {
        if (evidence.limit && !evidence.limit_verified) sources.insert(evidence.limit_source);
        if (!evidence.margin_source.empty() && !evidence.margin_verified) sources.insert(evidence.margin_source);
      }
    }
  }
  return static_cast<long long>(sources.size());
}

void print_summary(const Seen& seen, Screen& screen) {
  std::map<Verdict, long long> counts = seen.answer.counts();
  std::string words;
  for (Verdict verdict : kAllVerdicts) {
    if (counts[verdict] == 0) continue;
    words += (words.empty() ? "" : ", ") + text(say::count_of_verdict(counts[verdict], chain::words(verdict)));
  }
  screen.line();
  if (!words.empty())
    screen.line(text(say::chains_counted(static_cast<long long>(seen.answer.proof.chains.size()), words)));
  if (seen.site.zones.empty()) {
    screen.line(text(say::nothing_to_prove()));
  } else if (seen.answer.proof.chains.empty()) {
    screen.line(text(say::no_chains()));
  }
  if (const long long sources = limits_not_verified(seen); sources > 0)
    screen.line(text(say::limits_unverified(sources)));
  if (counts[Verdict::broken] + counts[Verdict::thin] > 0) screen.line(text(say::try_remedies()));
  if (seen.answer.proof.without_chain.empty()) return;
  std::vector<std::string> zones;
  for (const std::string& zone : seen.answer.proof.without_chain)
    zones.push_back(electric::zone_words(seen.site, zone));
  screen.line(text(say::zones_without_chain(zones)));
}

void print_answer(const Seen& seen, bool all, Screen& screen) {
  screen.line(seen.site.name, 0, Style::heading);
  print_board(seen, screen);
  print_chains(seen, all, screen);
  print_site_evidence(seen, all, screen);
  print_later(seen, screen);
  print_summary(seen, screen);
}

}  // namespace

int prove(const ProveOptions& asked, Screen& screen) {
  int exit_code = 0;
  const auto loaded = load(asked.site, "prove", asked.json, screen, exit_code);
  if (!loaded) return exit_code;
  const results::ProveQuestion question = {split(asked.links), asked.zone};
  if (asked.json) return put_results(*loaded, question, screen);
  const auto told = results::answer(loaded->site, question, progress_on(screen));
  screen.end_progress();
  if (!told.answer) return refuse("prove", told.problems, asked.json, screen);
  print_answer({loaded->site, *told.answer}, asked.all, screen);
  return told.answer->all_proven() ? 0 : 1;
}

}  // namespace zoneproof::cli
