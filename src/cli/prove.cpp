#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "cli/commands.hpp"
#include "cli/evidence_text.hpp"
#include "cli/reading.hpp"
#include "cli/results.hpp"
#include "cli/table.hpp"
#include "electric/answers.hpp"
#include "electric/naming.hpp"
#include "messages/cli.hpp"
#include "proof/chains.hpp"
#include "site/file.hpp"

namespace zoneproof::cli {

namespace {

using chain::Evidence;
using chain::Link;
using chain::Verdict;
using Json = nlohmann::ordered_json;

constexpr std::array<Link, 5> kAllLinks = {Link::sense, Link::loop, Link::trigger, Link::view, Link::deliver};
constexpr std::array<Verdict, 4> kAllVerdicts = {Verdict::proven, Verdict::thin, Verdict::broken, Verdict::unanswered};

/// The links that are asked for, in the order of the chain.
struct LinksAsked {
  std::vector<Link> links;
  std::optional<Message> problem;

  bool has(Link link) const { return std::find(links.begin(), links.end(), link) != links.end(); }
};

std::vector<std::string> split(const std::string& text) {
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

LinksAsked links_asked(const std::string& named) {
  LinksAsked asked;
  if (named.empty()) {
    asked.links.assign(kAllLinks.begin(), kAllLinks.end());
    return asked;
  }
  std::vector<std::string> known;
  for (Link link : kAllLinks) known.emplace_back(chain::word(link));
  const std::vector<std::string> words = split(named);
  for (const std::string& word : words) {
    if (std::find(known.begin(), known.end(), word) == known.end()) {
      asked.problem = say::no_such_word(word, "--links", known);
      return asked;
    }
  }
  for (Link link : kAllLinks) {
    if (std::find(words.begin(), words.end(), chain::word(link)) != words.end()) asked.links.push_back(link);
  }
  return asked;
}

/// What was asked and what came out.
struct Answer {
  const site::Site& site;
  LinksAsked asked;
  proof::Proof proof;
  bool with_site = true;  ///< what belongs to no chain counts too

  const proof::LinkAnswer& link(const proof::Chain& chain, Link link) const {
    return chain.links.at(static_cast<std::size_t>(link));
  }
  /// Of the links asked for.
  Verdict verdict(const proof::Chain& chain) const {
    std::vector<Verdict> verdicts;
    for (Link one : asked.links) verdicts.push_back(link(chain, one).verdict);
    return chain::together(verdicts);
  }
  bool all_proven() const {
    if (!proof.all_proven(asked.links)) return false;
    if (!with_site) return true;
    return std::all_of(proof.site_evidence.begin(), proof.site_evidence.end(), [&](const Evidence& evidence) {
      return evidence.verdict == Verdict::proven || !asked.has(evidence.link);
    });
  }
  /// By the links asked for; what is equal stays in its order.
  void worst_first() {
    std::stable_sort(proof.chains.begin(), proof.chains.end(), [&](const proof::Chain& a, const proof::Chain& b) {
      return chain::rank(verdict(a)) < chain::rank(verdict(b));
    });
  }
  std::map<Verdict, long long> counts() const {
    std::map<Verdict, long long> counts;
    for (const proof::Chain& chain : proof.chains) ++counts[verdict(chain)];
    return counts;
  }
};

// ---- For people ----------------------------------------------------------------------------------------------------

std::string number_words(const site::Zone& zone) {
  return zone.number.known() ? std::to_string(*zone.number.value) : text(say::not_known_short());
}

void print_board(const Answer& answer, Screen& screen) {
  std::vector<Column> columns = {{text(say::column_zone_number()), true}, {text(say::column_zone_name()), false, 12}};
  for (Link link : answer.asked.links) columns.push_back({chain::word(link), false, 10});
  columns.push_back({text(say::column_chain()), false, 10});
  Table table(std::move(columns));
  for (const proof::Chain& chain : answer.proof.chains) {
    const site::Zone& zone = answer.site.zones.at(chain.zone);
    std::vector<Cell> row = {{number_words(zone)}, {zone.name.empty() ? chain.zone : zone.name}};
    const auto add = [&](Verdict verdict) { row.push_back({chain::word(verdict), style_of(verdict)}); };
    for (Link link : answer.asked.links) add(answer.link(chain, link).verdict);
    add(answer.verdict(chain));
    table.add(std::move(row));
  }
  if (!table.empty()) table.print(screen);
}

/// Evidence that was told in full already, and under which heading: a supply's failure belongs to every zone on it.
using Told = std::map<std::string, std::string>;

void print_once(const Answer& answer, const Evidence& evidence, const std::string& heading, Told& told,
                Screen& screen) {
  const std::string what = evidence.says ? text(*evidence.says) : evidence.condition;
  const auto [before, first] = told.emplace(evidence.subject + "/" + evidence.id + "/" + what, heading);
  if (first) {
    print_evidence(screen, answer.site, evidence);
  } else {
    print_evidence_again(screen, evidence, before->second);
  }
}

/// The evidence of a link that is to be read: all of it, or the worst and how many more are not proven. What only a
/// later version answers is told once for all zones, and must not stand before what is known.
void print_link(const Answer& answer, const proof::LinkAnswer& link, bool all, const std::string& heading, Told& told,
                Screen& screen) {
  long long more = 0;
  bool first = true;
  for (const Evidence& evidence : link.evidence) {
    if (of_later_version(evidence)) continue;
    if (all || (first && evidence.verdict != Verdict::proven)) {
      print_once(answer, evidence, heading, told, screen);
      first = false;
    } else if (evidence.verdict != Verdict::proven) {
      ++more;
    }
  }
  if (more > 0) screen.line(text(say::more_evidence(more, chain::word(link.link))), 23, Style::faint);
}

bool worth_reading(const proof::LinkAnswer& link, bool all) {
  if (!all && link.verdict == Verdict::proven) return false;
  return std::any_of(link.evidence.begin(), link.evidence.end(), [&](const Evidence& evidence) {
    return !of_later_version(evidence) && (all || evidence.verdict != Verdict::proven);
  });
}

void print_chains(const Answer& answer, bool all, Screen& screen) {
  Told told;
  for (const proof::Chain& chain : answer.proof.chains) {
    std::vector<const proof::LinkAnswer*> links;
    for (Link link : answer.asked.links) {
      if (worth_reading(answer.link(chain, link), all)) links.push_back(&answer.link(chain, link));
    }
    if (links.empty()) continue;
    std::stable_sort(links.begin(), links.end(), [](const proof::LinkAnswer* a, const proof::LinkAnswer* b) {
      return chain::rank(a->verdict) < chain::rank(b->verdict);
    });
    const std::string heading = electric::zone_words(answer.site, chain.zone);
    screen.heading(heading);
    for (const proof::LinkAnswer* link : links) print_link(answer, *link, all, heading, told, screen);
  }
}

void print_site_evidence(const Answer& answer, bool all, Screen& screen) {
  bool first = true;
  for (const Evidence& evidence : answer.proof.site_evidence) {
    if (!answer.with_site || !answer.asked.has(evidence.link) || (!all && evidence.verdict == Verdict::proven))
      continue;
    if (first) screen.heading(text(say::heading_no_chain()));
    first = false;
    print_evidence(screen, answer.site, evidence);
  }
}

/// Sentences of what this version does not answer, each once.
void print_later(const Answer& answer, Screen& screen) {
  std::set<std::string> told;
  for (const proof::Chain& chain : answer.proof.chains) {
    for (Link link : answer.asked.links) {
      for (const Evidence& evidence : answer.link(chain, link).evidence) {
        if (!of_later_version(evidence) || !evidence.says) continue;
        const std::string sentence = text(*evidence.says);
        if (!told.insert(sentence).second) continue;
        if (told.size() == 1) screen.heading(text(say::heading_later()));
        screen.entry(chain::word(link), sentence, 11, Style::unanswered, 2);
      }
    }
  }
}

long long limits_not_verified(const Answer& answer) {
  std::set<std::string> sources;
  for (const proof::Chain& chain : answer.proof.chains) {
    for (Link link : answer.asked.links) {
      for (const Evidence& evidence : answer.link(chain, link).evidence) {
        if (evidence.limit && !evidence.limit_verified) sources.insert(evidence.limit_source);
        if (!evidence.margin_source.empty() && !evidence.margin_verified) sources.insert(evidence.margin_source);
      }
    }
  }
  return static_cast<long long>(sources.size());
}

void print_summary(const Answer& answer, Screen& screen) {
  std::map<Verdict, long long> counts = answer.counts();
  std::string words;
  for (Verdict verdict : kAllVerdicts) {
    if (counts[verdict] == 0) continue;
    words += (words.empty() ? "" : ", ") + text(say::count_of_verdict(counts[verdict], chain::word(verdict)));
  }
  screen.line();
  if (!words.empty()) screen.line(text(say::chains_counted(static_cast<long long>(answer.proof.chains.size()), words)));
  if (answer.site.zones.empty()) {
    screen.line(text(say::nothing_to_prove()));
  } else if (answer.proof.chains.empty()) {
    screen.line(text(say::no_chains()));
  }
  if (const long long sources = limits_not_verified(answer); sources > 0)
    screen.line(text(say::limits_unverified(sources)));
  if (answer.proof.without_chain.empty()) return;
  std::vector<std::string> zones;
  for (const std::string& zone : answer.proof.without_chain) zones.push_back(electric::zone_words(answer.site, zone));
  screen.line(text(say::zones_without_chain(zones)));
}

void print_answer(const Answer& answer, bool all, Screen& screen) {
  screen.line(answer.site.name, 0, Style::heading);
  print_board(answer, screen);
  print_chains(answer, all, screen);
  print_site_evidence(answer, all, screen);
  print_later(answer, screen);
  print_summary(answer, screen);
}

// ---- For programs --------------------------------------------------------------------------------------------------

Json json_of_chain(const Answer& answer, const proof::Chain& chain) {
  const site::Zone& zone = answer.site.zones.at(chain.zone);
  Json links = Json::object();
  for (Link link : answer.asked.links) {
    const proof::LinkAnswer& answered = answer.link(chain, link);
    links[chain::word(link)] = {{"verdict", chain::word(answered.verdict)}, {"evidence", json_of(answered.evidence)}};
  }
  return {{"zone", chain.zone},
          {"number", zone.number.known() ? Json(*zone.number.value) : Json(nullptr)},
          {"name", zone.name},
          {"verdict", chain::word(answer.verdict(chain))},
          {"weakest", chain::word(chain.weakest)},
          {"links", std::move(links)}};
}

Json json_of_answer(const Answer& answer) {
  std::vector<const proof::Chain*> sorted;
  for (const proof::Chain& chain : answer.proof.chains) sorted.push_back(&chain);
  std::sort(sorted.begin(), sorted.end(), [](const auto* a, const auto* b) { return a->zone < b->zone; });
  Json chains = Json::array(), links = Json::array(), counts = Json::object(), site_evidence = Json::array();
  for (const proof::Chain* chain : sorted) chains.push_back(json_of_chain(answer, *chain));
  for (Link link : answer.asked.links) links.push_back(chain::word(link));
  std::map<Verdict, long long> counted = answer.counts();
  for (Verdict verdict : kAllVerdicts) counts[chain::word(verdict)] = counted[verdict];
  for (const Evidence& evidence : answer.proof.site_evidence) {
    if (answer.with_site && answer.asked.has(evidence.link)) site_evidence.push_back(json_of(evidence));
  }
  return {{"links", std::move(links)},
          {"all_proven", answer.all_proven()},
          {"counts", std::move(counts)},
          {"chains", std::move(chains)},
          {"site_evidence", std::move(site_evidence)},
          {"without_chain", answer.proof.without_chain}};
}

proof::Proof proof_of(const site::Site& site, const std::string& zone, Screen& screen) {
  const auto progress = [&](std::size_t done, std::size_t count) {
    screen.progress(text(say::progress_zones(static_cast<long long>(done), static_cast<long long>(count))));
  };
  proof::Proof proof = proof::join(site, electric::electrical_answers(site, zone, progress));
  screen.end_progress();
  if (zone.empty()) return proof;
  const auto other = [&](const proof::Chain& chain) { return chain.zone != zone; };
  proof.chains.erase(std::remove_if(proof.chains.begin(), proof.chains.end(), other), proof.chains.end());
  const auto other_id = [&](const std::string& id) { return id != zone; };
  proof.without_chain.erase(std::remove_if(proof.without_chain.begin(), proof.without_chain.end(), other_id),
                            proof.without_chain.end());
  return proof;
}

}  // namespace

int prove(const ProveOptions& asked, Screen& screen) {
  LinksAsked links = links_asked(asked.links);
  if (links.problem) return refuse("prove", {*links.problem}, asked.json, screen);
  int exit_code = 0;
  const auto site = load(asked.site, "prove", asked.json, screen, exit_code);
  if (!site) return exit_code;
  std::string zone;
  if (!asked.zone.empty()) {
    ZoneFound found = find_zone(*site, asked.zone);
    if (found.problem) return refuse("prove", {*found.problem}, asked.json, screen);
    zone = found.id;
  }
  Answer answer = {*site, std::move(links), proof_of(*site, zone, screen), zone.empty()};
  answer.worst_first();
  if (asked.json) {
    screen.raw(results_text("prove", site::site_hash(*site), json_of_answer(answer)));
  } else {
    print_answer(answer, asked.all, screen);
  }
  return answer.all_proven() ? 0 : 1;
}

}  // namespace zoneproof::cli
