#include "results/proof.hpp"

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>

#include "carriage/answers.hpp"
#include "carriage/site_storm.hpp"
#include "electric/answers.hpp"
#include "messages/results.hpp"
#include "results/results.hpp"
#include "results/zone_named.hpp"
#include "sight/answers.hpp"
#include "timeline/answers.hpp"

namespace zoneproof::results {

using chain::Evidence;
using chain::Link;
using chain::Verdict;
using Json = nlohmann::ordered_json;

namespace {

constexpr std::array<Link, 5> kAllLinks = {Link::sense, Link::loop, Link::trigger, Link::view, Link::deliver};
constexpr std::array<Verdict, 4> kAllVerdicts = {Verdict::proven, Verdict::thin, Verdict::broken, Verdict::unanswered};

/// The links of these words, in the order of the chain; the first word that is none becomes a problem.
std::vector<Link> links_named(const std::vector<std::string>& words, std::vector<Message>& problems) {
  if (words.empty()) return {kAllLinks.begin(), kAllLinks.end()};
  std::vector<std::string> known;
  for (Link link : kAllLinks) known.emplace_back(chain::word(link));
  for (const std::string& word : words) {
    if (std::find(known.begin(), known.end(), word) != known.end()) continue;
    problems.push_back(say::no_such_word(word, "--links", known));
    return {};
  }
  std::vector<Link> links;
  for (Link link : kAllLinks) {
    if (std::find(words.begin(), words.end(), chain::word(link)) != words.end()) links.push_back(link);
  }
  return links;
}

Json json_of_chain(const site::Site& site, const ProveAnswer& answer, const proof::Chain& chain) {
  const site::Zone& zone = site.zones.at(chain.zone);
  Json links = Json::object();
  for (Link link : answer.links) {
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

void keep_zone(proof::Proof& proof, const std::string& zone) {
  const auto other = [&](const proof::Chain& chain) { return chain.zone != zone; };
  proof.chains.erase(std::remove_if(proof.chains.begin(), proof.chains.end(), other), proof.chains.end());
  const auto other_id = [&](const std::string& id) { return id != zone; };
  proof.without_chain.erase(std::remove_if(proof.without_chain.begin(), proof.without_chain.end(), other_id),
                            proof.without_chain.end());
}

/// By the links asked for; what is equal stays in its order.
void worst_first(ProveAnswer& answer) {
  std::stable_sort(answer.proof.chains.begin(), answer.proof.chains.end(),
                   [&](const proof::Chain& a, const proof::Chain& b) {
                     return chain::rank(answer.verdict(a)) < chain::rank(answer.verdict(b));
                   });
}

}  // namespace

bool ProveAnswer::asks(Link link) const { return std::find(links.begin(), links.end(), link) != links.end(); }

const proof::LinkAnswer& ProveAnswer::link(const proof::Chain& chain, Link link) const {
  return chain.links.at(static_cast<std::size_t>(link));
}

Verdict ProveAnswer::verdict(const proof::Chain& chain) const {
  std::vector<Verdict> verdicts;
  for (Link one : links) verdicts.push_back(link(chain, one).verdict);
  return chain::together(verdicts);
}

bool ProveAnswer::all_proven() const {
  if (!proof.all_proven(links)) return false;
  if (!with_site) return true;
  return std::all_of(proof.site_evidence.begin(), proof.site_evidence.end(), [&](const Evidence& evidence) {
    return evidence.verdict == Verdict::proven || !asks(evidence.link);
  });
}

std::map<Verdict, long long> ProveAnswer::counts() const {
  std::map<Verdict, long long> counts;
  for (const proof::Chain& chain : proof.chains) ++counts[verdict(chain)];
  return counts;
}

proof::Proof proof_of(const site::Site& site, const std::string& zone, const Progress& progress, Kept* kept,
                      const electric::LevelsSeen& seen) {
  const auto told = [&](std::size_t done, std::size_t count) {
    if (progress) progress(text(say::progress_zones(static_cast<long long>(done), static_cast<long long>(count))));
  };
  std::vector<Evidence> answers =
      electric::electrical_answers(site, zone, told, kept != nullptr ? &kept->wiring : nullptr, seen);
  sight::KeptViews* views = kept != nullptr ? &kept->views : nullptr;
  chain::append(answers, sight::sight_answers(site, zone, {}, views));
  const carriage::SiteStorm storm = carriage::storm_of(site);
  chain::append(answers, carriage::carriage_answers(site, storm));
  const timeline::Carrying carrying = timeline::carrying_of(carriage::clip_bounds(storm));
  chain::append(answers, timeline::timeline_answers(site, zone, carrying, views));
  proof::Proof proof = proof::join(site, answers);
  if (!zone.empty()) keep_zone(proof, zone);
  return proof;
}

Answered<ProveAnswer> answer(const site::Site& site, const ProveQuestion& question, const Progress& progress,
                             Kept* kept) {
  Answered<ProveAnswer> out;
  std::vector<Link> links = links_named(question.links, out.problems);
  const ZoneFound zone = find_zone(site, question.zone);
  if (zone.problem) out.problems.push_back(*zone.problem);
  if (!out.problems.empty()) return out;
  out.answer = {std::move(links), proof_of(site, zone.id, progress, kept), zone.id.empty()};
  worst_first(*out.answer);
  return out;
}

Json json_of(const site::Site& site, const ProveAnswer& answer) {
  std::vector<const proof::Chain*> sorted;
  for (const proof::Chain& chain : answer.proof.chains) sorted.push_back(&chain);
  std::sort(sorted.begin(), sorted.end(), [](const auto* a, const auto* b) { return a->zone < b->zone; });
  Json chains = Json::array(), links = Json::array(), counts = Json::object(), site_evidence = Json::array();
  for (const proof::Chain* chain : sorted) chains.push_back(json_of_chain(site, answer, *chain));
  for (Link link : answer.links) links.push_back(chain::word(link));
  std::map<Verdict, long long> counted = answer.counts();
  for (Verdict verdict : kAllVerdicts) counts[chain::word(verdict)] = counted[verdict];
  for (const Evidence& evidence : answer.proof.site_evidence) {
    if (answer.with_site && answer.asks(evidence.link)) site_evidence.push_back(json_of(evidence));
  }
  return {{"links", std::move(links)},
          {"all_proven", answer.all_proven()},
          {"counts", std::move(counts)},
          {"chains", std::move(chains)},
          {"site_evidence", std::move(site_evidence)},
          {"without_chain", answer.proof.without_chain}};
}

}  // namespace zoneproof::results
